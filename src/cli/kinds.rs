//! `kinds`: the library of component kinds.

use super::house::House;
use super::print::Print;
use super::{CLEAN, COULD_NOT_RUN};
use crate::fields::{Declarations, FieldDecl, FieldType};
use crate::kinds::{Kind, Library, System};
use crate::roles::{self, Contract};
use crate::spec::{ComponentFields, Language};
use std::fmt::Write;
use std::path::Path;

pub(super) fn run(print: &Print, house: &House<'_>, id: Option<&str>) -> Result<u8, String> {
    let catalogue = &house.catalogue(Path::new("here.toml"))?;
    let library = Library::load(catalogue).map_err(|e| e.to_string())?;
    let Some(id) = id else {
        print.out(&list(&library));
        return Ok(CLEAN);
    };
    if let Some(kind) = library.get(id) {
        let language = Language::of(catalogue).map_err(|e| e.to_string())?;
        print.out(&one(kind, &language.component));
        return Ok(CLEAN);
    }
    print.fault(&format!("there is no kind `{id}`{}; `rigbinder kinds` lists them all", guess(&library, id)));
    Ok(COULD_NOT_RUN)
}

/// The contract of a role; of "" the list of all.
pub(super) fn role(print: &Print, id: &str) -> u8 {
    if id.is_empty() {
        let width = roles::ALL.iter().map(|r| r.id.len()).max().unwrap_or(0);
        let mut text = String::new();
        for role in roles::ALL {
            let _ = writeln!(text, "  {:width$}  {}", role.id, role.about.trim());
        }
        let _ = writeln!(text, "\n`rigbinder kinds --role <role>` tells what a kind must say of one.");
        print.out(&text);
        return CLEAN;
    }
    let Some(role) = roles::contract(id) else {
        let near = crate::kinds::nearest(id, roles::ALL.iter().map(|r| r.id));
        let near = near.map_or_else(String::new, |near| format!("; did you mean `{near}`?"));
        print.fault(&format!("there is no role `{id}`{near}; `rigbinder kinds --role` lists them all"));
        return COULD_NOT_RUN;
    };
    print.out(&contract(role));
    CLEAN
}

fn contract(role: &Contract) -> String {
    let mut text = format!("[role.{}]\n{}\n", role.id, role.about.trim());
    let settings = role.settings();
    if !settings.is_empty() {
        let width = settings.iter().map(|(name, _)| name.len()).max().unwrap_or(0);
        let _ = writeln!(text, "\nSettings");
        for (name, about) in settings {
            let _ = writeln!(text, "  {name:width$}  {about}");
        }
    }
    for (title, must) in
        [("Fields a kind must have, with a default or required = true", true), ("Fields a kind may take", false)]
    {
        let fields: Declarations = role
            .declarations()
            .into_iter()
            .filter(|(name, _)| role.field(name).is_some_and(|f| f.must == must))
            .collect();
        section(&mut text, title, &fields);
    }
    text
}

/// Kinds whose id, name or summary holds the word; else one that is a slip away.
fn guess(library: &Library, id: &str) -> String {
    let word = id.to_lowercase();
    let holds = |k: &&Kind| [&k.id, &k.name, &k.summary].iter().any(|t| t.to_lowercase().contains(&word));
    let mut found: Vec<&str> = library.iter().filter(holds).map(|k| k.id.as_str()).take(8).collect();
    if found.is_empty() {
        found.extend(crate::kinds::nearest(&word, library.iter().map(|k| k.id.as_str())));
    }
    if found.is_empty() { String::new() } else { format!("; did you mean `{}`?", found.join("`, `")) }
}

fn list(library: &Library) -> String {
    let width = library.iter().map(|k| k.id.len()).max().unwrap_or(0);
    let mut text = String::new();
    for system in System::ALL {
        let mut kinds = library.iter().filter(|k| k.system == *system).peekable();
        if kinds.peek().is_none() {
            continue;
        }
        let _ = writeln!(text, "{}", system.title());
        for kind in kinds {
            let _ = writeln!(text, "  {:width$}  {}", kind.id, kind.summary);
        }
        text.push('\n');
    }
    let _ = writeln!(text, "`rigbinder kinds <kind>` tells the fields of one.");
    text
}

fn one(kind: &Kind, fields: &ComponentFields) -> String {
    let mut text = format!("{} – {}\n{}\n", kind.id, kind.name, kind.summary);
    section(&mut text, "Fields of this kind", &kind.fields);
    if let Some(electric) = kind.electric {
        section(&mut text, "Fields of its supply circuit", &fields.supply);
        if electric.role.has_output() {
            section(&mut text, "Fields of its output circuit", &fields.output);
        }
    }
    section(&mut text, "Fields of every component", &fields.common);
    let _ = writeln!(text, "\nIt brings");
    for task in &kind.tasks {
        let _ = writeln!(text, "  task    {:24}  {}", task.stage.id(), plain(&task.title, kind));
    }
    for item in &kind.upkeep {
        let when = [&item.every, &item.once, &item.replace, &item.season, &item.distance, &item.hours];
        let when = when.into_iter().flatten().next().map_or("", String::as_str);
        let _ = writeln!(text, "  upkeep  {when:24}  {}", plain(&item.title, kind));
    }
    text
}

/// A title without a build: the kind stands for the component.
fn plain(title: &str, kind: &Kind) -> String {
    title.replace("{{ name }}", &kind.name.to_lowercase())
}

fn section(text: &mut String, title: &str, fields: &Declarations) {
    if fields.is_empty() {
        return;
    }
    let width = fields.keys().map(String::len).max().unwrap_or(0);
    let _ = writeln!(text, "\n{title}");
    for (name, field) in fields {
        let _ = writeln!(text, "  {name:width$}  {}  {}", shape(field), field.about);
    }
}

fn shape(field: &FieldDecl) -> String {
    let shape = match field.ty {
        FieldType::Quantity(dimension) => dimension.word().to_owned(),
        FieldType::Choice => field.choices.join(" | "),
        FieldType::Lengths3 => "three lengths".to_owned(),
        other => format!("{other:?}").to_lowercase(),
    };
    match (&field.default, field.required) {
        (Some(default), _) => format!("[{shape}, {default}]"),
        (None, true) => format!("[{shape}, required]"),
        _ => format!("[{shape}]"),
    }
}
