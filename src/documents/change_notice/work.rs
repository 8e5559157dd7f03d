//! Work that a change brings: stages and tasks, wires, labels.

use super::changes::{Changed, Changes, Named, ValueChange};
use super::{parts, stage_of};
use crate::build::Build;
use crate::compute::network::is_told;
use crate::documents::label_sheets::STEM as LABELS;
use crate::documents::shared;
use crate::documents::snapshot::{END_NAMES, IDS, Item, Snapshot, TaskItem};
use crate::kinds::Stage;
use serde::Serialize;

/// What to do in a stage.
#[derive(Clone, Debug, Serialize)]
pub struct StageWork {
    /// Its title.
    pub title: String,
    /// Who signed the stage, "" where nobody has.
    pub signed: String,
    /// Later stages that are signed and may cover this work: "Furniture (A. Person, 2027-04-09)".
    pub later: Vec<String>,
    /// Work on whole components, and tasks that are new, changed or fall away.
    pub tasks: Vec<TaskRow>,
    /// Its packet is to be printed again.
    pub packet: bool,
}

/// A task.
#[derive(Clone, Debug, Serialize)]
pub struct TaskRow {
    /// Id.
    pub id: String,
    /// Id as it was.
    #[serde(skip)]
    pub was: String,
    /// Title.
    pub title: String,
    /// "new", "do again", "measure again", "no longer", "close", or what to do with a component or a wire.
    pub what: &'static str,
    /// What makes it another.
    pub why: Vec<ValueChange>,
    /// The component that goes elsewhere or is another one, where that alone makes it: "Fridge: moved".
    pub because: String,
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
    /// Whether the conductor is another one.
    #[serde(skip)]
    pub resized: bool,
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
    /// Id of the circuit or component that it is for.
    pub id: String,
    /// What it said, "" where it is new.
    pub was: String,
    /// What it says, "" where it goes.
    pub is: String,
}

/// Labels to print again or to take off.
#[derive(Clone, Debug, Default, Serialize)]
pub struct Labels {
    /// Flags of wires, two a circuit.
    pub flags: Vec<Label>,
    /// Labels of equipment.
    pub plates: Vec<Label>,
    /// Panel stickers and faces, by their titles.
    pub panels: Vec<String>,
    /// How many are to be printed: circuits, equipment and panels.
    pub to_print: usize,
}

/// Values of a circuit that a cable already pulled cannot follow.
///
/// The cut is the last one: where a task tells why, it stands beside the task, in the table of wires.
const PULLED: [&str; 8] = ["from", "to", "run", "conductor", "colours", "route", "sheath", "cut"];

/// Stages with tasks or a packet that changed, in the order of work.
pub(super) fn stages(
    build: &Build<'_>,
    old: &Snapshot,
    new: &Snapshot,
    changes: &Changes,
    wires: &[Wire],
) -> Vec<StageWork> {
    let all = || changes.sheets.changed.iter().map(|c| &c.id).chain(changes.sheets.added.iter().map(|n| &n.id));
    let of = |stage: Stage| {
        let packet = all().any(|sheet| stage_of(build, sheet).is_some_and(|(s, _)| s == stage));
        let mut tasks = wiring(stage, old, new, changes, wires);
        tasks.extend(self::tasks(stage, old, new, changes));
        (packet || !tasks.is_empty()).then(|| StageWork {
            title: shared::stage_title(build, stage),
            signed: signature(old, new, stage.id(), stage.id()),
            later: later(build, old, new, stage),
            tasks,
            packet,
        })
    };
    Stage::ALL.iter().copied().filter_map(of).collect()
}

/// Rows of a stage with work to do again, new or undone.
pub(super) fn rows(
    stage: Stage,
    old: &Snapshot,
    new: &Snapshot,
    changes: &Changes,
    wires: &[Wire],
) -> impl Iterator<Item = TaskRow> {
    wiring(stage, old, new, changes, wires).into_iter().chain(tasks(stage, old, new, changes))
}

/// Circuits whose ends and devices are worked on, and that are tested again: ids as they were and as they are.
pub(super) fn touched_circuits<'c>(
    old: &'c Snapshot,
    new: &'c Snapshot,
    changes: &'c Changes,
) -> Vec<(&'c str, &'c str)> {
    let ended = |c: &&Changed| c.values.iter().any(|v| ENDED.contains(&v.name.as_str()));
    let added = changes.circuits.added.iter().map(|n| (n.id.as_str(), n.id.as_str()));
    let other = changes.circuits.changed.iter().filter(ended).map(|c| (c.was.as_str(), c.id.as_str()));
    let mut all: Vec<_> = other.chain(added).collect();
    for circuit in parts::reopened(old, new, changes) {
        if all.iter().all(|(_, is)| *is != circuit.1) {
            all.push(circuit);
        }
    }
    all.sort_by_key(|(_, is)| *is);
    all
}

