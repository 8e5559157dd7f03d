//! Change notice between two revisions: what changed, what follows from it, what to do again, what to print again.

pub mod changes;
pub mod renames;
mod work;

use super::snapshot::Snapshot;
use super::{BuildView, shared};
use crate::build::Build;
use crate::kinds::Stage;
use changes::{Changed, Changes, Difference, Named, ValueChange};
use serde::Serialize;

/// What the template prints.
#[derive(Clone, Debug, Serialize)]
pub struct View {
    /// Head.
    pub build: BuildView,
    /// Revision it is compared with.
    pub from: String,
    /// Revision now.
    pub to: String,
    /// Nothing differs.
    pub same: bool,
    /// Components with a new id: (old, new).
    pub renamed: Vec<(String, String)>,
    /// What was asked for: fields of sections that changed.
    pub settings: Vec<ValueChange>,
    /// Components.
    pub components: Things,
    /// What was recorded on the van since.
    pub recorded: Vec<ValueChange>,
    /// Circuits.
    pub circuits: Things,
    /// Figures that changed, limits first.
    pub figures: Vec<FigureRow>,
    /// Figures that came with a new component or went with an old one: (new, gone).
    pub figures_moved: (usize, usize),
    /// Work to do again, by stage.
    pub stages: Vec<work::StageWork>,
    /// Wires to pull again, to shorten or to take out.
    pub wires: Vec<work::Wire>,
    /// Labels to print again.
    pub labels: Vec<work::Label>,
    /// Calendar entries.
    pub upkeep: Things,
    /// Sheets to print again and to take out.
    pub sheets: Sheets,
}

/// New, gone and changed things.
#[derive(Clone, Debug, Default, Serialize)]
pub struct Things {
    /// New.
    pub added: Vec<Named>,
    /// Gone.
    pub removed: Vec<Named>,
    /// Changed, one row a value.
    pub changed: Vec<Row>,
}

/// A value of a thing that changed.
#[derive(Clone, Debug, Serialize)]
pub struct Row {
    /// Id; "" where the row before has it.
    pub id: String,
    /// Name; "" where the row before has it.
    pub name: String,
    /// The value.
    pub value: ValueChange,
}

/// A figure that changed.
#[derive(Clone, Debug, Serialize)]
pub struct FigureRow {
    /// What it is about.
    pub subject: String,
    /// What it is.
    pub name: String,
    /// As it was.
    pub was: String,
    /// As it is.
    pub is: String,
    /// What it is held to.
    pub limit: String,
    /// "kept", "over the limit now", "within the limit again", or "".
    pub verdict: &'static str,
}

/// Sheets.
#[derive(Clone, Debug, Default, Serialize)]
pub struct Sheets {
    /// To print and put in place of the old ones.
    pub reprint: Vec<Named>,
    /// New ones.
    pub added: Vec<Named>,
    /// To take out.
    pub remove: Vec<Named>,
    /// Of those to print or take out, sections of the handover binder.
    pub binder: Vec<Named>,
}

/// Names of values as people say them.
fn readable(value: ValueChange) -> ValueChange {
    ValueChange { name: value.name.replace('_', " "), ..value }
}

/// The notice of what leads from `old` to `new`, which is `build`.
#[must_use]
pub fn view(build: &Build<'_>, old: &Snapshot, new: &Snapshot, changes: &Changes) -> View {
    let revision = |s: &Snapshot| s.head.get("revision").map_or_else(String::new, |r| r.shown.clone());
    let head = changes.head.iter().filter(|c| c.name != "revision").cloned();
    let settings = head.chain(changes.settings.iter().cloned()).map(readable).collect();
    View {
        build: BuildView::of(build),
        from: revision(old),
        to: revision(new),
        same: changes.is_empty(),
        renamed: changes.renamed.clone(),
        settings,
        components: things(&changes.components),
        recorded: changes.recorded.iter().cloned().map(readable).collect(),
        circuits: things(&changes.circuits),
        figures: figures(old, new, changes),
        figures_moved: (changes.figures.added.len(), changes.figures.removed.len()),
        stages: work::stages(build, old, new, changes),
        wires: work::wires(old, new, changes),
        labels: work::labels(new, changes),
        upkeep: things(&changes.upkeep),
        sheets: sheets(changes),
    }
}

fn things(difference: &Difference) -> Things {
    let rows = |c: &Changed| {
        let head = |at: usize, text: &str| if at == 0 { text.to_owned() } else { String::new() };
        let row = |(at, value): (usize, &ValueChange)| Row {
            id: head(at, &c.id),
            name: head(at, &c.name),
            value: readable(value.clone()),
        };
        c.values.iter().enumerate().map(row).collect::<Vec<_>>()
    };
    Things {
        added: difference.added.clone(),
        removed: difference.removed.clone(),
        changed: difference.changed.iter().flat_map(rows).collect(),
    }
}

fn figures(old: &Snapshot, new: &Snapshot, changes: &Changes) -> Vec<FigureRow> {
    let row = |c: &Changed| {
        let (was, is) = (old.figures.get(&c.was)?, new.figures.get(&c.id)?);
        let verdict = match (was.kept, is.kept, is.limit.is_empty()) {
            (true, false, _) => "over the limit now",
            (false, true, _) => "within the limit again",
            (false, false, _) => "over the limit still",
            (true, true, false) => "kept",
            (true, true, true) => "",
        };
        Some(FigureRow {
            subject: subject(new, &is.subject),
            name: is.name.clone(),
            was: was.value.shown.clone(),
            is: is.value.shown.clone(),
            limit: is.limit.clone(),
            verdict,
        })
    };
    let mut rows: Vec<_> = changes.figures.changed.iter().filter_map(row).collect();
    let rank = |r: &FigureRow| match r.verdict {
        "over the limit now" | "over the limit still" => 0,
        "within the limit again" => 1,
        "kept" => 2,
        _ => 3,
    };
    rows.sort_by_key(rank);
    rows
}

/// Name of what a figure is about: a circuit or component, else the word itself.
fn subject(snapshot: &Snapshot, id: &str) -> String {
    let part = id.split('.').next().unwrap_or(id);
    snapshot.components.get(part).map_or_else(|| id.replace('-', " "), |item| item.name.clone())
}

fn sheets(changes: &Changes) -> Sheets {
    let reprint: Vec<_> =
        changes.sheets.changed.iter().map(|c| Named { id: c.id.clone(), name: c.name.clone() }).collect();
    // Packets stay in the shop and the calculation sheet in the file; all others are bound.
    let bound = |n: &&Named| !n.id.starts_with("packet-") && n.id != "calculation-sheet" && n.id != "labels";
    let (added, remove) = (changes.sheets.added.clone(), changes.sheets.removed.clone());
    let binder = reprint.iter().chain(&added).chain(&remove).filter(bound).cloned().collect();
    Sheets { reprint, added, remove, binder }
}

/// Title of the stage whose packet a sheet is.
fn stage_of(build: &Build<'_>, sheet: &str) -> Option<(Stage, String)> {
    let stage = Stage::ALL.iter().copied().find(|s| sheet.starts_with("packet-") && sheet.ends_with(s.id()))?;
    Some((stage, shared::stage_title(build, stage)))
}
