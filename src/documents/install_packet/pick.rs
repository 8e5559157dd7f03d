//! What goes to the van: components, tools, openings; and what must be finished before.

use super::circuit_tests::{TEST_LOAD, Tests};
use crate::build::{Part, Task};
use crate::documents::Context;
use crate::documents::shared::{is_skipped, part_number, place_in_packet, serial, signed, stage_title};
use crate::kinds::{Role, Stage, TaskTemplate};
use crate::units::in_words;
use indexmap::IndexMap;
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};

/// An earlier stage of this build.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct EarlierStage {
    /// Title.
    pub title: String,
    /// Who signed it, "" where nobody has.
    pub signed: String,
}

/// What of the pick list stands at one place.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct AtPlace {
    /// The place, as on the plan of the packet; of a component in several, all of them.
    pub place: String,
    /// Its components.
    pub components: Vec<Component>,
}

/// A row of the pick list.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Component {
    /// How many.
    pub quantity: i64,
    /// Name.
    pub name: String,
    /// Id.
    pub id: String,
    /// Supplier and part number.
    pub part: String,
    /// Recorded serial, "" where none is.
    pub serial: String,
    /// Handover asks for it.
    pub serial_expected: bool,
}

/// An opening to cut.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct CutOutRow {
    /// Component.
    pub component: String,
    /// Its id.
    pub id: String,
    /// Which opening, Markdown.
    pub what: String,
    /// Size, Markdown.
    pub size: String,
}

fn tasks_of<'c>(context: &'c Context<'_>, stage: Stage) -> impl Iterator<Item = &'c Task<'c>> {
    context.build.tasks.values().filter(move |t| t.stage == stage)
}

/// What a stage does to circuits beside its tasks.
pub(super) struct Work<'a> {
    /// It terminates conductors.
    pub terminates: bool,
    /// What it tests.
    pub tests: Option<&'a Tests>,
    /// It cuts links, and proves them dead before they are joined.
    pub links: bool,
    /// It pulls at samples of its crimps.
    pub pulls: bool,
}

/// Earlier stages that have work in this build.
pub(super) fn before(context: &Context<'_>, stage: Stage) -> Vec<EarlierStage> {
    let build = context.build;
    let wires = |s: Stage| s == Stage::ElectricalRoughIn || s == Stage::ElectricalFitOff;
    let busy = |s: &Stage| build.tasks.values().any(|t| t.stage == *s) || (wires(*s) && build.has_wiring_work());
    let earlier = Stage::ALL.iter().copied().filter(|s| *s < stage && !is_skipped(build, *s)).filter(busy);
    let view = |s: Stage| EarlierStage { title: stage_title(build, s), signed: signed(build, s.id()) };
    earlier.map(view).collect()
}

/// Whether components come from the store in `stage`.
pub(super) const fn picks(stage: Stage) -> bool {
    !matches!(stage, Stage::Commissioning | Stage::Handover)
}

/// The pick list, place by place in the order of the build.
pub(super) fn components(context: &Context<'_>, stage: Stage) -> Vec<AtPlace> {
    let build = context.build;
    let mut wanted: BTreeSet<&str> = tasks_of(context, stage).filter_map(|t| t.part.as_deref()).collect();
    if stage == Stage::ElectricalFitOff {
        // The fuse or panel at an end of a circuit is fitted here even where its kind brings no task of its own.
        let fitted = |id: &str| {
            let part = build.parts.get(id).filter(|p| p.is_worked_on());
            part.and_then(Part::role).is_some_and(|r| r.passes_through() || r == Role::Bank)
        };
        let ends =
            build.circuits.values().filter(|c| build.is_worked_on(c)).flat_map(|c| [c.from.as_str(), c.to.as_str()]);
        wanted.extend(ends.filter(|id| fitted(id)));
    }
    // Where nothing is picked any more, the list serves to record the serial numbers that handover asks for.
    let listed = |p: &&Part<'_>| picks(stage) || p.carries_serial();
    // What stays is in the van already.
    let parts = build.parts.values().filter(|p| wanted.contains(p.id.as_str()) && p.is_worked_on()).filter(listed);
    let row = |p: &Part<'_>| Component {
        quantity: p.count,
        name: p.name.clone(),
        id: p.id.clone(),
        part: part_number(p),
        serial: serial(build, &p.id),
        serial_expected: p.carries_serial(),
    };
    // The names of the numbers that lists and tasks tell.
    let place = |part: &Part<'_>| {
        let number = context.number_of(stage, part);
        let name = place_in_packet(context, part);
        number.map_or_else(|| name.clone(), |number| format!("{number}: {name}"))
    };
    let mut places: IndexMap<String, Vec<Component>> = IndexMap::new();
    for part in parts {
        places.entry(place(part)).or_default().push(row(part));
    }
    places.into_iter().map(|(place, components)| AtPlace { place, components }).collect()
}