/// Later stages of building that are signed.
fn later(build: &Build<'_>, old: &Snapshot, new: &Snapshot, stage: Stage) -> Vec<String> {
    let after = Stage::ALL.iter().copied().skip_while(|s| *s != stage).skip(1);
    let covering = after.filter(|s| !matches!(s, Stage::Commissioning | Stage::Handover));
    let signed = covering.map(|s| (shared::stage_title(build, s), signature(old, new, s.id(), s.id())));
    signed.filter(|(_, by)| !by.is_empty()).map(|(title, by)| format!("{title} ({by})")).collect()
}

fn tasks(stage: Stage, old: &Snapshot, new: &Snapshot, changes: &Changes) -> Vec<TaskRow> {
    let here = |tasks: &std::collections::BTreeMap<String, TaskItem>, id: &str| {
        tasks.get(id).is_some_and(|t| t.stage == stage.id())
    };
    let row = |what, was: &str, id: &str, title: &str, why: Vec<ValueChange>| TaskRow {
        signed: signature(old, new, was, id),
        was: was.to_owned(),
        id: id.to_owned(),
        title: title.to_owned(),
        what,
        why,
        because: String::new(),
    };
    let named = |what| move |n: &Named| row(what, &n.id, &n.id, &n.name, Vec::new());
    let measured = |c: &Changed| c.values.iter().all(|v| MEASURED.contains(&v.name.as_str()));
    let what = |c: &Changed| if measured(c) { "measure again" } else { "do again" };
    let why = |c: &Changed| c.values.iter().cloned().map(super::readable).collect();
    let anew = |c: &Changed| row(what(c), &c.was, &c.id, &c.name, why(c));
    // Longer or shorter work alone is nothing to do again.
    let other_work = |c: &&Changed| c.values.iter().any(|v| v.name != "time");
    let again: Vec<&Changed> =
        changes.tasks.changed.iter().filter(|c| here(&new.tasks, &c.id)).filter(other_work).collect();
    let mut rows = Vec::new();
    for work in parts::of(changes).iter().filter(|_| parts::builds(stage)) {
        let of_part = |id: &str| head(id) == work.part.id;
        let stays = |(id, _): &(&String, &TaskItem)| of_part(id) && here(&new.tasks, id) && here(&old.tasks, id);
        let known = |id: &str| again.iter().any(|c| c.id == id);
        let kept = new.tasks.iter().filter(stays).filter(|(id, _)| !known(id));
        let also = kept.map(|(id, task)| TaskRow {
            because: work.because(),
            ..row("do again", id, id, &task.item.name, Vec::new())
        });
        let also: Vec<TaskRow> = also.collect();
        if fitted_in(new, &work.part.id) == Some(stage) {
            rows.push(row(work.what, &work.part.was, &work.part.id, &work.title, work.why.clone()));
        }
        if work.what == "move" && cut_in(old, &work.part.was, stage) {
            rows.push(row("close", &work.part.was, &work.part.id, &old_opening(&work.part.name_was), Vec::new()));
        }
        rows.extend(also);
    }
    let removed = |n: &&Named| here(&old.tasks, &n.id);
    for part in &changes.components.removed {
        if fitted_in(old, &part.id) == Some(stage) {
            let signed = changes.tasks.removed.iter().filter(|n| head(&n.id) == part.id);
            let by = signed.map(|n| signature(old, new, &n.id, &n.id)).find(|by| !by.is_empty()).unwrap_or_default();
            rows.push(TaskRow { signed: by, ..row("take out", &part.id, &part.id, &part.name, Vec::new()) });
        }
        if cut_in(old, &part.id, stage) {
            rows.push(row("close", &part.id, &part.id, &old_opening(&part.name), Vec::new()));
        }
    }
    rows.extend(again.into_iter().map(anew));
    rows.extend(changes.tasks.added.iter().filter(|n| here(&new.tasks, &n.id)).map(named("new")));
    let whole = |n: &&Named| changes.components.removed.iter().any(|part| part.id == head(&n.id));
    rows.extend(changes.tasks.removed.iter().filter(removed).filter(|n| !whole(n)).map(named("no longer")));
    rows
}

/// The component that a task belongs to, or its own id.
fn head(task: &str) -> &str {
    task.split_once('.').map_or(task, |(head, _)| head)
}

/// The stage that fits a component, which is the last one of building with a task of it: there it is moved, replaced or
/// taken out, once. What is only tested or shown is fitted nowhere.
fn fitted_in(snapshot: &Snapshot, part: &str) -> Option<Stage> {
    let own = snapshot.tasks.iter().filter(|(id, _)| head(id) == part);
    let stages = own.filter_map(|(_, task)| Stage::ALL.iter().copied().find(|stage| stage.id() == task.stage));
    stages.filter(|stage| !matches!(stage, Stage::Commissioning | Stage::Handover)).max()
}

