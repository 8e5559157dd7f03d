//! Wires to pull and conductors to terminate.

use crate::build::Landing;
use crate::compute::directory::{Directory, directories};
use crate::compute::network::{ConductorEnd, DeviceAt};
use crate::documents::Context;
use crate::documents::shared::conductors::{Run, Wire, cut, landing, lug, runs, wires};
use crate::documents::shared::{self, CONFIDENTIAL, Reader, by_panel, device_place, fuses};
use crate::units::{Dimension, print};
use indexmap::IndexMap;
use serde::Serialize;

/// Wires that start at one panel or busbar.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct PullGroup {
    /// Where they start, "" for all the rest.
    pub from: String,
    /// The wires.
    pub rows: Vec<PullRow>,
}

/// A run to pull: conductors side by side.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct PullRow {
    /// Label: the circuit, or the conductor of none.
    pub label: String,
    /// Its conductors: "supply +, return −".
    pub conductors: String,
    /// Where it starts.
    pub from: String,
    /// Where it ends.
    pub to: String,
    /// Conductor size.
    pub conductor: String,
    /// Colours by the rules in force.
    pub colours: String,
    /// One-way length of the route.
    pub run: String,
    /// Pieces of cable.
    pub pieces: usize,
    /// Length of each piece.
    pub each: String,
    /// Where it lies, and its sheath.
    pub route: String,
}

/// What is pulled: by the panel or busbar that feeds it, then the rest, then what belongs to no circuit.
pub(super) fn pulls(context: &Context<'_>) -> Vec<PullGroup> {
    let runs = runs(context);
    let group = |from: Option<&str>, rows: Vec<PullRow>| PullGroup {
        from: from.map_or_else(String::new, |f| shared::name_and_place(context.build, f, Reader::Shop)),
        rows,
    };
    let of = |circuit: &str, run: &&Run<'_>| run.first().0.circuit.as_deref() == Some(circuit);
    let circuits = by_panel(context).into_iter().map(|(from, circuits)| {
        let own = circuits.iter().flat_map(|(c, _)| runs.iter().filter(|run| of(&c.id, run)));
        group(from, own.map(|run| pull(context, run)).collect())
    });
    let mut groups: Vec<PullGroup> = circuits.filter(|g| !g.rows.is_empty()).collect();
    let apart: Vec<PullRow> = runs.iter().filter(|r| r.first().0.circuit.is_none()).map(|r| pull(context, r)).collect();
    match groups.last_mut().filter(|g| g.from.is_empty()) {
        Some(rest) => rest.rows.extend(apart),
        None if apart.is_empty() => {}
        None => groups.push(group(None, apart)),
    }
    groups
}

fn pull(context: &Context<'_>, run: &Run<'_>) -> PullRow {
    let build = context.build;
    let system = build.prints();
    let (conductor, figures) = run.first();
    let measure = || if conductor.confidential { CONFIDENTIAL } else { "measure" }.to_owned();
    let passes = run.passes(context);
    let passes = if passes.is_empty() { passes } else { format!("through {passes}") };
    let sheath = if run.pieces() < run.wires.len() { "sheathed" } else { "" };
    let route = [passes.as_str(), sheath].into_iter().filter(|t| !t.is_empty()).collect::<Vec<_>>().join("; ");
    let each = match (conductor.makers, cut((conductor, figures))) {
        (Some(length), _) if !conductor.is_cut() => format!("{}, not cut", length.show(system)),
        (_, Some(cut)) => cut.show(system),
        _ => measure(),
    };
    PullRow {
        label: run.label.to_owned(),
        conductors: run.conductors(),
        from: conductor.from.show(build),
        to: landing(context, &conductor.to, Reader::Shop),
        conductor: run.size(),
        colours: run.colours(context),
        run: run.route(context, "not given"),
        pieces: run.pieces(),
        each,
        route,
    }
}

/// What is terminated.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Terminations {
    /// Parts with several posts, post by post.
    pub parts: Vec<PartEnds>,
    /// The others, a row or two each.
    pub devices: Vec<EndRow>,
    /// Devices outside the panels, and where each sits.
    pub in_line: Vec<InLineRow>,
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

/// Ends that lie side by side on one part.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct EndRow {
    /// The part and its place.
    pub part: String,
    /// Post: "way 5"; "" where that goes without saying.
    pub post: String,
    /// Fuse or breaker that goes into the way, with its colour; "".
    pub device: String,
    /// Label: the circuit, or the conductor of none.
    pub label: String,
    /// The conductors: "supply +".
    pub conductors: String,
    /// Lug: "ring 8 AWG × M5".
    pub lug: String,
    /// Torque, "" where it is the maker's.
    pub torque: String,
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

