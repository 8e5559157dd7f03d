//! Signatures and tests that are older than the work they stand for.

use super::changes::Changes;
use super::work::{TESTED, row_titles, touched_circuits, wires};
use crate::documents::snapshot::{Snapshot, Stale};
use crate::kinds::Stage;
use std::collections::{BTreeMap, BTreeSet};

/// Begins the name of what was recorded of a circuit's tests.
pub const TESTS_OF: &str = "circuits.";

/// What of the signatures and circuit tests of `new` was there before its work changed since `old`, or is carried on
/// from before that; by stage, hold point, or [`TESTS_OF`] and the circuit.
#[must_use]
pub fn stale(old: &Snapshot, new: &Snapshot) -> BTreeMap<String, Stale> {
    let mut all: BTreeMap<String, Stale> = BTreeMap::new();
    for (id, was) in &old.stale {
        if recorded(new, id).as_ref() == Some(&was.recorded) {
            all.insert(id.clone(), was.clone());
        }
    }
    // A record of another form does not know all that this one does: what seems changed may only be told newly.
    if old.form != new.form {
        return all;
    }
    let changes = Changes::between(old, new);
    let wires = wires(old, new, &changes);
    let mut add = |id: &str, because: String| {
        let Some(recorded) = recorded(new, id).filter(|is| recorded(old, id).as_ref() == Some(is)) else { return };
        let entry = all.entry(id.to_owned()).or_insert_with(|| Stale { recorded, because: BTreeSet::new() });
        entry.because.insert(because);
    };
    let mut built_on = false;
    for stage in Stage::ALL.iter().copied() {
        for (id, title) in row_titles(stage, old, new, &changes, &wires) {
            add(&id, title.clone());
            add(stage.id(), title);
            built_on = true;
        }
    }
    if built_on {
        add(Stage::Handover.id(), "work of earlier stages".to_owned());
    }
    for id in touched_circuits(&changes) {
        add(&format!("{TESTS_OF}{id}"), format!("circuit {id}"));
    }
    all
}

/// What stands recorded under such a name.
fn recorded(snapshot: &Snapshot, id: &str) -> Option<String> {
    let Some(circuit) = id.strip_prefix(TESTS_OF) else { return snapshot.signed.get(id).cloned() };
    let tests = TESTED.iter().filter_map(|name| snapshot.recorded.get(&format!("{circuit}.{name}")));
    let all: Vec<&str> = tests.map(|test| test.shown.as_str()).collect();
    (!all.is_empty()).then(|| all.join("; "))
}
