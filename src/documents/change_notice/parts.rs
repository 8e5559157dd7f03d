//! Components that were moved or replaced: work of their own, under the stages that fit them.

use super::changes::{Changed, Changes, ValueChange};
use super::readable;
use crate::documents::snapshot::{IDS, Item, Snapshot};
use crate::fields::Change;
use crate::kinds::Stage;

/// What is to be done with a component as a whole.
#[derive(Clone, Debug)]
pub(super) struct PartWork<'c> {
    /// The component.
    pub part: &'c Changed,
    /// "move" or "replace".
    pub what: &'static str,
    /// "Fridge", or "Take out Fridge, fit another".
    pub title: String,
    /// From where to where, or what differs.
    pub why: Vec<ValueChange>,
}

impl PartWork<'_> {
    /// "Fridge: moved".
    pub(super) fn because(&self) -> String {
        format!("{}: {}", self.part.name, if self.what == "move" { "moved" } else { "replaced" })
    }
}

/// Components that were moved or replaced.
pub(super) fn of(changes: &Changes) -> Vec<PartWork<'_>> {
    let work = |part| {
        let those = |change| of_values(part, change);
        let (replaced, moved) = (those(Change::Replaced), those(Change::Moved));
        let other_kind = replaced.iter().any(|v| v.name == "kind");
        let (what, title) = match (replaced.is_empty(), moved.is_empty()) {
            (true, true) => return None,
            (true, false) => ("move", part.name.clone()),
            (false, _) if other_kind => ("replace", format!("Take out {}, fit {}", part.name_was, part.name)),
            (false, _) => ("replace", format!("Take out {}, fit another", part.name_was)),
        };
        Some(PartWork { part, what, title, why: replaced.into_iter().chain(moved).collect() })
    };
    changes.components.changed.iter().filter_map(work).collect()
}

/// The values that say so by the mark of their field.
fn of_values(part: &Changed, change: Change) -> Vec<ValueChange> {
    let those = part.values.iter().filter(|v| v.change == Some(change));
    those.cloned().map(readable).collect()
}

/// Whether a stage builds, or tests what was built: what is shown at handover is not built anew.
pub(super) const fn builds(stage: Stage) -> bool {
    !matches!(stage, Stage::Handover)
}

/// Circuits one end of which is on a component that was moved or replaced: their ids as they were and are.
pub(super) fn reopened<'c>(
    old: &'c Snapshot,
    new: &'c Snapshot,
    changes: &'c Changes,
) -> impl Iterator<Item = (&'c str, &'c str)> {
    let works: Vec<&str> = of(changes).iter().map(|w| w.part.id.as_str()).collect();
    let ends =
        |item: &'c Item| ["from", "to"].into_iter().filter_map(|end| item.values.get(end)?.exact().strip_prefix(IDS));
    let touched = move |(_, item): &(&String, &'c Item)| ends(item).any(|end| works.contains(&end));
    let was = |id: &'c str| {
        let (head, tail) = id.split_once('.').map_or((id, None), |(head, tail)| (head, Some(tail)));
        let head = changes.renamed.iter().find(|(_, is)| is == head).map_or(head, |(was, _)| was.as_str());
        let known = old.circuits.keys().find(|known| match tail {
            Some(tail) => known.strip_prefix(head).and_then(|rest| rest.strip_prefix('.')) == Some(tail),
            None => known.as_str() == head,
        });
        known.map(|known| (known.as_str(), id))
    };
    new.circuits.iter().filter(touched).filter_map(move |(id, _)| was(id))
}
