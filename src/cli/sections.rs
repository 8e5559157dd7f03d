//! What `kinds` tells of the sections of a spec, and of fields wherever they stand.

use crate::fields::{Declarations, FieldDecl, FieldType};
use crate::spec::{Form, Language, Section};
use std::fmt::Write;

/// The fields of a section that is asked for by its name, with or without its brackets; `None` where there is none.
pub(super) fn of_spec(language: &Language, asked: &str) -> Option<String> {
    let asked = asked.trim_matches(['[', ']', ' ']).trim_end_matches(".<id>");
    if asked == "component" {
        let mut text =
            "[component.<id>]\nOne thing that is in the van. Its `kind` decides its fields: `rigbinder kinds <kind>`.\n"
                .to_owned();
        fields(&mut text, "Fields of every component", &language.component.common);
        return Some(text);
    }
    let below = format!("{asked}.");
    let mut found = language.sections.iter().filter(|(name, _)| *name == asked || name.starts_with(&below)).peekable();
    found.peek()?;
    Some(found.map(|(name, section)| one(name, section)).collect::<Vec<_>>().join("\n"))
}

/// The names of all sections, for one line.
pub(super) fn names(language: &Language) -> String {
    let all = language.sections.keys().map(|name| name.split('.').next().unwrap_or(name));
    let mut all: Vec<&str> = ["component"].into_iter().chain(all).collect();
    all.dedup();
    all.join(", ")
}

fn one(name: &str, section: &Section) -> String {
    let mut text = format!("{}\n{}\n", head(name, section.form), section.about.trim());
    fields(&mut text, "Fields", &section.fields);
    let _ = writeln!(text, "\nExample\n{}", example(name, section));
    text
}

fn head(name: &str, form: Form) -> String {
    match form {
        Form::Table | Form::Map => format!("[{name}]"),
        Form::Tables => format!("[{name}.<id>]"),
        Form::List => format!("[[{name}]]"),
    }
}

/// Fields that an example shows where none must be given.
const SHOWN: usize = 3;

/// What one begins as: the fields that must be given, else the first few.
fn example(name: &str, section: &Section) -> String {
    let id = head(name, section.form).replace("<id>", "first");
    if section.form == Form::Map {
        return format!("    {id}\n    first = \"…\"");
    }
    // The first field mostly says what it is of, required or not.
    let needs = section.fields.values().any(|field| field.required);
    let is_shown = |at: usize, field: &FieldDecl| if needs { at == 0 || field.required } else { at < SHOWN };
    let fields = section.fields.iter().enumerate().filter(|(at, (_, field))| is_shown(*at, field));
    let shown: Vec<_> = fields.map(|(_, field)| field).collect();
    let width = shown.iter().map(|(name, _)| name.len()).max().unwrap_or(0);
    let lines = shown.iter().map(|(name, field)| format!("    {name:width$} = {}", value(field)));
    [format!("    {id}")].into_iter().chain(lines).collect::<Vec<_>>().join("\n")
}

/// A value that a field may have, as a spec writes it.
fn value(field: &FieldDecl) -> String {
    let choice = || field.choices.first().map_or("…", String::as_str);
    match field.ty {
        FieldType::Quantity(dimension) => {
            let declared = [&field.default, &field.max, &field.min].into_iter().flatten().find_map(toml::Value::as_str);
            format!("\"{}\"", declared.unwrap_or(dimension.example()))
        }
        FieldType::Lengths3 => "[\"2.35 m\", \"0.55 m\", \"0.60 m\"]".to_owned(),
        FieldType::Lengths2 => "[\"250 mm\", \"400 mm\"]".to_owned(),
        FieldType::Points => "[[\"4.1 m\", \"0.8 m\", \"0.3 m\"], [\"4.1 m\", \"0.8 m\", \"0.9 m\"]]".to_owned(),
        FieldType::Flag => "true".to_owned(),
        FieldType::Count => field.default.as_ref().or(field.min.as_ref()).map_or("1".to_owned(), ToString::to_string),
        FieldType::Choice => format!("\"{}\"", choice()),
        FieldType::ChoiceByField => format!("{{ conductor = \"{}\" }}", choice()),
        FieldType::Date => "2027-05-14".to_owned(),
        FieldType::MonthDay => "\"10-15\"".to_owned(),
        FieldType::Component | FieldType::Components => "\"fridge\"".to_owned(),
        FieldType::Switch => "\"control-panel.pump\"".to_owned(),
        FieldType::Place | FieldType::Places => "\"galley\"".to_owned(),
        FieldType::Texts => "[\"…\"]".to_owned(),
        FieldType::Conductor => "\"6 mm2\"".to_owned(),
        FieldType::Price => "\"EUR 240\"".to_owned(),
        FieldType::Rows(of) => format!("[{}]", of.example()),
        FieldType::Text | FieldType::Prose | FieldType::Parts => "\"…\"".to_owned(),
    }
}

/// A list of fields under a title: name, what it takes, what it means.
pub(super) fn fields(text: &mut String, title: &str, fields: &Declarations) {
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
        FieldType::Parts => "a table for each".to_owned(),
        FieldType::ChoiceByField => format!("{{ field = {} }}", field.choices.join(" | ")),
        FieldType::Lengths3 => "three lengths".to_owned(),
        FieldType::Lengths2 => "two lengths".to_owned(),
        FieldType::Points => "list of points".to_owned(),
        FieldType::Rows(of) => format!("list of {}", of.example()),
        other => format!("{other:?}").to_lowercase(),
    };
    match (&field.default, field.required) {
        (Some(default), _) => format!("[{shape}, {default}]"),
        (None, true) => format!("[{shape}, required]"),
        _ => format!("[{shape}]"),
    }
}