/// Whether a stage had cut the skin of the vehicle for a component.
fn cut_in(old: &Snapshot, part: &str, stage: Stage) -> bool {
    old.tasks.iter().any(|(id, task)| head(id) == part && task.cuts_skin && task.stage == stage.id())
}

fn old_opening(name: &str) -> String {
    format!("Opening of {name} at its old place: plate or panel over it, sealed, edges primed")
}

/// Work on circuits, which the packets have in tables: cables in the rough-in, their ends and fuses in the fit-off,
/// tests in commissioning.
fn wiring(stage: Stage, old: &Snapshot, new: &Snapshot, changes: &Changes, wires: &[Wire]) -> Vec<TaskRow> {
    let why = |id: &str, names: &[&str]| {
        let circuit = changes.circuits.changed.iter().find(|c| c.id == id);
        let values = circuit.into_iter().flat_map(|c| &c.values);
        // What the maker alone knows of a lug is in the table of the circuits.
        let makers = |v: &ValueChange| END_NAMES.contains(&v.name.as_str()) && !is_told(&v.is);
        values.filter(|v| names.contains(&v.name.as_str()) && !makers(v)).cloned().collect::<Vec<_>>()
    };
    let row = |what, id: &str, title: String, names: &[&str], signed: String| TaskRow {
        was: id.to_owned(),
        id: id.to_owned(),
        title,
        what,
        why: why(id, names),
        because: String::new(),
        signed,
    };
    let added: Vec<&str> = changes.circuits.added.iter().map(|n| n.id.as_str()).collect();
    let again = |id: &str| if added.contains(&id) { "new" } else { "do again" };
    let touched = touched_circuits(old, new, changes).into_iter();
    let moved = parts::of(changes);
    // An end that is opened because its component goes elsewhere has no value of its own that changed.
    let opened = |mut row: TaskRow| {
        let ends = |end: &str| new.circuits.get(&row.id)?.values.get(end)?.exact().strip_prefix(IDS).map(str::to_owned);
        let ends = [ends("from"), ends("to")];
        if row.why.is_empty() && row.what == "do again" {
            let here = moved.iter().filter(|w| ends.iter().flatten().any(|end| *end == w.part.id));
            row.because = here.map(parts::PartWork::because).collect::<Vec<_>>().join("; ");
        }
        row
    };
    match stage {
        Stage::ElectricalRoughIn => {
            let cable = |w: &Wire| row(w.what, &w.label, format!("Cable {}", w.label), &PULLED[..7], String::new());
            wires.iter().map(cable).collect()
        }
        Stage::ElectricalFitOff => {
            let end = |id| row(again(id), id, format!("Ends and protection of {id}"), &ENDED, String::new());
            touched.map(|(_, id)| opened(end(id))).collect()
        }
        Stage::Commissioning => {
            let tested = |was: &str, id: &str| {
                let test = TESTED.iter().any(|test| {
                    let known = |s: &Snapshot, id: &str| s.recorded.contains_key(&format!("{id}.{test}"));
                    known(old, was) || known(new, id)
                });
                let by = || signature(old, new, stage.id(), stage.id());
                if test { by() } else { String::new() }
            };
            let title = |id: &str| format!("Tests of circuit {id}, dead and live");
            let test = |was: &str, id: &str| TaskRow {
                was: was.to_owned(),
                ..row(again(id), id, title(id), &JUDGED, tested(was, id))
            };
            touched.map(|(was, id)| opened(test(was, id))).collect()
        }
        _ => Vec::new(),
    }
}

/// Values of a circuit after whose change its ends and devices are worked on and tested again.
const ENDED: [&str; 11] = [
    "from",
    "to",
    "way",
    "run",
    "conductor",
    "colours",
    "sheath",
    "protection",
    "protection at",
    END_NAMES[0],
    END_NAMES[1],
];

/// Values that a circuit is tested for, of those after whose change it is tested again.
const JUDGED: [&str; 6] = ["from", "to", "way", "run", "conductor", "protection"];

/// Recorded results of a circuit's tests.
pub(super) use crate::compute::readings::CIRCUIT_TESTS as TESTED;

/// Facts that only tell what to read.
const MEASURED: [&str; 12] = [
    "source",
    "time",
    "drop_most",
    "load_current",
    "fuse_rating",
    "design_current",
    "drop_percent",
    "test_ways",
    "later_ways",
    "test_current",
    "test_drop",
    "largest_load",
];

