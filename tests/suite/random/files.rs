//! Files: each is read back by an independent reader, without a complaint.

use rigbinder::pipeline::{self, DataFile, Sheet};
use std::collections::BTreeSet;
use std::sync::LazyLock;

static SCHEMA: LazyLock<jsonschema::Validator> =
    LazyLock::new(|| jsonschema::validator_for(&pipeline::build_schema()).expect("a schema"));

/// All documents of a build, as text and for the typesetter.
pub(super) fn are_well_formed(sheets: &[Sheet]) {
    for sheet in sheets {
        let at = &sheet.stem;
        numbers(at, &sheet.markdown);
        html(at, &sheet.html);
        let root = typst_syntax::parse(&sheet.typst);
        let (errors, warnings) = root.errors_and_warnings();
        assert!(errors.is_empty() && warnings.is_empty(), "{at}.typ: {errors:?} {warnings:?}");
        for (name, text) in &sheet.beside {
            match name.rsplit('.').next() {
                Some("ics") => calendar(name, text),
                Some("svg") => svg(name, text),
                _ => panic!("{name}: a file no test knows"),
            }
        }
    }
}

/// The data files of a build.
pub(super) fn are_data(files: &[DataFile]) {
    for DataFile { name, bytes } in files {
        match name.rsplit('.').next() {
            Some("csv") => {
                numbers(name, std::str::from_utf8(bytes).expect("UTF-8"));
                for record in csv::Reader::from_reader(bytes.as_slice()).records() {
                    record.unwrap_or_else(|e| panic!("{name}: {e}"));
                }
            }
            Some("json") => {
                let value: serde_json::Value = serde_json::from_slice(bytes).expect("JSON");
                if !name.contains("schema")
                    && let Some(fault) = SCHEMA.iter_errors(&value).next()
                {
                    panic!("{name}: {fault} at {}", fault.instance_path());
                }
            }
            Some("xlsx") => assert!(bytes.starts_with(b"PK"), "{name}"),
            _ => panic!("{name}: a file no test knows"),
        }
    }
}

/// No number is printed that is none, or less than nothing by nothing.
fn numbers(at: &str, text: &str) {
    let context = |start: usize| {
        let from = (0..=start.saturating_sub(80)).rev().find(|i| text.is_char_boundary(*i)).unwrap_or(0);
        text[from..].chars().take(140).collect::<String>()
    };
    let mut start = 0;
    for word in text.split(|c: char| !c.is_alphanumeric()) {
        assert!(!matches!(word, "NaN" | "inf" | "Infinity"), "{at}: …{}", context(start));
        start = word.as_ptr() as usize - text.as_ptr() as usize;
    }
    for (start, sign) in text.match_indices(['-', '\u{2212}']) {
        let after = &text[start + sign.len()..];
        let digits = &after[..after.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(after.len())];
        let begins = text[..start].chars().next_back().is_none_or(|c| c.is_whitespace() || "|(*".contains(c));
        let nothing = digits.starts_with('0') && digits.chars().all(|c| matches!(c, '0' | '.'));
        let ends = after[digits.len()..].starts_with([' ', '\u{a0}', '\u{202f}', '%', '°']);
        assert!(!(begins && nothing && ends), "{at}: …{}", context(start));
    }
}

fn svg(name: &str, text: &str) {
    let read = roxmltree::Document::parse(text).unwrap_or_else(|e| panic!("{name}: {e}"));
    for node in read.descendants().filter(roxmltree::Node::is_element) {
        for attribute in node.attributes().filter(|a| !matches!(a.name(), "class" | "id" | "font-family")) {
            let value = attribute.value();
            assert!(!value.contains("NaN") && !value.contains("inf"), "{name}: {}=\"{value}\"", attribute.name());
        }
    }
}

/// A page without a fault in its HTML, whose links into itself lead somewhere.
fn html(at: &str, text: &str) {
    let read = scraper::Html::parse_document(text);
    assert!(read.errors.is_empty(), "{at}.html: {:?}", read.errors);
    let (mut ids, mut links) = (BTreeSet::new(), Vec::new());
    for element in read.root_element().descendants().filter_map(scraper::ElementRef::wrap) {
        let element = element.value();
        if let Some(id) = element.id() {
            assert!(ids.insert(id.to_owned()), "{at}.html: id {id} stands twice");
        }
        links.extend(element.attr("href").filter(|_| element.name() == "a").map(str::to_owned));
        assert!(element.attrs().all(|(name, _)| !name.starts_with("on")), "{at}.html: an event handler");
    }
    for link in links {
        if let Some(id) = link.strip_prefix('#') {
            assert!(ids.contains(id), "{at}.html: {link} leads nowhere");
        }
        assert!(!link.starts_with("javascript:"), "{at}.html: {link}");
    }
}

fn calendar(name: &str, text: &str) {
    for line in text.split_terminator("\r\n") {
        assert!(line.len() <= 75 && !line.contains(['\r', '\n']), "{name}: {line:?}");
    }
    let read: icalendar::Calendar = text.parse().unwrap_or_else(|e| panic!("{name}: {e}"));
    assert_eq!(read.components.len(), text.matches("\r\nBEGIN:VEVENT\r\n").count(), "{name}");
}
