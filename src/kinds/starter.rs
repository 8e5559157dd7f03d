//! A commented file for a kind that is like another: everything it may change, as it is there.

use super::fault::KindError;
use super::like::Kin;
use super::procedure::Registers;
use super::read::read;
use crate::catalogue::Catalogue;
use serde::Deserialize;
use std::fmt::Write;
use toml::{Table, Value};

/// Begins the kind `id`, called `name`, like the kind `like`; `None` where there is no such kind. A line that begins with
/// `#` and no space can be taken as it stands.
///
/// # Errors
/// Where the kind that it shall be like does not hold together.
pub fn starter_like(catalogue: &Catalogue, id: &str, name: &str, like: &str) -> Result<Option<String>, KindError> {
    let kin = Kin::of(catalogue);
    let Some(file) = kin.0.iter().rfind(|file| file.stem == like) else { return Ok(None) };
    let kind = read(file, &kin, &Registers::of(catalogue)?)?;
    // It was read just now, so both of these hold.
    let table = kin.whole(file).ok().and_then(|w| Table::deserialize(toml::de::Deserializer::from(w.table)).ok());
    let table = table.unwrap_or_default();
    let mut text = format!(
        "# A kind of your own, like the kind {like}: what is not said here is as it is there. `rigbinder kinds {like}`\n\
         # shows it. Take the # off a line to say something else; a list that is given stands in the place of all of it.\n\n\
         like    = {}\nname    = {}\nsummary = {}\n",
        shown(like),
        shown(if id == like { &kind.name } else { name }),
        shown(&kind.summary)
    );
    table.get("also").into_iter().for_each(|value| line(&mut text, "also", value));
    goes(&table, &mut text);
    if let Some(Value::Table(roles)) = table.get("role") {
        text.push_str("\n# What it does in the van, and the figures it has where a spec says nothing.\n");
        for (role, settings) in roles {
            let _ = writeln!(text, "#[role.{role}]");
            settings.as_table().into_iter().flatten().for_each(|(key, value)| line(&mut text, key, value));
        }
    }
    if let Some(Value::Table(several)) = table.get("has") {
        text.push_str("\n# What it has several of, and the figures of each where a spec says nothing.\n");
        for (role, settings) in several {
            let _ = writeln!(text, "#[has.{role}]");
            settings.as_table().into_iter().flatten().for_each(|(key, value)| line(&mut text, key, value));
        }
    }
    if let Some(Value::Table(fields)) = table.get("fields") {
        text.push_str("\n# Fields of its own.\n");
        for (field, decl) in fields {
            let _ = writeln!(text, "#[fields.{field}]");
            decl.as_table().into_iter().flatten().filter(|(key, _)| *key != "type").for_each(|(key, value)| {
                line(&mut text, key, value);
            });
        }
    }
    let keyed = [
        (
            "task",
            "What is done. Another id is another task, with `stage`, `title`, `minutes` and `steps`.",
            ["title", "minutes", "steps"].as_slice(),
        ),
        (
            "upkeep",
            "What is looked after. Another id is another piece, with `title`, `by`, `minutes` and `steps` too.",
            &["every", "once", "season", "replace", "minutes", "steps"],
        ),
        (
            "procedure",
            "Its share in what is told once for the van. Another `of` is another one, with `steps`.",
            &["needs", "brings", "steps"],
        ),
    ];
    for (list, about, keys) in keyed {
        let entries = table.get(list).and_then(Value::as_array).into_iter().flatten().filter_map(Value::as_table);
        for (at, entry) in entries.enumerate() {
            if at == 0 {
                let _ = writeln!(text, "\n# {about}");
            }
            let _ = writeln!(text, "#[[{list}]]");
            for key in ["id", "of"].iter().chain(keys) {
                entry.get(*key).into_iter().for_each(|value| line(&mut text, key, value));
            }
        }
    }
    if let Some(Value::Table(owner)) = table.get("owner") {
        text.push_str("\n# What the owner's manual tells of it. A trouble is known by its symptom.\n#[owner]\n");
        for (key, value) in owner.iter().filter(|(key, _)| !["trouble", "emergency"].contains(&key.as_str())) {
            line(&mut text, key, value);
        }
        for list in ["trouble", "emergency"] {
            for entry in owner.get(list).and_then(Value::as_array).into_iter().flatten().filter_map(Value::as_table) {
                let _ = writeln!(text, "#[[owner.{list}]]");
                entry.iter().for_each(|(key, value)| line(&mut text, key, value));
            }
        }
    }
    Ok(Some(text))
}

/// What can be taken away.
fn goes(table: &Table, text: &mut String) {
    let ids = |list: &str| {
        let entries = table.get(list).and_then(Value::as_array).into_iter().flatten();
        entries
            .filter_map(|e| Some(format!("{list}.{}", e.get("id").or_else(|| e.get("of"))?.as_str()?)))
            .collect::<Vec<_>>()
    };
    let owner = table.get("owner").and_then(Value::as_table).into_iter().flatten();
    let owner: Vec<String> = owner.filter(|(key, _)| *key != "what").map(|(key, _)| format!("owner.{key}")).collect();
    let all = [ids("task"), ids("upkeep"), owner, ids("procedure")];
    let Some(last) = [&all[1], &all[2]].into_iter().find_map(|names| names.last()) else { return };
    text.push_str("\n# What it has not. A whole list goes by its name, a role by role.<id>, a field of it by role.<id>.<field>:\n");
    for names in all.iter().filter(|names| !names.is_empty()) {
        let _ = writeln!(text, "#   {}", names.join(", "));
    }
    let _ = writeln!(text, "#drop = [{}]", shown(last));
}

/// One line of a table, to be taken as it stands.
fn line(text: &mut String, key: &str, value: &Value) {
    let _ = writeln!(text, "#{key} = {}", inline(value));
}

fn shown(text: &str) -> String {
    inline(&Value::String(text.to_owned()))
}

/// A value on one line.
fn inline(value: &Value) -> String {
    match value {
        Value::Table(table) => {
            let inside: Vec<String> = table.iter().map(|(key, value)| format!("{key} = {}", inline(value))).collect();
            if inside.is_empty() { "{}".to_owned() } else { format!("{{ {} }}", inside.join(", ")) }
        }
        Value::Array(list) => format!("[{}]", list.iter().map(inline).collect::<Vec<_>>().join(", ")),
        // As it is written by default, a text of several lines would stand on several.
        Value::String(text) if text.contains('\n') => format!("{text:?}"),
        other => other.to_string(),
    }
}
