//! What earlier versions of the spec language call otherwise → what it is called now, a warning each.

use super::tree::{Item, Node, Table};
use crate::diag::{Finding, Sink};
use std::collections::BTreeSet;
use std::ops::RangeInclusive;

/// Version of the spec language that is written now.
pub(super) const VERSION: i64 = 2;

/// Versions that are read.
pub(super) const READ: RangeInclusive<i64> = 1..=VERSION;

/// A field that another one has taken the place of.
struct Renamed {
    section: &'static str,
    was: &'static str,
    is: &'static str,
    /// The first version that says so.
    since: i64,
}

/// A field of a section that stands in a part of it now.
struct Moved {
    section: &'static str,
    was: &'static str,
    part: &'static str,
    is: &'static str,
    since: i64,
}

const fn goal(was: &'static str, is: &'static str) -> Moved {
    Moved { section: "use", was, part: "goals", is, since: 2 }
}

const MOVED: &[Moved] =
    &[goal("nights_off_grid", "nights"), goal("inside_temperature", "inside_temperature"), goal("cool_to", "cool_to")];

const RENAMED: &[Renamed] = &[Renamed { section: "task", was: "after", is: "needs", since: 2 }];

/// Reads what an earlier version says as this one does.
pub(super) fn translate(table: &mut Table, sink: &mut Sink) {
    rename(table, sink);
    let mut made = BTreeSet::new();
    for moved in MOVED {
        let Some((_, Item { node: Node::Table(section), .. })) = table.entries.get_mut(moved.section) else { continue };
        if !section.entries.contains_key(moved.part) {
            made.insert((moved.section, moved.part));
        }
        into_part(section, moved, made.contains(&(moved.section, moved.part)), sink);
    }
}

/// Puts a field where it stands now; `made` where the file itself has no such part.
fn into_part(section: &mut Table, moved: &Moved, made: bool, sink: &mut Sink) {
    let Moved { section: name, was, part, is, since } = *moved;
    let free = match section.entries.get(part) {
        Some((_, Item { node: Node::Table(goals), .. })) => !goals.entries.contains_key(is),
        Some(_) => false,
        None => true,
    };
    // Of both at once the earlier one is an unknown field.
    let Some((key, value)) = section.entries.get(was).filter(|_| free).cloned() else { return };
    section.entries.shift_remove(was);
    let headline = format!("{name}: `{was}` stands in [{name}.{part}] as `{is}` since spec = {since}");
    let finding = Finding::warning("earlier-form", headline).about(name).at(key, "read as before");
    let finding = finding.help(format!("write `{is}` below [{name}.{part}], or `{part}.{is}` here"));
    // Where the part has a header of its own, a dotted name beside it would be no TOML.
    sink.push(if made { finding.fix(key, format!("{part}.{is}")) } else { finding });
    let empty = || (key, Item { node: Node::Table(Table { span: key, ..Table::default() }), span: key });
    if let Node::Table(goals) = &mut section.entries.entry(part.to_owned()).or_insert_with(empty).1.node {
        goals.entries.insert(is.to_owned(), (key, value));
    }
}

fn rename(table: &mut Table, sink: &mut Sink) {
    for Renamed { section, was, is, since } in RENAMED {
        let Some((_, Item { node: Node::Table(tables), .. })) = table.entries.get_mut(*section) else { continue };
        for (id, (_, item)) in &mut tables.entries {
            let Node::Table(Table { entries, .. }) = &mut item.node else { continue };
            // Of both at once the earlier one is an unknown field.
            let at = entries.get_index_of(*was).filter(|_| !entries.contains_key(*is));
            let Some((at, (key, value))) = at.and_then(|at| Some((at, entries.shift_remove_index(at)?.1))) else {
                continue;
            };
            let headline = format!("{section} {id}: `{was}` is called `{is}` since spec = {since}");
            let finding = Finding::warning("earlier-form", headline).about(id).at(key, "read as before");
            sink.push(finding.help(format!("write `{is}`")).fix(key, *is));
            entries.shift_insert(at, (*is).to_owned(), (key, value));
        }
    }
}
