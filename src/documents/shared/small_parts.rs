//! What ends and holds the conductors that this job cuts: lugs, ferrules, sleeves, fuse holders, collecting bars, channels,
//! sheaths; and the small parts that tasks use up.

use super::conductors::{cables, rejoined, wires};
use super::{fuses, protected};
use crate::build::{Part, Purpose, Spot, VEHICLE};
use crate::compute::network::{Bar, ConductorEnd, ConductorFigures, DeviceAt, bars, laid};
use crate::documents::Context;
use crate::kinds::{PostForm, Stage};
use crate::units::{Bound, ConductorSize, Dimension, Metres, print_bound};
use indexmap::IndexMap;
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};

/// What a kind does not tell is bought with the device in hand.
const AT_DEVICE: &str = "lug or ferrule as the device asks";

/// So many of one small part.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(crate) struct SmallPart {
    /// What it is: "ring 8 AWG × M5".
    pub what: String,
    /// How many.
    pub count: usize,
    /// Length together of channels and sheaths, "" of what is counted.
    pub length: String,
}

/// What goes on the ends of conductors of one size.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(crate) struct EndsOfSize {
    /// The size.
    pub size: String,
    /// Lugs and ferrules, then sleeves: "ring M5".
    pub parts: Vec<SmallPart>,
}

/// All of them.
pub(crate) fn all(context: &Context<'_>) -> Vec<SmallPart> {
    let with_size = |(size, parts): (ConductorSize, Vec<SmallPart>)| {
        parts.into_iter().map(move |part| SmallPart { what: format!("{} for {size}", part.what), ..part })
    };
    let of_ends = of_ends(context).into_iter().flat_map(with_size).chain(at_ends(context));
    of_ends.chain(of_routes(context)).chain(taken(context, None)).collect()
}

/// What a packet puts on the ends of conductors, thick before thin.
pub(crate) fn by_size(context: &Context<'_>, stage: Stage) -> Vec<EndsOfSize> {
    if stage != Stage::ElectricalFitOff {
        return Vec::new();
    }
    let row = |(size, parts): (ConductorSize, Vec<SmallPart>)| EndsOfSize { size: size.to_string(), parts };
    of_ends(context).into_iter().map(row).collect()
}

/// What a packet takes to the van beside [`by_size`].
pub(crate) fn of_stage(context: &Context<'_>, stage: Stage) -> Vec<SmallPart> {
    let of_wiring = match stage {
        Stage::ElectricalRoughIn => of_routes(context),
        Stage::ElectricalFitOff => at_ends(context),
        _ => Vec::new(),
    };
    of_wiring.into_iter().chain(taken(context, Some(stage))).collect()
}

/// What conductors are drawn into.
fn of_routes(context: &Context<'_>) -> Vec<SmallPart> {
    channels(context).into_iter().chain(sheaths(context)).collect()
}

/// What tasks use up, of one stage or of all.
fn taken(context: &Context<'_>, stage: Option<Stage>) -> Vec<SmallPart> {
    let build = context.build;
    let mut counts: IndexMap<&str, usize> = IndexMap::new();
    for task in build.tasks.values().filter(|task| stage.is_none_or(|stage| task.stage == stage)) {
        let part = task.part.as_ref().and_then(|id| build.parts.get(id));
        let Some((template, part)) = task.template.zip(part) else { continue };
        for taken in template.takes_of(part.record) {
            let parts = usize::try_from(part.count).unwrap_or(1);
            let counted = taken.per.map_or(1, |per| build.tally(part, per));
            let many = taken.many(part.record).saturating_mul(counted).saturating_mul(parts);
            if many > 0 {
                *counts.entry(&taken.what).or_default() += many;
            }
        }
    }
    counts.into_iter().map(|(what, count)| SmallPart { what: what.to_owned(), count, length: String::new() }).collect()
}

/// Sheaths over single conductors that the spec has in one all the way, by size.
fn sheaths(context: &Context<'_>) -> Vec<SmallPart> {
    let system = context.build.prints();
    let mut all: IndexMap<String, (usize, f64)> = IndexMap::new();
    for cable in cables(context).iter().filter(|cable| cable.wires.len() == 1) {
        let (conductor, _) = cable.wires[0];
        let circuit = conductor.circuit.as_ref().and_then(|id| context.build.circuits.get(id));
        let is_sheathed = circuit.is_some_and(|c| c.sheathed) && conductor.purpose == Purpose::Circuit;
        let Some(length) = laid(context.build, conductor).filter(|_| is_sheathed && !conductor.confidential) else {
            continue;
        };
        let entry = all.entry(format!("sheath over one conductor of {}", cable.size)).or_default();
        entry.0 += 1;
        entry.1 += length.0;
    }
    all.into_iter()
        .map(|(what, (count, length))| SmallPart { what, count, length: Metres(length).show(system) })
        .collect()
}

/// How many of each: lugs before sleeves.
type Counts = BTreeMap<(bool, String), usize>;

