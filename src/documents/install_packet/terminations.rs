//! Conductors to terminate, end by end: in the electrical fit-off, but for the ends on what a later packet fits.

use crate::build::{Build, Landing};
use crate::compute::directory::{Directory, directories};
use crate::compute::network::{ConductorEnd, DeviceAt, post_words};
use crate::documents::Context;
use crate::documents::shared::conductors::{Run, Wire, body, landing, lug, wires};
use crate::documents::shared::{self, Reader, device_place, fuses, is_skipped, stage_title};
use crate::kinds::Stage;
use crate::units::{Bound, Dimension, print, print_bound};
use indexmap::IndexMap;
use serde::Serialize;
use std::collections::BTreeMap;

/// What is terminated.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Terminations {
    /// It is the packet of the electrical fit-off.
    pub fit_off: bool,
    /// Parts with several posts, post by post.
    pub parts: Vec<PartEnds>,
    /// The others, a row or two each.
    pub devices: Vec<EndRow>,
    /// Devices outside the panels, and where each sits.
    pub in_line: Vec<InLineRow>,
    /// Ends at the holders of those in the line.
    pub holders: Vec<EndRow>,
    /// What a later packet fits and terminates.
    pub later: Vec<Later>,
}

/// A part to terminate.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct PartEnds {
    /// The part and its place.
    pub name: String,
    /// What is said of it before the rows: its rating, its free ways.
    pub about: String,
    /// Its ends.
    pub rows: Vec<EndRow>,
}

/// An end on one part, or those side by side on one post of it.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct EndRow {
    /// The part and its place; of a second body the place of that.
    pub part: String,
    /// Post: "way 5", "plus".
    pub post: String,
    /// Fuse or breaker that goes into the way, with its colour; "".
    pub device: String,
    /// Label: the circuit, or the conductor of none.
    pub label: String,
    /// The conductors: "supply +".
    pub conductors: String,
    /// How it ends: "ring 8 AWG × M5".
    pub lug: String,
    /// Torque, "" where it is the maker's.
    pub torque: String,
    /// Nothing is tightened there.
    pub untightened: bool,
    /// The other end.
    pub other: String,
}

/// A device outside the panels.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct InLineRow {
    /// Label of the circuit.
    pub label: String,
    /// Device.
    pub device: String,
    /// Colour.
    pub colour: String,
    /// Where it sits.
    pub place: String,
}

/// Parts that a later packet fits.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Later {
    /// Its number.
    pub packet: usize,
    /// Its title.
    pub title: String,
    /// The parts.
    pub parts: String,
}

/// A part with fewer rows of ends stands among the devices.
const OF_ITS_OWN: usize = 7;

/// Ends at a part, by post.
struct End<'c> {
    wire: Wire<'c>,
    own: &'c Landing,
    other: &'c Landing,
    lug: &'c ConductorEnd,
}

/// All ends by part, parts in the order of the build; the bars that collect the batteries of a bank by themselves.
fn by_part<'c>(context: &'c Context<'_>) -> Vec<((&'c str, bool), Vec<End<'c>>)> {
    let mut parts: IndexMap<(&str, bool), Vec<End<'_>>> = IndexMap::new();
    for wire in wires(context) {
        let [from, to] = wire.0.ends();
        let [start, end] = &wire.1.ends;
        for (own, other, lug) in [(from, to, start), (to, from, end)] {
            let part = (own.part.as_str(), own.is_collecting_bar());
            parts.entry(part).or_default().push(End { wire, own, other, lug });
        }
    }
    parts.sort_by_cached_key(|(id, collecting), _| (context.build.parts.get_index_of(*id), *collecting));
    parts.into_iter().collect()
}

