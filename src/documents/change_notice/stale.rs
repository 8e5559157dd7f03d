//! Signatures and tests that are older than the work they stand for.

use super::changes::Changes;
use super::renames::{self, renamed};
use super::work::{TESTED, rows, touched_circuits, wires};
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
    let names = renames::found(old, new);
    for (id, was) in &old.stale {
        let circuit = id.strip_prefix(TESTS_OF).map(|circuit| format!("{TESTS_OF}{}", renamed(circuit, &names)));
        let id = circuit.unwrap_or_else(|| renamed(id, &names));
        if recorded(new, &id).as_ref() == Some(&was.recorded) {
            all.insert(id, was.clone());
        }
    }
    // A record of another form does not know all that this one does: what seems changed may only be told newly.
    if old.form != new.form {
        return all;
    }
    let changes = Changes::between(old, new);
    let wires = wires(old, new, &changes);
    let mut add = |was: &str, id: &str, because: String| {
        let Some(recorded) = recorded(new, id).filter(|is| recorded(old, was).as_ref() == Some(is)) else { return };
        let entry = all.entry(id.to_owned()).or_insert_with(|| Stale { recorded, because: BTreeSet::new() });
        entry.because.insert(because);
    };
    let mut built_on = false;
    for stage in Stage::ALL.iter().copied() {
        for row in rows(stage, old, new, &changes, &wires) {
            add(&row.was, &row.id, row.title.clone());
            add(stage.id(), stage.id(), row.title);
            built_on = true;
        }
    }
    if built_on {
        add(Stage::Handover.id(), Stage::Handover.id(), "work of earlier stages".to_owned());
    }
    for (was, id) in touched_circuits(old, new, &changes) {
        add(&format!("{TESTS_OF}{was}"), &format!("{TESTS_OF}{id}"), format!("circuit {id}"));
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