/// Who signed what was finished at the earlier revision, "" where nobody had, or where it was signed anew since; by
/// what it was and is called.
fn signature(old: &Snapshot, new: &Snapshot, was: &str, is: &str) -> String {
    let Some(by) = old.signed.get(was) else { return String::new() };
    if new.signed.get(is).is_some_and(|now| now != by) { String::new() } else { by.clone() }
}

/// Whether the run of a circuit became shorter.
fn is_shorter(old: &Snapshot, new: &Snapshot, circuit: &Changed) -> bool {
    let run = |s: &Snapshot, id: &str| s.circuits.get(id)?.values.get("run")?.value;
    // What went through a record may have lost its last digit.
    let shorter = |was: f64, is: f64| was - is > 1e-9 * was.abs();
    run(old, &circuit.was).zip(run(new, &circuit.id)).is_some_and(|(was, is)| shorter(was, is))
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
        resized: false,
        cut,
        from: start(item),
        to: value(item, "to"),
    };
    let whole = |what, label: &str, item: &Item| wire(what, label, item, value(item, "conductor"), value(item, "cut"));
    let mut wires = Vec::new();
    // What goes makes room: on the way of a panel, in the loom.
    for n in &changes.circuits.removed {
        wires.extend(old.circuits.get(&n.id).map(|item| whole("take out", &n.id, item)));
    }
    for c in &changes.circuits.changed {
        let Some(item) = new.circuits.get(&c.id) else { continue };
        let differing: Vec<&ValueChange> = c.values.iter().filter(|v| PULLED.contains(&v.name.as_str())).collect();
        if differing.is_empty() {
            continue;
        }
        // The same wire, only shorter, can stay and be cut; anything else needs another.
        let only_length = differing.iter().all(|v| ["run", "cut"].contains(&v.name.as_str()));
        let shorter = only_length && is_shorter(old, new, c);
        let what = if shorter { "leave or shorten" } else { "pull again" };
        let told = |name: &str| match differing.iter().find(|v| v.name == name) {
            Some(v) => format!("{} → {}", v.was, v.is),
            None => value(item, name),
        };
        let resized = differing.iter().any(|v| v.name == "conductor");
        wires.push(Wire { resized, ..wire(what, &c.id, item, told("conductor"), told("cut")) });
    }
    for n in &changes.circuits.added {
        wires.extend(new.circuits.get(&n.id).map(|item| whole("pull", &n.id, item)));
    }
    wires
}

/// Labels that say something else now.
pub(super) fn labels(old: &Snapshot, new: &Snapshot, changes: &Changes) -> Labels {
    let says = |s: &Snapshot, id: &str| s.labels.get(id).map_or_else(String::new, |l| value(l, "text"));
    let all = &changes.labels;
    let pairs = all.changed.iter().map(|c| (c.was.as_str(), c.id.as_str()));
    let pairs = pairs.chain(all.added.iter().map(|n| ("", n.id.as_str())));
    let pairs = pairs.chain(all.removed.iter().map(|n| (n.id.as_str(), "")));
    let of = |tail: &str| {
        let label = |(was, is): (&str, &str)| {
            let id = if is.is_empty() { was } else { is }.strip_suffix(tail)?;
            // The text behind the QR symbol is the plate's last line and no news to a reader.
            let short = |text: String| text.split(" | ").filter(|l| !l.contains('\n')).collect::<Vec<_>>().join(" · ");
            Some(Label { id: id.to_owned(), was: short(says(old, was)), is: short(says(new, is)) })
        };
        let mut labels: Vec<Label> = pairs.clone().filter_map(label).collect();
        labels.sort_by(|a, b| a.id.cmp(&b.id));
        labels
    };
    let (flags, plates) = (of(".flag"), of(".plate"));
    let panels = panels(new, changes);
    let to_print = flags.iter().chain(&plates).filter(|l| !l.is.is_empty()).count() + panels.len();
    Labels { flags, plates, panels, to_print }
}

/// Titles of the panel stickers and faces that were drawn anew.
fn panels(new: &Snapshot, changes: &Changes) -> Vec<String> {
    let Some(sheet) = new.sheets.get(LABELS) else { return Vec::new() };
    let sheets = changes.sheets.changed.iter().find(|c| c.id == LABELS);
    let anew = |file: &str| sheets.is_some_and(|c| c.values.iter().any(|v| v.name == file));
    let panel = |file: &str| PANELS.iter().any(|word| file.contains(word));
    let drawings = sheet.drawings.iter().filter(|(file, _)| panel(file) && anew(file));
    drawings.map(|(_, drawing)| drawing.title.clone()).collect()
}

/// What the drawings of panels are called on them.
const PANELS: [&str; 2] = ["/fuse-sticker", "/switch-panel"];
