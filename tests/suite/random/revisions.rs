//! Revisions: a notice says what changed and nothing else, and what was not touched keeps its way.

use super::draft::Draft;
use super::edit::edit;
use super::{drawn, hold, plan};
use proptest::prelude::*;
use rigbinder::documents::change_notice::changes::Changes;
use rigbinder::documents::snapshot::Snapshot;
use rigbinder::pipeline::{self, Worked};
use std::cell::Cell;
use std::collections::{BTreeMap, BTreeSet};

/// What a build is, without the texts of its documents, which take longest.
fn snapshot(worked: &Worked<'_>) -> Snapshot {
    pipeline::snapshot(worked, &[]).expect("snapshot")
}

fn is_clean(draft: &Draft) -> bool {
    let loaded = draft.load();
    pipeline::work_out(&loaded).expect("profile").counts().0 == 0
}

#[test]
fn a_change_and_the_way_back_mirror_each_other() {
    let (differing, labels) = (Cell::new(0), Cell::new(0));
    let pairs = (plan::build(super::PARTS), edit()).prop_map(|(plan, edit)| {
        let before = drawn(&plan);
        let after = edit.of(&before);
        (before, after, edit)
    });
    hold("tests/proptest-regressions/revisions.txt", 12, &pairs, |(before, after, _)| {
        if !is_clean(&before) {
            return Ok(());
        }
        let loaded = before.load();
        let before = pipeline::work_out(&loaded).expect("profile");
        let was = snapshot(&before);
        assert!(Changes::between(&was, &was).is_empty(), "a build differs from itself");
        let json = serde_json::to_string(&was).expect("written");
        let back: Snapshot = serde_json::from_str(&json).expect("read");
        assert_eq!(back, was, "a snapshot reads back as it was");

        let loaded = after.load();
        let worked = pipeline::work_out_after(&loaded, Some(&was)).expect("profile");
        let is = snapshot(&worked);
        let changes = Changes::between(&was, &is);
        assert_eq!(changes, Changes::between(&is, &was).reversed(), "the way back is another");
        differing.set(differing.get() + usize::from(!changes.is_empty()));
        stay_on_their_ways(&was, &worked, &changes);
        if worked.counts().0 == 0 {
            labels.set(labels.get() + keep_their_labels(&before, &worked, &changes));
            let (sheet, _) = pipeline::change_notice(&worked, &was, &is).expect("notice");
            super::files::are_well_formed(&[sheet]);
        }
        Ok(())
    });
    assert!(differing.get() > 2 && labels.get() > 4, "only {} changes, {} labels", differing.get(), labels.get());
}

/// Circuits that were there keep their ways, unless the spec gives the circuit or its way to another.
fn stay_on_their_ways(was: &Snapshot, worked: &Worked<'_>, changes: &Changes) {
    let now = |id: &str| changes.renamed.iter().find(|(old, _)| old == id).map_or(id, |(_, new)| new).to_owned();
    let gives = |id: &str| worked.build.parts.get(id).is_some_and(|p| p.record.gave("way"));
    for (id, (panel, way)) in was.ways() {
        let Some(circuit) = worked.build.circuits.get(&now(&id)) else { continue };
        let taken = worked.build.leaving(&now(&panel)).any(|c| c.way == Some(way) && gives(&c.owner));
        if circuit.from == now(&panel) && !taken && !gives(&circuit.owner) {
            assert_eq!(circuit.way, Some(way), "{id} moved in {panel}");
        }
    }
}

/// The wire labels of a build, by circuit.
fn wire_labels(worked: &Worked<'_>) -> BTreeMap<String, String> {
    let files = pipeline::data(worked).expect("data");
    let Some(file) = files.iter().find(|f| f.name.ends_with("wire-labels.csv")) else { return BTreeMap::new() };
    let rows = csv::Reader::from_reader(file.bytes.as_slice()).into_records().map(|r| r.expect("a row"));
    let mut labels: BTreeMap<String, String> = BTreeMap::new();
    for row in rows {
        let said = labels.entry(row[0].to_owned()).or_default();
        said.push_str(&row.iter().collect::<Vec<_>>().join(" | "));
    }
    labels
}

/// What the notice does not name has the same labels at both ends as before. Returns how many were compared.
fn keep_their_labels(before: &Worked<'_>, after: &Worked<'_>, changes: &Changes) -> usize {
    if !(changes.settings.is_empty() && changes.head.is_empty()) {
        return 0;
    }
    let lists = [&changes.circuits, &changes.components];
    let ids = lists.iter().flat_map(|l| l.changed.iter().map(|c| &c.id).chain(l.added.iter().map(|n| &n.id)));
    let mut named: BTreeSet<&str> = ids.map(String::as_str).collect();
    // A part without a name is called by its kind while it is the only one: the notice tells what then changes on flags.
    for flag in changes.labels.changed.iter().filter_map(|c| c.id.strip_suffix(".flag")) {
        let conductor = after.build.wiring.conductors.get(flag);
        named.insert(conductor.and_then(|c| c.circuit.as_deref()).unwrap_or(flag));
    }
    named.extend(changes.renamed.iter().flat_map(|(was, is)| [was.as_str(), is.as_str()]));
    let (was, is) = (wire_labels(before), wire_labels(after));
    let mut compared = 0;
    for (label, row) in &is {
        let Some(circuit) = after.build.circuits.get(label) else { continue };
        let own = [label, &circuit.from, &circuit.to];
        if let (Some(earlier), false) = (was.get(label), own.iter().any(|id| named.contains(id.as_str()))) {
            assert_eq!(earlier, row, "{label} needs other labels, and the notice does not say so");
            compared += 1;
        }
    }
    compared
}
