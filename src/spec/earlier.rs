//! What earlier versions of the spec language call otherwise → what it is called now, a warning each.

use super::tree::{Item, Node, Table};
use crate::diag::{Finding, Sink};
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

const RENAMED: &[Renamed] = &[Renamed { section: "task", was: "after", is: "needs", since: 2 }];

/// Reads what an earlier version says as this one does.
pub(super) fn translate(table: &mut Table, sink: &mut Sink) {
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
