//! What a part has several of: a table of small tables by their ids → a record each, by the declarations of the kind.

use super::field::{Field, about};
use super::rows;
use super::suggest::is_plain;
use super::tree::{Item, Node, Table};
use crate::diag::Finding;
use crate::fields::Record;
use crate::source::{Span, Spanned};

/// Reads them, without defaults; where that fails the faults are in `faults`.
pub(super) fn read(
    field: &Field<'_>,
    item: &Item,
    faults: &mut Vec<Finding>,
) -> Option<Vec<(Spanned<String>, Record)>> {
    let Node::Table(table) = &item.node else {
        faults.push(field.wrong_type(item));
        return None;
    };
    let before = faults.len();
    let mut parts = Vec::with_capacity(table.entries.len());
    for (id, (key, item)) in &table.entries {
        if !is_plain(id) {
            faults.push(field.not_an_id(id, *key));
            continue;
        }
        let Node::Table(table) = &item.node else {
            faults.push(one_is_a_table(field, id, *key, item));
            continue;
        };
        parts.push((Spanned::new(id.clone(), *key), one(field, id, *key, table, faults)));
    }
    (faults.len() == before).then_some(parts)
}

/// A value where one of them is expected: most often a field that stands one level too high.
fn one_is_a_table(field: &Field<'_>, id: &str, key: Span, item: &Item) -> Finding {
    let fault = format!("takes a table for each, and `{id}` is {}", item.node.word());
    let finding = field.error("wrong-type", &fault, item.span, item.node.word());
    if field.decl.has.contains_key(id) {
        let name = field.name;
        return finding
            .label(key, "a field of one of them")
            .help(format!("say whose it is, as in {name}.<id>.{id} = …"));
    }
    finding.help(format!("give {}", field.expects()))
}

fn one(field: &Field<'_>, id: &str, key: Span, table: &Table, faults: &mut Vec<Finding>) -> Record {
    let owner = owner(field.owner, field.name, id);
    let unknown = |name: &str, key| {
        let finding = Finding::error("unknown-field", format!("{owner}: there is no field `{name}`"));
        about(finding.at(key, "not known"), field.subject)
    };
    rows::inner((field, &owner), (table, key), &field.decl.has, unknown, faults).0
}

/// How one of them is called in findings: `control-panel.switch.pump`.
pub(super) fn owner(part: &str, role: &str, id: &str) -> String {
    format!("{part}.{role}.{id}")
}

/// Adds what `from` says of each and `into` does not: those that are not there, and fields that are not given.
pub(super) fn add(into: &mut Vec<(Spanned<String>, Record)>, from: &[(Spanned<String>, Record)]) {
    for (id, other) in from {
        match into.iter_mut().find(|(own, _)| own.value == id.value) {
            Some((_, own)) => {
                for (name, entry) in &other.fields {
                    own.fields.entry(name.clone()).or_insert_with(|| entry.clone());
                }
            }
            None => into.push((id.clone(), other.clone())),
        }
    }
}
