//! Change notice between two revisions: what changed, what follows from it, what to do again, what to print again.

mod causes;
pub mod changes;
mod effects;
mod parts;
pub(crate) mod renames;
mod sheets;
pub mod stale;
mod work;

use super::install_packet::{self, hazards};
use super::shared::{self, existing};
use super::snapshot::Snapshot;
use super::{BuildView, CautionView, Context};
use crate::build::Build;
use crate::kinds::{Network, Stage};
use changes::{Changed, Changes, Difference, Named, ValueChange};
use serde::Serialize;

/// File name, without an ending.
pub const STEM: &str = "change-notice";

/// What the template prints.
#[derive(Clone, Debug, Serialize)]
#[expect(clippy::struct_excessive_bools, reason = "switches of the template, told apart by name alone")]
pub struct View {
    /// Head.
    pub build: BuildView,
    /// Revision it is compared with.
    pub from: String,
    /// Revision now.
    pub to: String,
    /// Nothing differs.
    pub same: bool,
    /// A hidden switch may have moved, and nothing else changed.
    pub unsaid: bool,
    /// Components and places with a new id: (old, new).
    pub renamed: Vec<(String, String)>,
    /// What was changed in the spec: components, then the other sections.
    pub causes: Vec<causes::Cause>,
    /// The most telling consequences, for the first page.
    pub effects: Vec<effects::Effect>,
    /// How many more there are.
    pub effects_more: usize,
    /// Whether what is to be bought may be another.
    pub buying: bool,
    /// What was recorded on the van since.
    pub recorded: Vec<ValueChange>,
    /// Circuits.
    pub circuits: Things,
    /// Figures that changed, limits first.
    pub figures: Vec<effects::FigureRow>,
    /// Figures that changed and are not listed: nothing bounds them.
    pub figures_more: usize,
    /// Figures that came with a new component or went with an old one: (new, taken out).
    pub figures_moved: (usize, usize),
    /// Warnings that came, went or say something else.
    pub findings: Vec<effects::FindingRow>,
    /// What to make safe before finished wiring is opened again.
    pub hazards: Vec<CautionView>,
    /// Defects of existing work, where what is known of them changed.
    pub(crate) defects: Option<existing::Defects>,
    /// Work to do again, by stage.
    pub stages: Vec<work::StageWork>,
    /// Wires to pull again, to shorten or to take out.
    pub wires: Vec<work::Wire>,
    /// Some of them have a conductor of another size.
    pub resized: bool,
    /// Labels to print again.
    pub labels: work::Labels,
    /// Calendar entries.
    pub calendar: sheets::CalendarChanges,
    /// Sheets to print again and to take out.
    pub sheets: sheets::Sheets,
}

/// New and changed things, and those taken out.
#[derive(Clone, Debug, Default, Serialize)]
pub struct Things {
    /// New.
    pub added: Vec<Named>,
    /// Gone.
    pub removed: Vec<Named>,
    /// Changed, one row a value.
    pub changed: Vec<ChangedRow>,
}

/// A value of a thing that changed.
#[derive(Clone, Debug, Serialize)]
pub struct ChangedRow {
    /// Id; "" where the row before has it.
    pub id: String,
    /// Name; "" where the row before has it.
    pub name: String,
    /// The value.
    pub value: ValueChange,
}

/// Names of values as people say them.
fn readable(value: ValueChange) -> ValueChange {
    ValueChange { name: value.name.replace('_', " "), ..value }
}

/// The notice of what leads from `old` to `new`, which is the build of `context`.
#[must_use]
pub fn view(context: &Context<'_>, old: &Snapshot, new: &Snapshot, changes: &Changes) -> View {
    let build = context.build;
    let revision = |s: &Snapshot| s.head.get("revision").map_or_else(String::new, |r| r.shown.clone());
    let work = changes.as_work(old, new);
    let wires = work::wires(old, new, &work);
    let stages = work::stages(build, old, new, &work, &wires);
    let (figures, figures_more) = effects::figures(old, new, changes);
    let findings = effects::findings(old, new, changes);
    let (effects, effects_more) = effects::telling(changes, &figures, &findings);
    View {
        build: BuildView::of(build),
        from: revision(old),
        to: revision(new),
        same: changes.is_empty() && changes.sheets.is_empty(),
        unsaid: changes.unsaid,
        renamed: changes.renamed.iter().chain(&changes.places).cloned().collect(),
        causes: causes::of(build, changes),
        effects,
        effects_more,
        buying: !changes.components.is_empty() || !changes.circuits.is_empty(),
        recorded: changes.recorded.iter().filter(|v| !went(v, changes)).cloned().map(readable).collect(),
        circuits: things(&without_cuts(&changes.circuits)),
        figures,
        figures_more,
        figures_moved: (changes.figures.added.len(), changes.figures.removed.len()),
        defects: existing::defects(context)
            .filter(|d| findings.iter().any(|f| d.rows.iter().any(|r| r.name == f.name))),
        findings,
        hazards: hazards::of_finished_wiring(context, &networks(build, &work, &stages, &wires)),
        stages,
        resized: wires.iter().any(|w| w.resized),
        wires,
        labels: work::labels(old, new, changes),
        calendar: sheets::calendar(old, new, changes),
        sheets: sheets::of(old, new, changes),
    }
}

/// Networks whose finished wiring is touched: those of the wires, and of electrical components with work to do.
fn networks(build: &Build<'_>, changes: &Changes, stages: &[work::StageWork], wires: &[work::Wire]) -> Vec<Network> {
    let circuits = build.circuits.values();
    let tasks: Vec<&str> = stages.iter().flat_map(|s| &s.tasks).map(|t| t.id.as_str()).collect();
    let owns_task = |owner: &str| tasks.iter().any(|t| t.split_once('.').is_some_and(|(head, _)| head == owner));
    let works = parts::of(changes);
    let is_opened = |end: &str| works.iter().any(|w| w.part.id == end);
    let touched = circuits.filter(|c| {
        wires.iter().any(|w| w.label == c.id) || owns_task(&c.owner) || is_opened(&c.from) || is_opened(&c.to)
    });
    let mut networks: Vec<Network> = touched.map(|c| c.network).collect();
    // Of a circuit that went nothing is known but that it is wired.
    if networks.is_empty() && !changes.circuits.removed.is_empty() {
        networks.push(Network::Dc);
    }
    networks
}

/// Whether a record went with the component it is of.
fn went(record: &ValueChange, changes: &Changes) -> bool {
    let head = record.name.split('.').next().unwrap_or_default();
    record.is.is_empty() && changes.components.removed.iter().any(|part| part.id == head)
}

/// Circuits without their pieces of cable, which the table of wires has.
fn without_cuts(circuits: &Difference) -> Difference {
    let mut circuits = circuits.clone();
    circuits.changed.iter_mut().for_each(|c| c.values.retain(|v| v.name != "cut"));
    circuits
}

fn things(difference: &Difference) -> Things {
    let rows = |c: &Changed| {
        let head = |at: usize, text: &str| if at == 0 { text.to_owned() } else { String::new() };
        let row = |(at, value): (usize, &ValueChange)| ChangedRow {
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

/// Title of the stage whose packet a sheet is.
fn stage_of(build: &Build<'_>, sheet: &str) -> Option<(Stage, String)> {
    let named = sheet.strip_prefix(install_packet::STEM)?.strip_prefix('-')?;
    let stage = Stage::ALL.iter().copied().find(|s| named.ends_with(s.id()))?;
    Some((stage, shared::stage_title(build, stage)))
}
