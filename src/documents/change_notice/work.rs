//! Work that a change brings: stages and tasks, wires, labels.

use super::changes::{Changed, Changes, Named, ValueChange};
use super::stage_of;
use crate::build::Build;
use crate::documents::shared;
use crate::documents::snapshot::{Item, Snapshot, TaskItem};
use crate::kinds::Stage;
use serde::Serialize;

/// What to do in a stage.
#[derive(Clone, Debug, Serialize)]
pub struct StageWork {
    /// Its title.
    pub title: String,
    /// Who signed the stage, "" where nobody has.
    pub signed: String,
    /// Tasks that are new, changed or gone.
    pub tasks: Vec<TaskRow>,
    /// Its packet is to be printed again.
    pub packet: bool,
}

/// A task.
#[derive(Clone, Debug, Serialize)]
pub struct TaskRow {
    /// Id.
    pub id: String,
    /// Title.
    pub title: String,
    /// "new", "do again", "gone".
    pub what: &'static str,
    /// What makes it another.
    pub why: Vec<ValueChange>,
    /// Who signed it off, "" where nobody has.
    pub signed: String,
}

/// A wire.
#[derive(Clone, Debug, Serialize)]
pub struct Wire {
    /// Label.
    pub label: String,
    /// "pull", "pull again", "cut anew", "take out".
    pub what: &'static str,
    /// Conductor, with what it was: "10 AWG → 6 AWG".
    pub conductor: String,
    /// Pieces and length.
    pub cut: String,
    /// From.
    pub from: String,
    /// To.
    pub to: String,
}

/// A label.
#[derive(Clone, Debug, Serialize)]
pub struct Label {
    /// What it says.
    pub text: String,
    /// From, with the way.
    pub from: String,
    /// To.
    pub to: String,
}

/// Values of a circuit that a cable already pulled cannot follow.
const PULLED: [&str; 8] = ["from", "to", "run", "conductor", "colours", "route", "sheath", "cut"];

/// Values that stand on a wire's label.
const LABELLED: [&str; 5] = ["from", "to", "way", "conductor", "colours"];

/// Stages with tasks or a packet that changed, in the order of work.
pub(super) fn stages(build: &Build<'_>, old: &Snapshot, new: &Snapshot, changes: &Changes) -> Vec<StageWork> {
    let all = || changes.sheets.changed.iter().map(|c| &c.id).chain(changes.sheets.added.iter().map(|n| &n.id));
    let of = |stage: Stage| {
        let packet = all().any(|sheet| stage_of(build, sheet).is_some_and(|(s, _)| s == stage));
        let tasks = tasks(stage, old, new, changes);
        (packet || !tasks.is_empty()).then(|| StageWork {
            title: shared::stage_title(build, stage),
            signed: signature(old, new, stage.id()),
            tasks,
            packet,
        })
    };
    Stage::ALL.iter().copied().filter_map(of).collect()
}

fn tasks(stage: Stage, old: &Snapshot, new: &Snapshot, changes: &Changes) -> Vec<TaskRow> {
    let here = |tasks: &std::collections::BTreeMap<String, TaskItem>, id: &str| {
        tasks.get(id).is_some_and(|t| t.stage == stage.id())
    };
    let row = |what, id: &str, title: &str, why: Vec<ValueChange>| TaskRow {
        signed: signature(old, new, id),
        id: id.to_owned(),
        title: title.to_owned(),
        what,
        why,
    };
    let named = |what| move |n: &Named| row(what, &n.id, &n.name, Vec::new());
    let anew = |c: &Changed| row("do again", &c.id, &c.name, c.values.iter().cloned().map(super::readable).collect());
    // Longer or shorter work alone is nothing to do again.
    let other_work = |c: &&Changed| c.values.iter().any(|v| v.name != "time");
    let again = changes.tasks.changed.iter().filter(|c| here(&new.tasks, &c.id)).filter(other_work).map(anew);
    let added = changes.tasks.added.iter().filter(|n| here(&new.tasks, &n.id)).map(named("new"));
    let removed = changes.tasks.removed.iter().filter(|n| here(&old.tasks, &n.id)).map(named("gone"));
    again.chain(added).chain(removed).collect()
}

fn signature(old: &Snapshot, new: &Snapshot, what: &str) -> String {
    new.signed.get(what).or_else(|| old.signed.get(what)).cloned().unwrap_or_default()
}

fn value(item: &Item, name: &str) -> String {
    item.values.get(name).map_or_else(String::new, |v| v.shown.clone())
}

/// From, with the way.
fn start(item: &Item) -> String {
    match value(item, "way").as_str() {
        "" => value(item, "from"),
        way => format!("{}, way {way}", value(item, "from")),
    }
}

/// Wires to pull again or for the first time, to cut anew, to take out.
pub(super) fn wires(old: &Snapshot, new: &Snapshot, changes: &Changes) -> Vec<Wire> {
    let wire = |what, label: &str, item: &Item, conductor: String, cut: String| Wire {
        label: label.to_owned(),
        what,
        conductor,
        cut,
        from: start(item),
        to: value(item, "to"),
    };
    let whole = |what, label: &str, item: &Item| wire(what, label, item, value(item, "conductor"), value(item, "cut"));
    let mut wires = Vec::new();
    for c in &changes.circuits.changed {
        let Some(item) = new.circuits.get(&c.id) else { continue };
        let differing: Vec<&ValueChange> = c.values.iter().filter(|v| PULLED.contains(&v.name.as_str())).collect();
        if differing.is_empty() {
            continue;
        }
        // The same wire, only shorter, can stay and be cut; anything else needs another.
        let only_length = differing.iter().all(|v| ["run", "cut"].contains(&v.name.as_str()));
        let what = if only_length { "check the length, pull again where it is short" } else { "pull again" };
        let told = |name: &str| match differing.iter().find(|v| v.name == name) {
            Some(v) => format!("{} → {}", v.was, v.is),
            None => value(item, name),
        };
        wires.push(wire(what, &c.id, item, told("conductor"), told("cut")));
    }
    for n in &changes.circuits.added {
        wires.extend(new.circuits.get(&n.id).map(|item| whole("pull", &n.id, item)));
    }
    for n in &changes.circuits.removed {
        wires.extend(old.circuits.get(&n.id).map(|item| whole("take out", &n.id, item)));
    }
    wires
}

/// Labels of circuits whose label says something else now.
pub(super) fn labels(new: &Snapshot, changes: &Changes) -> Vec<Label> {
    let told = |c: &&Changed| c.was != c.id || c.values.iter().any(|v| LABELLED.contains(&v.name.as_str()));
    let reworded = changes.circuits.changed.iter().filter(told).map(|c| &c.id);
    let added = changes.circuits.added.iter().map(|n| &n.id);
    let heads: Vec<&str> = changes.renamed.iter().map(|(_, is)| is.as_str()).collect();
    let of_renamed = |id: &&String| heads.contains(&id.split('.').next().unwrap_or(id.as_str()));
    let mut ids: Vec<&String> = reworded.chain(added).chain(new.circuits.keys().filter(of_renamed)).collect();
    ids.sort();
    ids.dedup();
    let label = |id: &String| {
        let item = new.circuits.get(id)?;
        Some(Label { text: id.clone(), from: start(item), to: value(item, "to") })
    };
    ids.into_iter().filter_map(label).collect()
}