/// One row for ends that are on the same post, have the same lug and lead to the same part.
fn rows<'c>(context: &'c Context<'_>, mut ends: Vec<End<'c>>) -> Vec<EndRow> {
    let build = context.build;
    let plain = |end: &End<'_>| end.own.way.is_none() && end.own.switch.is_none();
    ends.sort_by_key(|end| (end.own.way.unwrap_or(0), plain(end), end.lug.stud));
    let mut rows: Vec<(&End<'_>, Vec<Wire<'_>>)> = Vec::new();
    for end in &ends {
        let same = |(first, _): &&mut (&End<'_>, Vec<Wire<'_>>)| {
            // On the same part, which of its bodies the other end is on.
            let body = |e: &End<'_>| (e.other.part == e.own.part).then(|| e.other.words.clone());
            let label = |e: &End<'_>| (e.wire.0.circuit.clone(), e.own.clone(), e.other.part.clone(), body(e));
            label(first) == label(end)
                && plain(first)
                && (end.wire.0.circuit.is_some() || end.wire.0.id == first.wire.0.id)
                && first.lug == end.lug
        };
        match rows.iter_mut().find(same) {
            Some((_, wires)) => wires.push(end.wire),
            None => rows.push((end, vec![end.wire])),
        }
    }
    let row = |(end, wires): (&End<'_>, Vec<Wire<'_>>)| EndRow {
        post: post_words(build, end.own, Some(end.lug)),
        device: device(context, end),
        ..row(context, body(context, end.own, Reader::Shop), wires, end.lug, end.other)
    };
    rows.into_iter().map(row).collect()
}

/// A row for conductors that end alike.
fn row(context: &Context<'_>, part: String, wires: Vec<Wire<'_>>, end: &ConductorEnd, other: &Landing) -> EndRow {
    let is_cut = wires.iter().all(|(c, _)| c.is_cut());
    let label = wires.first().map_or("", |(c, _)| c.circuit.as_deref().unwrap_or(&c.id));
    let run = Run { label, wires };
    EndRow {
        part,
        post: String::new(),
        device: String::new(),
        label: run.label.to_owned(),
        conductors: run.conductors(),
        lug: how(end, is_cut),
        torque: end.torque.map_or_else(String::new, |t| print(Dimension::Torque, t, context.build.prints())),
        untightened: end.is_untightened(),
        other: other.show(context.build),
    }
}

/// How a conductor ends, also where nobody but the maker of the part tells.
fn how(end: &ConductorEnd, is_cut: bool) -> String {
    match (end.form, is_cut) {
        (Some(_), true) => end.lug(),
        (Some(_), false) => format!("{}, on the maker’s lead", end.lug()),
        (None, true) => format!("{} as the device has it", lug(end)).trim_start().to_owned(),
        (None, false) => "as the maker’s lead has it".to_owned(),
    }
}

/// The fuse or breaker of a way.
fn device(context: &Context<'_>, end: &End<'_>) -> String {
    let circuit = end.wire.0.circuit.as_ref().filter(|_| end.own.way.is_some() && !end.wire.0.is_back());
    let figures = circuit.and_then(|id| context.electrical.circuits.get(id));
    let Some(figures) = figures.filter(|f| f.device.at == DeviceAt::Way) else { return String::new() };
    let colour = fuses::colour(&figures.device);
    if colour.is_empty() { figures.device.show() } else { format!("{}, {colour}", figures.device.show()) }
}

/// What is said of a panel before its ends.
fn about(panel: &Directory) -> String {
    let free = panel.rows.iter().filter(|r| r.label.is_empty()).filter_map(|r| usize::try_from(r.number?).ok());
    let free = shared::ranges(&free.collect());
    let free = if free.is_empty() { free } else { format!("; free: {free}") };
    let rated = match panel.rating.as_str() {
        "" => String::new(),
        rating => format!(" Rated {rating}; carries up to {}.", panel.carried),
    };
    format!("{}{free}.{rated}", panel.used)
}

/// Devices outside the panels.
fn in_line(context: &Context<'_>) -> Vec<InLineRow> {
    let mut rows = Vec::new();
    for (circuit, figures) in shared::worked(context) {
        if circuit.way.is_some() && matches!(figures.device.at, DeviceAt::Way) {
            continue;
        }
        if let Some(place) = device_place(context, circuit, &figures.device, Reader::Shop) {
            rows.push(InLineRow {
                label: circuit.id.clone(),
                device: figures.device.show(),
                colour: fuses::colour(&figures.device),
                place,
            });
        }
    }
    // What leaves a post or a tap is fused as near to it as any other conductor that lies in no sheath.
    let reach = context.electrical.profile.reach.open.0;
    let reach = print_bound(Dimension::Length, reach, context.build.prints(), Bound::Most);
    for (conductor, _) in wires(context) {
        let Some(device) = fuses::of_lead(context, conductor) else { continue };
        rows.push(InLineRow {
            label: conductor.id.clone(),
            device,
            colour: String::new(),
            place: format!("in line, within {reach} of {}", landing(context, &conductor.from, Reader::Shop)),
        });
    }
    rows
}

