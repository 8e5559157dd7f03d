//! `[recorded]`: serials, readings, signatures, weights of the finished van.

use super::model::{Recorded, Signature};
use super::record::{Owner, Reader, Reference, Target};
use super::sections::fields_of;
use super::suggest::{listed, nearest};
use super::syntax::Damage;
use super::tree::{Item, Node, Table};
use super::value::Field;
use crate::diag::Finding;
use crate::fields::{FieldDecl, FieldType, Value};
use crate::source::{Span, Spanned};
use indexmap::IndexMap;

/// Parts of `[recorded]`.
const KNOWN: [&str; 4] = ["serials", "readings", "signed", "weights"];

/// Reads `[recorded]`. Keys with dots are joined again: `fridge.volts = "13.1 V"` is the reading `fridge.volts`.
pub(super) fn read(reader: &mut Reader<'_>, table: &Table, damage: &Damage) -> Recorded {
    let mut recorded = Recorded::default();
    for (name, (key, item)) in &table.entries {
        if !KNOWN.contains(&name.as_str()) {
            let finding = Finding::error("unknown-section", format!("there is no section `recorded.{name}`"));
            let finding = finding.at(*key, "not known");
            reader.sink.push(match nearest(name, KNOWN) {
                Some(near) => finding.help(format!("did you mean [recorded.{near}]?")).fix(*key, near),
                None => finding.help(format!("known are {}", listed(KNOWN, 4))),
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
            "serials" => recorded.serials = texts(reader, "recorded.serials", inner),
            "readings" => recorded.readings = texts(reader, "recorded.readings", inner),
            "signed" => recorded.signed = signatures(reader, inner),
            _ => {
                let owner = Owner { name: "recorded.weights", subject: None, kind: None };
                let decls = fields_of("recorded.weights");
                let given = reader.given(owner, inner, decls, &[], false);
                recorded.weights = reader.complete(owner, given, decls, damage.hit(&["recorded", "weights"]));
            }
        }
    }
    recorded
}

/// Texts by key, `a.b` for nested ones.
fn texts(reader: &mut Reader<'_>, section: &str, table: &Table) -> IndexMap<String, Spanned<String>> {
    let decl = FieldDecl {
        ty: FieldType::Text,
        about: String::new(),
        default: None,
        required: false,
        min: None,
        max: None,
        choices: Vec::new(),
    };
    let mut out = IndexMap::new();
    for (key, span, item) in leaves(table, |node| !matches!(node, Node::Table(_))) {
        let id = key.split('.').next().unwrap_or(&key).to_owned();
        reader.references.push(Reference {
            to: Target::Component,
            id: Spanned::new(id, span),
            owner: section.to_owned(),
            subject: None,
            field: key.clone(),
            is_key: true,
        });
        let field = Field { text: reader.text, owner: section, subject: None, name: &key, decl: &decl };
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

fn signatures(reader: &mut Reader<'_>, table: &Table) -> IndexMap<String, Spanned<Signature>> {
    let decls = fields_of("recorded.signed");
    let is_signature = |node: &Node| match node {
        Node::Table(t) => !t.entries.values().any(|(_, item)| matches!(item.node, Node::Table(_))),
        _ => true,
    };
    let mut out = IndexMap::new();
    for (key, span, item) in leaves(table, is_signature) {
        let Node::Table(inner) = &item.node else {
            let headline = format!("recorded.signed: `{key}` is {}; it takes who and when", item.node.word());
            let finding = Finding::error("wrong-type", headline).at(item.span, item.node.word());
            reader.sink.push(finding.help("write { by = \"…\", date = 2027-05-14 }"));
            continue;
        };
        let name = format!("recorded.signed.{key}");
        let owner = Owner { name: &name, subject: Some(&key), kind: None };
        let given = reader.given(owner, inner, decls, &[], false);
        let record = reader.complete(owner, given, decls, false);
        if let Some(by) = record.text("by") {
            let signature = Signature { by: by.to_owned(), date: record.date("date") };
            out.insert(key.clone(), Spanned::new(signature, span));
        }
    }
    out
}

/// Values below a table with their keys joined by dots and the place of the first; `is_leaf` tells where to stop.
fn leaves(table: &Table, is_leaf: impl Fn(&Node) -> bool + Copy) -> Vec<(String, Span, &Item)> {
    let mut out = Vec::new();
    for (key, (span, item)) in &table.entries {
        match &item.node {
            Node::Table(inner) if !is_leaf(&item.node) => {
                let below = leaves(inner, is_leaf);
                out.extend(below.into_iter().map(|(k, _, i)| (format!("{key}.{k}"), *span, i)));
            }
            _ => out.push((key.clone(), *span, item)),
        }
    }
    out
}