/// What dead tests are taken with; the ends are bared for them.
const DEAD_TESTS: [&str; 4] = ["insulation tester", "low-ohm meter", "multimeter", "wire stripper"];

/// What live tests are taken with.
const LIVE_TESTS: [&str; 2] = ["clamp meter for DC", "multimeter"];

pub(super) fn tools(context: &Context<'_>, stage: Stage, work: &Work<'_>) -> Vec<[String; 5]> {
    let mut generic: Vec<&str> = match stage {
        Stage::ElectricalRoughIn => vec!["cable cutter", "fish tape", "label printer", "tape measure"],
        Stage::ElectricalFitOff => vec!["label printer"],
        _ => Vec::new(),
    };
    if work.terminates {
        generic.extend(["crimper for the lugs in use", "torque wrench", "wire stripper"]);
    }
    if work.links {
        generic.extend(["cable cutter", "tape measure"].iter().chain(&DEAD_TESTS));
    }
    if work.pulls {
        generic.push("spring balance");
    }
    if let Some(tests) = work.tests {
        generic.extend(DEAD_TESTS.iter().filter(|_| !tests.dead.is_empty()));
        generic.extend(LIVE_TESTS.iter().filter(|_| !(tests.live.is_empty() && tests.heavy.is_empty())));
        generic.extend([TEST_LOAD].iter().filter(|_| tests.heavy.iter().any(|row| row.with == TEST_LOAD)));
        generic.extend(["loop tester"].iter().filter(|_| !tests.loops.is_empty()));
    }
    let wires = context.build.has_wiring_work();
    // Merged without regard to case: two kinds may spell one tool differently.
    let mut merged: BTreeMap<String, String> = BTreeMap::new();
    let mut put = |tool: &str| {
        merged.entry(tool.trim().to_lowercase()).or_insert_with(|| tool.trim().to_owned());
    };
    generic.iter().filter(|_| wires).for_each(|t| put(t));
    for task in tasks_of(context, stage) {
        if let Some(template) = task.template {
            template.tools.iter().for_each(|t| put(&in_words(t, context.build.prints())));
        } else if let Some(record) = context.build.own_tasks.get(&task.id) {
            record.tools.all().iter().for_each(|t| put(&t.value));
        }
    }
    let merged: Vec<String> = merged.into_values().collect();
    let at = |row: &[String], i: usize| row.get(i).cloned().unwrap_or_default();
    merged.chunks(5).map(|row| std::array::from_fn(|i| at(row, i))).collect()
}

/// Whether a task of the stage may cut through the vehicle's skin.
pub(super) fn cuts_skin(context: &Context<'_>, stage: Stage) -> bool {
    tasks_of(context, stage).filter_map(|task| task.template).any(TaskTemplate::cuts_skin)
}

pub(super) fn cut_outs(context: &Context<'_>, stage: Stage) -> Vec<CutOutRow> {
    let mut rows = Vec::new();
    for task in tasks_of(context, stage) {
        let part = task.part.as_ref().and_then(|p| context.build.parts.get(p));
        let Some((template, part)) = task.template.zip(part).filter(|(t, _)| !t.cut_outs.is_empty()) else { continue };
        let facts = context.facts.part(&part.id);
        rows.extend(template.cut_outs_of(part.record).filter(|cut| cut.through.is_none() || part.confidential).map(
            |cut| CutOutRow {
                component: part.name.clone(),
                id: part.id.clone(),
                what: context.text(facts, &cut.what),
                size: context.hole(facts, &cut.size),
            },
        ));
    }
    rows
}
