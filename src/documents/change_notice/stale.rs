//! Signatures, tests and serial numbers that are older than the work they stand for.

use super::changes::Changes;
use super::renames::{self, renamed};
use super::work::{TESTED, rows, touched_circuits, wires};
use crate::documents::snapshot::{Snapshot, Stale};
use crate::kinds::Stage;
use std::collections::{BTreeMap, BTreeSet};

/// Begins the name of what was recorded of a circuit's tests.
pub const TESTS_OF: &str = "circuits.";

/// Begins the name of the serial number of a component. No id holds a blank.
pub const SERIAL_OF: &str = "serial of ";

/// Begins the name of a reading of a component.
pub const READING: &str = "reading ";

/// Fields that make a component another unit: it brings its own serial number, and nobody has read anything of it yet.
const UNIT: [&str; 3] = ["kind", "part", "maker_ref"];

/// What of the signatures, tests and serial numbers of `new` was there before its work changed since `old`, or is
/// carried on from before that; by stage, hold point, or one of the words above and what it is of.
#[must_use]
pub fn stale(old: &Snapshot, new: &Snapshot) -> BTreeMap<String, Stale> {
    let mut all: BTreeMap<String, Stale> = BTreeMap::new();
    let names = renames::found(old, new);
    for (id, was) in &old.stale {
        let prefix = [TESTS_OF, SERIAL_OF, READING].into_iter().find(|p| id.starts_with(p)).unwrap_or_default();
        let id = format!("{prefix}{}", renamed(&id[prefix.len()..], &names));
        let again = !was.taken.is_empty() && taken(new, &id) != was.taken;
        if recorded(new, &id).as_ref() == Some(&was.recorded) && !again {
            all.insert(id, was.clone());
        }
    }
    // A record of another form does not know all that this one does: what seems changed may only be told newly.
    if old.form != new.form {
        return all;
    }
    let changes = Changes::between(old, new).as_work(old, new);
    let wires = wires(old, new, &changes);
    let mut add = |was: &str, id: &str, because: String| {
        let Some(recorded) = recorded(new, id).filter(|is| recorded(old, was).as_ref() == Some(is)) else { return };
        let taken_then = taken(old, was);
        let taken = taken(new, id);
        if !taken_then.is_empty() && taken != taken_then {
            return;
        }
        let entry = all.entry(id.to_owned()).or_insert_with(|| Stale { recorded, taken, because: BTreeSet::new() });
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
    for part in &changes.components.changed {
        if !part.values.iter().any(|v| UNIT.contains(&v.name.as_str())) {
            continue;
        }
        let because = || format!("{}: another unit", part.name);
        add(&format!("{SERIAL_OF}{}", part.was), &format!("{SERIAL_OF}{}", part.id), because());
        for own in of_part(&part.id, new.recorded.keys()).filter(|own| is_reading(own)) {
            add(&format!("{READING}{}.{own}", part.was), &format!("{READING}{}.{own}", part.id), because());
        }
        for own in of_part(&part.id, new.signed.keys()) {
            add(&format!("{}.{own}", part.was), &format!("{}.{own}", part.id), because());
        }
    }
    for (was, id) in touched_circuits(old, new, &changes) {
        add(&format!("{TESTS_OF}{was}"), &format!("{TESTS_OF}{id}"), format!("circuit {id}"));
    }
    all
}

/// What follows the id of a part and a dot in these keys.
fn of_part<'k>(part: &'k str, keys: impl Iterator<Item = &'k String>) -> impl Iterator<Item = &'k str> {
    keys.filter_map(move |key| key.strip_prefix(part)?.strip_prefix('.'))
}

/// Whether what is recorded of a part under this name is a reading: not a test of its circuit, and no paper.
fn is_reading(own: &str) -> bool {
    !own.contains('.') && !TESTED.contains(&own) && !["serial", "signed", "taken"].contains(&own)
}

/// Who took a reading and when, by its own entry or that of its component; "" of what is no reading. What the stage says
/// is said of all that was read in it.
fn taken(snapshot: &Snapshot, id: &str) -> String {
    let Some(reading) = id.strip_prefix(READING) else { return String::new() };
    let part = reading.split('.').next().unwrap_or(reading);
    let entry = [reading, part].into_iter().find_map(|key| snapshot.recorded.get(&format!("{key}.taken")));
    entry.map_or_else(String::new, |stated| stated.shown.clone())
}

/// What stands recorded under such a name.
fn recorded(snapshot: &Snapshot, id: &str) -> Option<String> {
    let shown = |key: &str| snapshot.recorded.get(key).map(|stated| stated.shown.clone());
    if let Some(part) = id.strip_prefix(SERIAL_OF) {
        return shown(&format!("{part}.serial"));
    }
    if let Some(reading) = id.strip_prefix(READING) {
        return shown(reading);
    }
    let Some(circuit) = id.strip_prefix(TESTS_OF) else { return snapshot.signed.get(id).cloned() };
    let tests = TESTED.iter().filter_map(|name| snapshot.recorded.get(&format!("{circuit}.{name}")));
    let all: Vec<&str> = tests.map(|test| test.shown.as_str()).collect();
    (!all.is_empty()).then(|| all.join("; "))
}
