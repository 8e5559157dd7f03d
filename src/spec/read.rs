//! The way in: a file or its bytes → a spec and findings.

use super::earlier;
use super::limits::{LARGEST_FILE, MOST_ENTRIES};
use super::model::Spec;
use super::page;
use super::record::Reader;
use super::sections::Language;
use super::stock::Shelf;
use super::syntax::parse;
use super::tree::{Item, Node, Table};
use super::whole::Whole;
use crate::diag::{Finding, Sink};
use crate::fields::KindFields;
use crate::source::{SourceFile, Span};

const NOT_UTF8: &str = "not-utf8";

/// Reads a spec. Always gives one, as whole as the file allows; faults go to `sink` and do not hide each other.
pub fn read(file: &SourceFile, language: &Language, known: &KindFields, shelf: &Shelf, sink: &mut Sink) -> Spec {
    if sink.findings().iter().any(|f| f.name == NOT_UTF8) {
        return Spec::default();
    }
    if file.text.len() > LARGEST_FILE {
        sink.push(too_large(file.text.len()));
        return Spec::default();
    }
    let (mut table, mut damage) = parse(file, sink);
    if let Some(finding) = too_many(&table) {
        sink.push(finding);
        return Spec::default();
    }
    if table.entries.is_empty() {
        if !sink.has_errors() {
            let finding = Finding::error("empty-spec", "the spec has no sections");
            sink.push(finding.help("`rigbinder new` writes a spec to begin with"));
        }
        return Spec::default();
    }
    earlier::translate(&mut table, sink);
    let page =
        shelf.page.as_ref().map(|source| page::read(file, source, language, known, shelf, sink)).unwrap_or_default();
    let reader = Reader::of(file, language, &shelf.pictures, sink);
    let mut spec = Whole { reader, table: &table, known, shelf, damage: &mut damage }.spec();
    page.stand_in(&mut spec.build, &mut spec.times);
    if spec.contacts.is_empty() {
        spec.contacts = page.contacts();
    }
    for (own, of_page) in [(&mut spec.people, &page.people), (&mut spec.instruments, &page.instruments)] {
        for (id, record) in of_page {
            own.entry(id.clone()).or_insert_with(|| record.clone());
        }
    }
    Spec { unread: damage.lost, page, ..spec }
}

/// Reads a shop's page and every item of its stock, for a check of its folder alone; gives the number of items.
pub fn read_shop(file: &SourceFile, language: &Language, known: &KindFields, shelf: &Shelf, sink: &mut Sink) -> usize {
    if let Some(source) = &shelf.page {
        page::read(file, source, language, known, shelf, sink);
    }
    shelf.read_all(&mut Reader::of(file, language, &shelf.pictures, sink), known);
    shelf.items.len()
}

/// The text of a file from its bytes. Where they are too many or not UTF-8, a finding says so, and [`read`] with the
/// same sink gives an empty spec without any further finding.
pub fn decode_text(name: &str, bytes: &[u8], sink: &mut Sink) -> SourceFile {
    if bytes.len() > LARGEST_FILE {
        sink.push(too_large(bytes.len()));
        return SourceFile::new(name, "");
    }
    let error = match std::str::from_utf8(bytes) {
        Ok(text) => return SourceFile::new(name, text),
        Err(error) => error,
    };
    let at = error.valid_up_to();
    let mark = if bytes.starts_with(&[0xef, 0xbb, 0xbf]) { 3 } else { 0 };
    let start = at.saturating_sub(mark);
    let headline = format!("the file is not UTF-8 text: byte {at} is 0x{:02x}", bytes.get(at).unwrap_or(&0));
    let finding = Finding::error(NOT_UTF8, headline).at(Span { start, end: start + '\u{fffd}'.len_utf8() }, "here");
    let wide = bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]);
    let from = if wide { "it looks like UTF-16; save" } else { "save" };
    sink.push(finding.help(format!("{from} the file as UTF-8 in the editor")));
    SourceFile::new(name, String::from_utf8_lossy(bytes))
}

/// The first section, table or list with too many entries. Of such a spec there is nothing more to say: what else is
/// wrong with it would be told thousands of times.
fn too_many(table: &Table) -> Option<Finding> {
    let finding = |name: &str, entries: usize, span: Span| {
        let headline = format!("`{name}` has {entries} entries; {MOST_ENTRIES} are allowed");
        let help = if name == "component" {
            "use `count` for things that are alike"
        } else {
            "look for what stands there by mistake"
        };
        Finding::error("too-many-entries", headline).at(span, "these").help(help)
    };
    let in_item = |name: &str, item: &Item| match &item.node {
        Node::List(list) if list.len() > MOST_ENTRIES => Some(finding(name, list.len(), item.span)),
        Node::Table(inner) if inner.entries.len() > MOST_ENTRIES => Some(finding(name, inner.entries.len(), item.span)),
        Node::Table(inner) => too_many(inner),
        Node::List(list) => list.iter().find_map(|item| match &item.node {
            Node::Table(inner) => too_many(inner),
            _ => None,
        }),
        _ => None,
    };
    if table.span == Span::default() && table.entries.len() > MOST_ENTRIES {
        return Some(finding("the spec", table.entries.len(), table.span));
    }
    table.entries.iter().find_map(|(name, (_, item))| in_item(name, item))
}

fn too_large(bytes: usize) -> Finding {
    let headline = format!("the file has {bytes} bytes; a spec has at most {LARGEST_FILE}");
    Finding::error("file-too-large", headline).help("is this the right file?")
}