/// Lugs and ferrules of each size, thick before thin, and the sleeves over them.
fn of_ends(context: &Context<'_>) -> Vec<(ConductorSize, Vec<SmallPart>)> {
    let mut sizes: IndexMap<String, (ConductorSize, Counts)> = IndexMap::new();
    let mut count = |size: ConductorSize, is_sleeve: bool, what: String| {
        let (_, parts) = sizes.entry(size.to_string()).or_insert_with(|| (size, Counts::new()));
        *parts.entry((is_sleeve, what)).or_default() += 1;
    };
    let mut blades: BTreeSet<Spot<'_>> = BTreeSet::new();
    for (conductor, figures) in wires(context).filter(|(c, _)| c.is_cut()) {
        for (landing, end) in conductor.ends().into_iter().zip(&figures.ends) {
            // One short lead with its receptacle for all that come to a blade.
            let Some(lead) = end.lead().filter(|_| blades.insert(landing.spot())) else { continue };
            count(lead, false, format!("{} on a short lead", PostForm::PushOn.word()));
        }
    }
    let holder = |figures: &'_ ConductorFigures| figures.holder.iter().flat_map(|h| h.ends.clone()).collect::<Vec<_>>();
    // All that come to one tail are one joint with it.
    let mut joints: BTreeSet<Spot<'_>> = BTreeSet::new();
    let mut own: Vec<ConductorEnd> = Vec::new();
    for (conductor, figures) in wires(context).filter(|(c, _)| c.is_cut()) {
        for (landing, end) in conductor.ends().into_iter().zip(&figures.ends) {
            let is_joint = end.form == Some(PostForm::Splice) && landing.part != VEHICLE;
            if !is_joint || joints.insert(landing.spot()) {
                own.push(end.clone());
            }
        }
        own.extend(holder(figures));
    }
    // Of a cable that stays the end on what is new, and the holder that is cut into it there.
    let fused: BTreeSet<&str> = protected(context).map(|(circuit, _)| circuit.id.as_str()).collect();
    let anew = rejoined(context).flat_map(|((conductor, figures), at)| {
        let is_fused = conductor.circuit.as_deref().is_some_and(|id| fused.contains(id));
        std::iter::once(figures.ends[at].clone()).chain(if is_fused { holder(figures) } else { Vec::new() })
    });
    for end in own.into_iter().chain(anew) {
        let Some(size) = end.size else { continue };
        count(size, false, named(&end));
        if is_crimped(&end) {
            count(size, true, "heat-shrink sleeve".to_owned());
        }
    }
    sizes.sort_by(|_, (a, _), _, (b, _)| b.area().0.total_cmp(&a.area().0));
    let part = |((_, what), count)| SmallPart { what, count, length: String::new() };
    sizes.into_values().map(|(size, parts)| (size, parts.into_iter().map(part).collect())).collect()
}

/// What stands at ends beside lugs: holders and bars.
fn at_ends(context: &Context<'_>) -> Vec<SmallPart> {
    holders(context).into_iter().chain(collecting_bars(context)).collect()
}

/// What goes on an end. A splice joins two conductors: the other is the device's own.
fn named(end: &ConductorEnd) -> String {
    match (end.lead(), end.form) {
        (Some(_), _) => PostForm::Splice.word().to_owned(),
        (None, Some(_)) => end.form_of_lug(),
        (None, None) => AT_DEVICE.to_owned(),
    }
}

/// Whether a barrel is crimped on that a sleeve closes against water and pull.
fn is_crimped(end: &ConductorEnd) -> bool {
    matches!(end.form, Some(PostForm::Ring | PostForm::PushOn | PostForm::Splice))
}

/// Holders of fuses that stand in the line, of circuits and of leads: by rating too, since a family has holders of several
/// sizes.
fn holders(context: &Context<'_>) -> Vec<SmallPart> {
    let in_line = protected(context).filter(|(_, f)| f.device.at == DeviceAt::InLine);
    let of_circuits = in_line.map(|(_, f)| f.device.show());
    let of_leads = wires(context).filter_map(|(c, _)| fuses::of_lead(context, c));
    let mut counts: IndexMap<String, usize> = IndexMap::new();
    for device in of_circuits.chain(of_leads) {
        *counts.entry(format!("in-line holder for a {}", device.replace(" in-line", ""))).or_default() += 1;
    }
    counts.into_iter().map(|(what, count)| SmallPart { what, count, length: String::new() }).collect()
}

/// Bars that collect the batteries of a bank, with how many studs each has, how long these make it and what it carries.
fn collecting_bars(context: &Context<'_>) -> Vec<SmallPart> {
    let build = context.build;
    let system = build.prints();
    let row = |bar: Bar<'_>| {
        let batteries = context.electrical.banks.get(bar.part).and_then(|bank| bank.batteries.as_ref());
        let carries = batteries.map_or_else(String::new, |b| format!(", for {}", b.design.show(system)));
        let long = bar.length.map_or_else(String::new, |l| {
            format!(", at least {} long", print_bound(Dimension::Length, l.0, system, Bound::Least))
        });
        let thread = if bar.thread.is_empty() { String::new() } else { format!("{} ", bar.thread) };
        let (words, studs) = (bar.words, bar.studs);
        let what =
            format!("{words}, of {}: {studs} {thread}studs{long}{carries}, with its cover", build.name(bar.part));
        SmallPart { what, count: 1, length: String::new() }
    };
    let of_job = |bar: &Bar<'_>| !bar.words.is_empty() && build.parts.get(bar.part).is_some_and(Part::is_worked_on);
    bars(build, &context.electrical).into_iter().filter(of_job).map(row).collect()
}

/// Conduit and duct by form and inside, as long as their points are apart.
fn channels(context: &Context<'_>) -> Vec<SmallPart> {
    let system = context.build.prints();
    let mut all: IndexMap<String, (usize, f64)> = IndexMap::new();
    for channel in context.build.channels.values() {
        let inside = channel.inside.show(system).map(|inside| format!(", {inside} inside")).unwrap_or_default();
        let what = format!("{}{inside}", channel.form.or_empty());
        let entry = all.entry(what).or_default();
        entry.0 += 1;
        entry.1 += channel.points.length().0;
    }
    let row = |(what, (count, length)): (String, (usize, f64))| SmallPart {
        what,
        count,
        length: Metres(length).show(system),
    };
    all.into_iter().map(row).collect()
}
