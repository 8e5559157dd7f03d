//! The spec as a PDF may hold it: without the fields that stay in the shop and with the owner.

use crate::fields::Record;
use crate::source::{SourceFile, Span};
use crate::spec::Spec;
use std::borrow::Cow;
use std::collections::BTreeSet;

/// Shortest text that is looked for in the rest of a spec. A shorter one stands in many words.
const TELLING: usize = 4;

/// The text of a spec without its private fields; `None` where that cannot be made, or where the rest tells them again.
pub(super) fn open_text<'f>(file: &'f SourceFile, spec: &Spec) -> Option<Cow<'f, str>> {
    let sections = [("build", &spec.build), ("vehicle", &spec.vehicle), ("use", &spec.usage)];
    let given =
        sections.iter().flat_map(|(section, record)| private(record).map(move |(name, at)| (*section, name, at)));
    let mut given: Vec<(&str, &str, Span)> = given.collect();
    if given.is_empty() {
        return Some(Cow::Borrowed(&file.text));
    }
    given.sort_by_key(|(_, _, at)| std::cmp::Reverse(at.start));
    let mut text = file.text.clone();
    for (_, _, at) in &given {
        let part = around(&text, *at)?;
        text.replace_range(part, "");
    }
    // What is left is what was there but for these fields; else nothing is handed out.
    let mut was: toml::Table = file.text.parse().ok()?;
    for (section, name, _) in &given {
        was.get_mut(*section)?.as_table_mut()?.remove(*name)?;
    }
    let mut is: toml::Table = text.parse().ok()?;
    for table in [&mut was, &mut is] {
        table.retain(|_, value| value.as_table().is_none_or(|inner| !inner.is_empty()));
    }
    let lower = text.to_lowercase();
    let tells = |(section, name, _): &(&str, &str, Span)| {
        let record = sections.iter().find(|(id, _)| id == section).map(|(_, record)| *record);
        let value = record.and_then(|record| record.text(name)).map(|text| text.trim().to_lowercase());
        value.is_some_and(|value| value.chars().count() >= TELLING && lower.contains(&value))
    };
    (was == is && !given.iter().any(tells)).then_some(Cow::Owned(text))
}

/// The private fields that a section gives, with the places of their values.
fn private(record: &Record) -> impl Iterator<Item = (&str, Span)> {
    let open: BTreeSet<&String> = record.open().map(|(name, _)| name).collect();
    let given = record.fields.iter().filter(move |(name, entry)| entry.given && !open.contains(name));
    given.map(|(name, entry)| (name.as_str(), entry.span))
}

/// The key with its value: a whole line, or an entry of an inline table with one of its commas.
fn around(text: &str, value: Span) -> Option<std::ops::Range<usize>> {
    let before = text.get(..value.start)?.trim_end_matches([' ', '\t']).strip_suffix('=')?;
    let after = text.get(value.end..)?;
    let Some((at, sign)) = before.char_indices().rev().find(|(_, c)| matches!(c, '\n' | ',' | '{')) else {
        return Some(0..value.end + after.find('\n').map_or(after.len(), |end| end + 1));
    };
    match sign {
        '\n' => Some(at + 1..value.end + after.find('\n').map_or(after.len(), |end| end + 1)),
        ',' => Some(at..value.end),
        _ => {
            let rest = after.trim_start();
            let comma = rest.starts_with(',').then_some(after.len() - rest.len() + 1);
            Some(at + 1..value.end + comma.unwrap_or(0))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::Catalogue;
    use crate::pipeline::load;

    fn open(text: &str) -> Option<String> {
        let loaded = load(&Catalogue::built_in(), "t.toml", text.as_bytes()).expect("kinds");
        assert!(loaded.findings.is_empty(), "{:?}", loaded.findings);
        open_text(&loaded.file, &loaded.spec).map(Cow::into_owned)
    }

    #[test]
    fn private_fields_go_and_all_else_stays() {
        let head = "spec = 2\n[build]\ntitle = \"Van\"\n";
        let cases = [
            ("[vehicle]\nplate = \"AB 123\"   # front\nyear = 2020\n", "[vehicle]\nyear = 2020\n"),
            ("[vehicle]\nyear = 2020\nplate = \"AB 123\"", "[vehicle]\nyear = 2020\n"),
            ("[vehicle]\nodometer = \"84000 km\"\n\"plate\" = 'AB 123'\n", "[vehicle]\n"),
            ("[vehicle]\nplate = \"\"\"AB\n123\"\"\"\nyear = 2020\n", "[vehicle]\nyear = 2020\n"),
        ];
        for (given, kept) in cases {
            assert_eq!(open(&format!("{head}{given}")).as_deref(), Some(&*format!("{head}{kept}")), "{given}");
        }
        let inline = |vehicle: &str| format!("spec = 2\nvehicle = {{ {vehicle} }}\n[build]\ntitle = \"Van\"\n");
        for (given, kept) in [
            ("plate = \"AB 123\", year = 2020", " year = 2020"),
            ("year = 2020, plate = \"AB 123\"", " year = 2020"),
            ("year = 2020, plate = \"AB 123\", seats = 3", " year = 2020, seats = 3"),
        ] {
            let text = open(&inline(given)).expect("a text");
            assert!(text.contains(kept) && !text.contains("AB 123"), "{text}");
        }
        assert_eq!(open(head).as_deref(), Some(head), "nothing private: as it is");
    }

    #[test]
    fn a_spec_that_tells_it_again_is_not_handed_out() {
        let text = "spec = 2\n# plate ab 123\n[build]\ntitle = \"Van\"\n[vehicle]\nplate = \"AB 123\"\n";
        assert_eq!(open(text), None);
    }
}
