//! `[recorded]`: serials, readings, signatures, weights of the finished van.

use super::model::{Recorded, Signature};
use super::record::{Owner, Reader, Reference, Target};
use super::suggest::{listed, near};
use super::syntax::Damage;
use super::tree::{Item, Node, Table};
use super::value::Field;
use crate::diag::Finding;
use crate::fields::{FieldDecl, FieldType, Record, Value};
use crate::source::{Span, Spanned};
use indexmap::IndexMap;

/// Parts of `[recorded]`.
const KNOWN: [&str; 9] =
    ["serials", "readings", "circuits", "conductors", "taken", "signed", "weights", "warranty", "photos"];

/// Reads `[recorded]`. Keys with dots are joined again: `fridge.volts = "13.1 V"` is the reading `fridge.volts`.
pub(super) fn read(reader: &mut Reader<'_>, table: &Table, damage: &Damage) -> Recorded {
    let mut recorded = Recorded::default();
    for (name, (key, item)) in &table.entries {
        if !KNOWN.contains(&name.as_str()) {
            let finding = Finding::error("unknown-section", format!("there is no section `recorded.{name}`"));
            let finding = finding.at(*key, "not known");
            reader.sink.push(match near(reader.sink, name, KNOWN) {
                Some(near) => finding.help(format!("did you mean [recorded.{near}]?")).fix(*key, near),
                None => finding.help(format!("known are {}", listed(KNOWN, KNOWN.len()))),
            });
            continue;
        }
        let Node::Table(inner) = &item.node else {
            let headline = format!("`recorded.{name}` is {}; it is a section", item.node.word());
            let finding = Finding::error("wrong-type", headline).at(item.span, item.node.word());
            reader.sink.push(finding.help(format!("write [recorded.{name}]")));
            continue;
        };
        match name.as_str() {
            "serials" => recorded.serials = texts(reader, "recorded.serials", inner, true),
            "readings" => recorded.readings = texts(reader, "recorded.readings", inner, true),
            "conductors" => recorded.conductors = texts(reader, "recorded.conductors", inner, true),
            "signed" => recorded.signed = signatures(reader, "recorded.signed", inner),
            "taken" => recorded.taken = signatures(reader, "recorded.taken", inner),
            "circuits" => recorded.circuits = records(reader, "recorded.circuits", inner, true),
            "warranty" => recorded.warranty = records(reader, "recorded.warranty", inner, true),
            "photos" => recorded.photos = records(reader, "recorded.photos", inner, false),
            _ => {
                let owner = Owner { name: "recorded.weights", subject: None, kind: None };
                let decls = reader.language.fields_of("recorded.weights");
                let given = reader.given(owner, inner, decls, &[], false);
                recorded.weights = reader.complete(owner, given, decls, damage.hit(&["recorded", "weights"]));
            }
        }
    }
    recorded
}

/// Texts by key, `a.b` for nested ones; `of_component` where a key begins with the id of a component.
pub(super) fn texts(
    reader: &mut Reader<'_>,
    section: &str,
    table: &Table,
    of_component: bool,
) -> IndexMap<String, Spanned<String>> {
    let decl = FieldDecl::of(FieldType::Text, "");
    let mut out = IndexMap::new();
    for (key, span, item) in leaves(table, |node| !matches!(node, Node::Table(_))) {
        if of_component {
            reader.references.push(component(section, &key, span));
        }
        let field = Field { file: reader.file, owner: section, subject: None, name: &key, decl: &decl };
        let mut faults = Vec::new();
        if let Some(Value::Text(text)) = field.read(item, &mut faults) {
            out.insert(key.clone(), Spanned::new(text, item.span));
        }
        for fault in faults {
            reader.sink.push(fault);
        }
    }
    out
}

/// Who and when, by key.
fn signatures(reader: &mut Reader<'_>, section: &str, table: &Table) -> IndexMap<String, Spanned<Signature>> {
    let mut out = IndexMap::new();
    for (key, record) in records(reader, section, table, false) {
        if let Some(by) = record.text("by") {
            let signature = Signature {
                by: by.to_owned(),
                date: record.date("date"),
                instruments: record.list("instruments").to_vec(),
            };
            out.insert(key, Spanned::new(signature, record.span));
        }
    }
    out
}

/// Tables by key, `a.b` for nested ones; `of_component` where a key begins with the id of a component.
fn records(reader: &mut Reader<'_>, section: &str, table: &Table, of_component: bool) -> IndexMap<String, Record> {
    let decls = reader.language.fields_of(section);
    let is_record = |node: &Node| match node {
        Node::Table(t) => !t.entries.values().any(|(_, item)| matches!(item.node, Node::Table(_))),
        _ => true,
    };
    let mut out = IndexMap::new();
    for (key, span, item) in leaves(table, is_record) {
        let Node::Table(inner) = &item.node else {
            let names = listed(decls.keys().map(String::as_str), 4);
            let headline = format!("{section}: `{key}` is {}; it takes {names}", item.node.word());
            let finding = Finding::error("wrong-type", headline).at(item.span, item.node.word());
            let example = decls.first().map_or("by", |(name, _)| name.as_str());
            reader.sink.push(finding.help(format!("write {{ {example} = …, … }}")));
            continue;
        };
        if of_component {
            reader.references.push(component(section, &key, span));
        }
        let name = format!("{section}.{key}");
        let owner = Owner { name: &name, subject: Some(&key), kind: None };
        let given = reader.given(owner, inner, decls, &[], false);
        let mut record = reader.complete(owner, given, decls, false);
        record.span = span;
        out.insert(key, record);
    }
    out
}

/// The component that a key begins with.
fn component(section: &str, key: &str, span: Span) -> Reference {
    Reference {
        to: Target::Component,
        id: Spanned::new(key.split('.').next().unwrap_or(key).to_owned(), span),
        owner: section.to_owned(),
        subject: None,
        field: key.to_owned(),
        is_key: true,
    }
}

/// Values below a table with their keys joined by dots and the place of the first; `is_leaf` tells where to stop.
fn leaves(table: &Table, is_leaf: impl Fn(&Node) -> bool + Copy) -> Vec<(String, Span, &Item)> {
    let mut out = Vec::new();
    for (key, (span, item)) in &table.entries {
        match &item.node {
            Node::Table(inner) if !is_leaf(&item.node) => {
                let below = leaves(inner, is_leaf);
                out.extend(below.into_iter().map(|(k, place, i)| (format!("{key}.{k}"), place, i)));
            }
            _ => out.push((key.clone(), *span, item)),
        }
    }
    out
}