/// A part with fewer rows of ends stands among the devices.
const OF_ITS_OWN: usize = 7;

/// Ends at a part, by post.
struct End<'c> {
    wire: Wire<'c>,
    own: &'c Landing,
    other: &'c Landing,
    lug: &'c ConductorEnd,
}

/// All ends by part, parts in the order of the build.
fn by_part<'c>(context: &'c Context<'_>) -> Vec<(&'c str, Vec<End<'c>>)> {
    let mut parts: IndexMap<&str, Vec<End<'_>>> = IndexMap::new();
    for wire in wires(context) {
        let [from, to] = wire.0.ends();
        let [start, end] = &wire.1.ends;
        for (own, other, end) in [(from, to, start), (to, from, end)] {
            parts.entry(own.part.as_str()).or_default().push(End { wire, own, other, lug: end });
        }
    }
    parts.sort_by_cached_key(|id, _| context.build.parts.get_index_of(*id));
    parts.into_iter().collect()
}

/// One row for ends that have the same post of their side, lug and other part.
fn rows<'c>(context: &'c Context<'_>, part: &str, mut ends: Vec<End<'c>>) -> Vec<EndRow> {
    let build = context.build;
    let plain = |end: &End<'_>| end.own.way.is_none() && end.own.switch.is_none();
    ends.sort_by_key(|end| (end.own.way.unwrap_or(0), plain(end)));
    let mut rows: Vec<(&End<'_>, Vec<Wire<'_>>)> = Vec::new();
    for end in &ends {
        let same = |(first, _): &&mut (&End<'_>, Vec<Wire<'_>>)| {
            // On the same part, which of its bodies the other end is on.
            let body = |e: &End<'_>| (e.other.part == e.own.part).then(|| e.other.words.clone());
            let label = |e: &End<'_>| (e.wire.0.circuit.clone(), e.own.terminal(build), e.other.part.clone(), body(e));
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
    let row = |(end, wires): (&End<'_>, Vec<Wire<'_>>)| {
        let run = Run { label: end.wire.0.circuit.as_deref().unwrap_or(&end.wire.0.id), wires };
        EndRow {
            part: shared::name_and_place(build, part, Reader::Shop),
            post: post(context, end),
            device: device(context, end),
            label: run.label.to_owned(),
            conductors: run.conductors(),
            lug: lug(end.lug),
            torque: end.lug.torque.map_or_else(String::new, |t| print(Dimension::Torque, t, build.prints())),
            other: end.other.show(build),
        }
    };
    rows.into_iter().map(row).collect()
}

/// Which post, also where a label lets that go without saying.
fn post(context: &Context<'_>, end: &End<'_>) -> String {
    let terminal = end.own.terminal(context.build);
    if terminal.is_empty() { end.own.post.replace('-', " ") } else { terminal }
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

pub(super) fn terminations(context: &Context<'_>) -> Option<Terminations> {
    let mut in_line = Vec::new();
    for (circuit, figures) in shared::worked(context) {
        if circuit.way.is_some() && matches!(figures.device.at, DeviceAt::Way) {
            continue;
        }
        if let Some(place) = device_place(context, circuit, &figures.device, Reader::Shop) {
            in_line.push(InLineRow {
                label: circuit.id.clone(),
                device: figures.device.show(),
                colour: fuses::colour(&figures.device),
                place,
            });
        }
    }
    for (conductor, _) in wires(context) {
        let Some(device) = fuses::of_lead(context, conductor) else { continue };
        in_line.push(InLineRow {
            label: conductor.id.clone(),
            device,
            colour: String::new(),
            place: landing(context, &conductor.from, Reader::Shop),
        });
    }
    let panels = directories(context.build, &context.electrical, Reader::Shop);
    let mut parts = Vec::new();
    let mut devices = Vec::new();
    for (part, ends) in by_part(context) {
        let rows = rows(context, part, ends);
        let panel = panels.iter().find(|p| p.id == part);
        if panel.is_none() && rows.len() < OF_ITS_OWN {
            devices.extend(rows);
            continue;
        }
        let name = shared::name_and_place(context.build, part, Reader::Shop);
        parts.push(PartEnds { name, about: panel.map_or_else(String::new, about), rows });
    }
    let any = !(parts.is_empty() && devices.is_empty());
    any.then_some(Terminations { parts, devices, in_line })
}
