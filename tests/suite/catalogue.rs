//! The library of kinds and templates: every text can be filled in for every kind and every flag.

use crate::harness::files;
use rigbinder::kinds::{Library, System};
use rigbinder::units::{Dimension, parse_quantity};
use std::fmt::Write;

/// A spec with one component of every kind, with its required fields filled in by plausible values.
fn one_of_each(flag: bool) -> String {
    let library = Library::load(crate::harness::house()).expect("kinds");
    let mut text =
        String::from("[build]\ntitle = \"Catalogue\"\nhandover = 2027-05-14\n[place.here]\nabout = \"Here\"\n");
    for kind in library.iter() {
        let _ = writeln!(text, "[component.{}]\nkind = \"{}\"\nplace = \"here\"", kind.id, kind.id);
        for (name, field) in &kind.fields {
            use rigbinder::fields::FieldType as T;
            let value = match field.ty {
                T::Flag => flag.to_string(),
                T::Quantity(d) if field.required => {
                    format!("{:?}", field.min.as_ref().and_then(|m| m.as_str()).unwrap_or(d.example()))
                }
                T::Text | T::Prose if field.required => "\"x\"".to_owned(),
                T::Texts if field.required => "[\"x\"]".to_owned(),
                T::Count if field.required => "1".to_owned(),
                T::Choice if field.required => format!("{:?}", field.choices[0]),
                T::Date if field.required => "2027-01-01".to_owned(),
                T::Component | T::Components if field.required => "\"fridge\"".to_owned(),
                T::Conductor if field.required => "\"10 AWG\"".to_owned(),
                _ => continue,
            };
            let _ = writeln!(text, "{name} = {value}");
        }
    }
    text
}

/// Kinds are many, each with tasks or owner texts that say something.
#[test]
fn kinds_have_real_content() {
    let library = Library::load(crate::harness::house()).expect("kinds");
    assert!(library.iter().count() >= 90, "{} kinds", library.iter().count());
    for system in System::ALL {
        assert!(library.iter().any(|k| k.system == *system), "no kind in {}", system.title());
    }
    for kind in library.iter() {
        assert!(!kind.tasks.is_empty() || !kind.upkeep.is_empty(), "{} brings nothing", kind.id);
        assert!(kind.owner.what.len() > 20, "{} tells the owner nothing", kind.id);
        for task in &kind.tasks {
            assert!(!task.steps.is_empty(), "{}.{} has no steps", kind.id, task.id);
            assert!(task.minutes > 0, "{}.{} takes no time", kind.id, task.id);
        }
        for fastener in kind.posts.iter().filter_map(|p| p.fastener.as_ref()) {
            let row = kind.tasks.iter().flat_map(|t| &t.torque).find(|row| &row.what == fastener);
            let row = row.unwrap_or_else(|| panic!("{}: no torque of {fastener}", kind.id));
            // Where it is not that of its maker, it can be read.
            let value = row.figure(&row.what);
            let reads = value.as_ref().is_none_or(|value| parse_quantity(value, Dimension::Torque).is_ok());
            assert!(reads, "{}: {fastener}: {value:?}", kind.id);
        }
        for torque in kind.tasks.iter().flat_map(|t| &t.torque) {
            assert!(!torque.source.is_empty(), "{}: a torque without a source", kind.id);
        }
    }
}

#[test]
fn every_kind_text_can_be_filled_in() {
    for flag in [true, false] {
        let text = one_of_each(flag);
        let loaded =
            rigbinder::pipeline::load(crate::harness::house(), "catalogue.toml", text.as_bytes()).expect("kinds");
        let faults: Vec<_> = loaded.findings.iter().map(|f| format!("{} {}", f.name, f.headline)).collect();
        let read: Vec<_> = faults.iter().filter(|f| !f.starts_with("out-of-bounds")).collect();
        assert!(read.is_empty(), "{read:?}");
        for sheet in crate::harness::sheets(&loaded) {
            for odd in ["{{", "{%", "NaN", "Some(", "None"] {
                assert!(!sheet.markdown.contains(odd), "{} holds {odd}", sheet.stem);
            }
        }
    }
}

#[test]
fn every_kind_is_one_file_with_a_plain_name() {
    let ids = Library::ids(crate::harness::built_in());
    assert_eq!(ids.len(), files("templates/kinds", "toml").len());
    for id in ids {
        assert!(id.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-'), "{id}");
    }
}

/// What a text may name is a list beside the kinds; each fact of it is worked out, and no other one.
#[test]
fn facts_that_texts_may_name_are_those_worked_out() {
    use rigbinder::documents::fact_book::FactBook;
    use rigbinder::documents::facts::Voice;
    let text = one_of_each(true);
    let loaded = rigbinder::pipeline::load(crate::harness::house(), "x.toml", text.as_bytes()).expect("loads");
    let worked = rigbinder::pipeline::work_out(&loaded).expect("works out");
    let figures = &worked.figures;
    let book = FactBook::of(&worked.build, &figures.electrical, &figures.ledger, Voice::Shop);
    let mut known: Vec<&str> = rigbinder::kinds::FACTS.to_vec();
    known.sort_unstable();
    for part in worked.build.parts.values() {
        let facts = book.part(&part.id);
        let unknown: Vec<_> =
            facts.keys().filter(|f| !known.contains(&f.as_str()) && !part.kind.fields.contains_key(*f)).collect();
        let missing: Vec<_> = known.iter().filter(|f| !facts.contains_key(**f)).collect();
        assert!(unknown.is_empty() && missing.is_empty(), "{}: unknown {unknown:?}, missing {missing:?}", part.id);
    }
    // What readings may expect is a figure of what its list says, wherever it is told.
    let mut told = 0;
    for (name, dimension) in rigbinder::kinds::FIGURES {
        assert!(known.contains(name), "{name} is no fact");
        for part in worked.build.parts.values().filter(|p| !p.kind.fields.contains_key(*name)) {
            let text = book.part(&part.id)[*name].replace(['\u{a0}', '\u{202f}'], " ");
            let figure = text.split(" (").next().unwrap_or_default().trim();
            if figure.is_empty() {
                continue;
            }
            assert!(parse_quantity(figure, *dimension).is_ok(), "{}: {name} is {text}", part.id);
            told += 1;
        }
    }
    assert!(told > 100, "only {told} figures were told");
}
