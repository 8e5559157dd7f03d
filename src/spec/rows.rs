//! A list of small tables in one field → records, each by the declarations of its sort.

use super::field::Field;
use super::suggest::{is_plain, listed, nearest};
use super::tree::{Item, Node, Table};
use crate::diag::Finding;
use crate::fields::{Declarations, Entry, Record, RowsOf, Value};
use crate::letters::shows_nothing;
use crate::source::Span;

/// Reads the list; where that fails the faults are in `faults`.
pub(super) fn read(field: &Field<'_>, of: RowsOf, item: &Item, faults: &mut Vec<Finding>) -> Option<Vec<Record>> {
    let Node::List(list) = &item.node else {
        let finding = field.wrong_type(item);
        let one = matches!(item.node, Node::Table(_));
        let raw = field.file.slice(item.span);
        // A table with a header of its own is mended by hand.
        let inline = one && raw.starts_with('{');
        faults.push(if inline { finding.fix(item.span, format!("[{raw}]")) } else { finding });
        return None;
    };
    let before = faults.len();
    let decls = of.fields();
    let mut rows: Vec<Record> = Vec::with_capacity(list.len());
    for item in list {
        let Node::Table(table) = &item.node else {
            let fault = format!("takes tables, not {}", item.node.word());
            let finding = field.error("wrong-type", &fault, item.span, item.node.word());
            faults.push(finding.help(format!("give {}", field.expects())));
            continue;
        };
        let row = self::row(field, table, &decls, faults);
        if let Some(finding) = row.as_ref().and_then(|row| id_fault(field, row, &rows)) {
            faults.push(finding);
        }
        rows.extend(row);
    }
    (faults.len() == before).then_some(rows)
}

/// The fields of a small table inside of a field, in what is called `owner`, without defaults; and those that nearly
/// bear the name of what is not known. `unknown` begins the finding on a name that is not.
pub(super) fn inner<'d>(
    (field, owner): (&Field<'_>, &str),
    (table, span): (&Table, Span),
    decls: &'d Declarations,
    unknown: impl Fn(&str, Span) -> Finding,
    faults: &mut Vec<Finding>,
) -> (Record, Vec<&'d str>) {
    let mut record = Record { span, ..Record::default() };
    let mut taken = Vec::new();
    for (name, (key, item)) in &table.entries {
        let Some(decl) = decls.get(name) else {
            let finding = unknown(name, *key);
            let free = decls.keys().map(String::as_str).filter(|k| !table.entries.contains_key(*k));
            faults.push(match nearest(name, free) {
                Some(near) => {
                    taken.push(near);
                    finding.help(format!("did you mean `{near}`?")).fix(*key, near)
                }
                None => finding.help(format!("known are {}", listed(decls.keys().map(String::as_str), 12))),
            });
            continue;
        };
        let field = Field { file: field.file, owner, subject: field.subject, name, decl };
        if let Some(value) = field.read(item, faults) {
            record.fields.insert(name.clone(), Entry::of(decl, value, item.span, true));
        }
    }
    (record, taken)
}

fn row(field: &Field<'_>, table: &Table, decls: &Declarations, faults: &mut Vec<Finding>) -> Option<Record> {
    let before = faults.len();
    let unknown = |name: &str, key| field.error("unknown-field", &format!("has no `{name}`"), key, "not known");
    let (record, taken) = inner((field, field.owner), (table, table.span), decls, unknown, faults);
    let says = |name: &str| match record.get(name).map(|e| &e.value) {
        Some(Value::Text(text)) => shows(text),
        Some(Value::Texts(texts)) => texts.iter().any(|text| shows(&text.value)),
        Some(_) => true,
        None => table.entries.contains_key(name),
    };
    let missing: Vec<&str> = decls
        .iter()
        .filter(|(name, decl)| decl.required && !says(name) && !taken.contains(&name.as_str()))
        .map(|(name, _)| name.as_str())
        .collect();
    if !missing.is_empty() {
        let fault = format!("lacks `{}`", missing.join("`, `"));
        let finding = field.error("missing-field", &fault, table.span, "in this table");
        let about = |name: &str| decls.get(name).map_or("", |decl| decl.about.as_str()).to_owned();
        faults.push(missing.iter().fold(finding, |finding, name| finding.help(format!("{name}: {}", about(name)))));
    }
    (faults.len() == before).then_some(record)
}

/// Whether something of a text shows.
fn shows(text: &str) -> bool {
    text.chars().any(|c| !shows_nothing(c))
}

/// An id must be one, and stand once.
fn id_fault(field: &Field<'_>, row: &Record, others: &[Record]) -> Option<Finding> {
    let entry = row.get("id")?;
    let id = row.text("id")?;
    if !is_plain(id) {
        return Some(field.not_an_id(id, entry.span));
    }
    if others.iter().any(|other| other.text("id") == Some(id)) {
        let finding = field.error("id-twice", &format!("has `{id}` twice"), entry.span, "again");
        return Some(finding.help("give one of them another id"));
    }
    None
}
