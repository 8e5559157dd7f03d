//! `kinds`: the library of component kinds.

use super::print::Print;
use super::{CLEAN, COULD_NOT_RUN};
use crate::fields::{Declarations, FieldDecl, FieldType};
use crate::kinds::{Kind, Library, System};
use crate::spec;
use std::fmt::Write;

pub(super) fn run(print: &Print, id: Option<&str>) -> Result<u8, String> {
    let library = Library::load().map_err(|e| e.to_string())?;
    let Some(id) = id else {
        print.out(&list(&library));
        return Ok(CLEAN);
    };
    if let Some(kind) = library.get(id) {
        print.out(&one(kind));
        return Ok(CLEAN);
    }
    let near = Library::ids().into_iter().min_by_key(|k| strsim::damerau_levenshtein(k, id)).unwrap_or("");
    print.fault(&format!("there is no kind `{id}`; did you mean `{near}`? `rigbinder kinds` lists them all"));
    Ok(COULD_NOT_RUN)
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

fn one(kind: &Kind) -> String {
    let mut text = format!("{} – {}\n{}\n", kind.id, kind.name, kind.summary);
    let fields = spec::component_fields();
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
        let _ = writeln!(text, "  task    {:24}  {}", task.stage.id(), task.title);
    }
    for item in &kind.upkeep {
        let when = [&item.every, &item.once, &item.replace, &item.season, &item.rule, &item.distance, &item.hours];
        let when = when.into_iter().flatten().next().map_or("", String::as_str);
        let _ = writeln!(text, "  upkeep  {when:24}  {}", item.title);
    }
    text
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