/// Both ends at each holder in the line.
fn holders(context: &Context<'_>) -> Vec<EndRow> {
    let mut list = Vec::new();
    for wire in wires(context) {
        let (conductor, figures) = wire;
        let Some(holder) = &figures.holder else { continue };
        let circuit = conductor.circuit.as_ref().and_then(|id| context.electrical.circuits.get(id));
        let device = fuses::of_lead(context, conductor).or_else(|| circuit.map(|f| f.device.show()));
        for (end, other) in holder.ends.iter().zip(conductor.ends()) {
            let post = format!("toward {}", other.show(context.build));
            list.push(EndRow { post, ..row(context, device.clone().unwrap_or_default(), vec![wire], end, other) });
        }
    }
    list
}

/// Stages after the electrical fit-off that fit a part.
fn fitted_later<'b>(build: &'b Build<'_>) -> BTreeMap<&'b str, Stage> {
    let mut stages: BTreeMap<&str, Stage> = BTreeMap::new();
    for task in build.tasks.values().filter(|task| task.template.is_some_and(|t| t.brings("mounted"))) {
        let Some(part) = &task.part else { continue };
        let stage = stages.entry(part).or_insert(task.stage);
        *stage = (*stage).max(task.stage);
    }
    stages.retain(|_, stage| *stage > Stage::ElectricalFitOff && !is_skipped(build, *stage));
    stages
}

/// What of all parts that are fitted later stands in which packet.
fn later(context: &Context<'_>, parts: &BTreeMap<Stage, Vec<&str>>) -> Vec<Later> {
    let build = context.build;
    let row = |(stage, parts): (&Stage, &Vec<&str>)| Later {
        packet: super::number_of(*stage),
        title: stage_title(build, *stage),
        parts: parts.iter().map(|id| build.name(id)).collect::<Vec<_>>().join(", "),
    };
    parts.iter().map(row).collect()
}

/// Those of `stage`; `None` where it makes no end.
pub(super) fn terminations(context: &Context<'_>, stage: Stage) -> Option<Terminations> {
    if stage < Stage::ElectricalFitOff {
        return None;
    }
    let fit_off = stage == Stage::ElectricalFitOff;
    let fitted = fitted_later(context.build);
    let panels = directories(context.build, &context.electrical, Reader::Shop);
    let mut parts = Vec::new();
    let mut devices = Vec::new();
    let mut after: BTreeMap<Stage, Vec<&str>> = BTreeMap::new();
    for ((part, collecting), ends) in by_part(context) {
        let own = fitted.get(part).copied().unwrap_or(Stage::ElectricalFitOff);
        if own != stage {
            after.entry(own).or_default().push(part);
            continue;
        }
        let mut rows = rows(context, ends);
        let panel = panels.iter().find(|p| p.id == part);
        if panel.is_none() && !collecting && rows.len() < OF_ITS_OWN {
            devices.extend(rows);
            continue;
        }
        let name = shared::name_and_place(context.build, part, Reader::Shop);
        // What is on another body than the heading says is told with its place.
        for row in rows.iter_mut().filter(|row| row.part != name) {
            row.post += row.part.strip_prefix(context.build.name(part)).unwrap_or_default();
        }
        let name = if collecting { format!("Collecting bars of {name}") } else { name };
        parts.push(PartEnds { name, about: panel.map_or_else(String::new, about), rows });
    }
    let any = !(parts.is_empty() && devices.is_empty());
    any.then(|| Terminations {
        fit_off,
        parts,
        devices,
        in_line: if fit_off { in_line(context) } else { Vec::new() },
        holders: if fit_off { holders(context) } else { Vec::new() },
        later: if fit_off { later(context, &after) } else { Vec::new() },
    })
}
