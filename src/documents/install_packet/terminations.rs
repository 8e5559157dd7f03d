//! Conductors to terminate, each with both its ends: in the electrical fit-off, but for the ends on what a later packet fits.

use crate::build::{Build, Conductor, Landing, Part};
use crate::compute::board_holders::first_end;
use crate::compute::directory::{Directory, directories};
use crate::compute::network::{ConductorEnd, DeviceAt, post_words};
use crate::documents::Context;
use crate::documents::shared::conductors::{Run, Wire, body, landing, lug, rejoined, wires};
use crate::documents::shared::{self, Reader, Told, device_place, fuses, is_skipped, stage_title};
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
    /// Conductors, a row each: by the part with several posts that they begin or end on, then all others.
    pub groups: Vec<Group>,
    /// Devices outside the panels, where each sits, and the ends at the holders of those in the line.
    pub in_line: Vec<InLineRow>,
    /// What a later packet fits and terminates.
    pub later: Vec<Later>,
}

/// Conductors that begin or end on one part.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Group {
    /// The part and its place; "" of conductors between small devices.
    pub name: String,
    /// What is said of the part before the rows: its rating, its free ways.
    pub about: String,
    /// Its conductors.
    pub rows: Vec<ConductorRow>,
}

/// A conductor with both its ends.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct ConductorRow {
    /// Label: the circuit, or the conductor of none.
    pub label: String,
    /// The conductor: "supply +".
    pub conductor: String,
    /// Its size, "" of a lead that is not cut.
    pub size: String,
    /// Its end on the part of the group, and the other.
    pub ends: [EndCell; 2],
}

/// An end of a conductor.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct EndCell {
    /// Post: "way 5", on another part than that of the group with that and its place before it.
    pub post: String,
    /// Fuse or breaker that goes into the way; "".
    pub device: String,
    /// How it ends: "ring M5"; with its size where that is not the conductor's.
    pub lug: String,
    /// Torque, "" where it is the maker's.
    pub torque: String,
    /// Nothing is tightened there.
    pub untightened: bool,
    /// Number of the packet that makes it; 0 for this one.
    pub packet: usize,
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
    /// How the conductor ends at the two sides of its holder; none where it is a part with rows of its own.
    pub ends: Vec<String>,
    /// Nothing is tightened there.
    pub untightened: bool,
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

/// A part with fewer ends has no table of its own.
const OF_ITS_OWN: usize = 7;

/// A body with posts: a part, or the bars of a bank that collect its batteries.
type Body<'c> = (&'c str, bool);

/// Ends on each body, bodies in the order of the build.
fn bodies<'c>(context: &'c Context<'_>) -> Vec<(Body<'c>, usize)> {
    let mut bodies: IndexMap<Body<'_>, usize> = IndexMap::new();
    for landing in wires(context).flat_map(|(conductor, _)| conductor.ends()) {
        *bodies.entry(body_of(landing)).or_default() += 1;
    }
    bodies.sort_by_cached_key(|(id, collecting), _| (context.build.parts.get_index_of(*id), *collecting));
    bodies.into_iter().collect()
}

fn body_of(landing: &Landing) -> Body<'_> {
    (&landing.part, landing.is_collecting_bar())
}

/// The row of a conductor in the table of `own`, if it has one; the end on it comes first.
fn row<'c>(
    context: &'c Context<'_>,
    wire: Wire<'c>,
    own: Option<Body<'_>>,
    here: &dyn Fn(&Landing) -> usize,
) -> ConductorRow {
    let (conductor, figures) = wire;
    let label = conductor.circuit.as_deref().unwrap_or(&conductor.id);
    let [from, to] = conductor.ends();
    let [start, end] = &figures.ends;
    let mut ends = [(from, start), (to, end)];
    if own.is_some_and(|own| body_of(from) != own && body_of(to) == own) {
        ends.reverse();
    }
    let cell = |(landing, end): (&Landing, &ConductorEnd)| EndCell {
        post: post(context, landing, end, own),
        device: device(context, wire, landing),
        lug: {
            let lug = if conductor.is_cut() && end.size == figures.size {
                end.form_of_lug()
            } else {
                how(end, conductor.is_cut())
            };
            let told = [lug.as_str(), shield(conductor, landing)];
            told.into_iter().filter(|words| !words.is_empty()).collect::<Vec<_>>().join(", ")
        },
        torque: end.torque.map_or_else(String::new, |t| print(Dimension::Torque, t, context.build.prints())),
        untightened: end.is_untightened(),
        packet: here(landing),
    };
    let run = Run { label, wires: vec![wire] };
    let size = if conductor.is_cut() { run.size() } else { String::new() };
    ConductorRow { label: label.to_owned(), conductor: run.conductors(), size, ends: ends.map(cell) }
}

/// Where an end is: on the part of the table its post alone, else with the part and its place.
fn post(context: &Context<'_>, landing: &Landing, end: &ConductorEnd, own: Option<Body<'_>>) -> String {
    let words = post_words(context.build, landing, Some(end));
    let name = context.build.name(&landing.part);
    let place = body(context, landing, Told::Name(Reader::Shop));
    // Places stand in the pick list; that of another body than the part's first is told here.
    let elsewhere = place
        .strip_prefix(name)
        .filter(|_| place != shared::name_and_place(context.build, &landing.part, Reader::Shop));
    let words = format!("{words}{}", elsewhere.unwrap_or_default());
    if own == Some(body_of(landing)) {
        return words;
    }
    if words.is_empty() { name.to_owned() } else { format!("{name}, {}", words.trim_start()) }
}

/// How a conductor ends, also where nobody but the maker of the part tells.
fn how(end: &ConductorEnd, is_cut: bool) -> String {
    match (end.form, is_cut) {
        (Some(_), true) => end.lug(),
        (Some(_), false) => format!("{}, on the maker’s lead", end.lug()),
        (None, true) => lug(end),
        (None, false) => "as the maker’s lead has it".to_owned(),
    }
}

/// What becomes of the shield of a conductor at an end: joined to negative where the conductor ends, and there alone, else
/// both ends would make a loop of it.
fn shield(conductor: &Conductor, landing: &Landing) -> &'static str {
    match conductor.shielded {
        false => "",
        true if *landing == conductor.to => "shield to negative",
        true => "shield cut back and covered",
    }
}

/// The fuse or breaker of a way.
fn device(context: &Context<'_>, (conductor, _): Wire<'_>, landing: &Landing) -> String {
    let circuit = conductor.circuit.as_ref().filter(|_| landing.way.is_some() && !conductor.is_back());
    let figures = circuit.and_then(|id| context.electrical.circuits.get(id));
    figures.filter(|f| f.device.at == DeviceAt::Way).map_or_else(String::new, |figures| figures.device.show())
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

/// A part, or the bars that collect its batteries.
fn titled(name: String, collecting: bool) -> String {
    if collecting { format!("Collecting bars of {name}") } else { name }
}

/// Of each table the others that have ends on its part, since a row stands with the first of both.
fn elsewhere(
    build: &Build<'_>,
    heading: &[Body<'_>],
    groups: &BTreeMap<usize, Vec<Wire<'_>>>,
) -> BTreeMap<usize, Vec<String>> {
    let mut also: BTreeMap<usize, Vec<String>> = BTreeMap::new();
    for (rank, wires) in groups {
        let Some((id, collecting)) = heading.get(*rank) else { continue };
        let name = titled(build.name(id).to_owned(), *collecting);
        for landing in wires.iter().flat_map(|(conductor, _)| conductor.ends()) {
            let other = heading.iter().position(|body| *body == body_of(landing)).filter(|other| other != rank);
            if let Some(names) =
                other.map(|other| also.entry(other).or_default()).filter(|names| !names.contains(&name))
            {
                names.push(name.clone());
            }
        }
    }
    also
}

/// Which end of a bar its studs are counted from.
fn studs(build: &Build<'_>, (id, collecting): Body<'_>) -> String {
    let is_bar = collecting || build.parts.get(id).and_then(Part::studs).is_some_and(|studs| studs > 1);
    match first_end(build, id).filter(|_| !collecting) {
        _ if !is_bar => String::new(),
        Some(end) => format!("Stud 1 is at the {end} end, where the elevation has a black triangle."),
        None => "Studs are counted from the end that the cable of stud 1 comes to.".to_owned(),
    }
}

/// Devices outside the panels, with the ends at their holders.
fn in_line(context: &Context<'_>) -> Vec<InLineRow> {
    let mut rows = Vec::new();
    let mut holders: BTreeMap<&str, (Vec<String>, bool)> = BTreeMap::new();
    // A cable that stays is cut here too.
    for (conductor, figures) in wires(context).chain(rejoined(context).map(|(wire, _)| wire)) {
        let Some(holder) = &figures.holder else { continue };
        let by = conductor.circuit.as_ref().filter(|_| conductor.fuse.is_none()).unwrap_or(&conductor.id);
        let (ends, untightened) = holders.entry(by).or_default();
        let unsaid = |end: &ConductorEnd| if end.form.is_none() { ", lug as its holder asks" } else { "" };
        ends.extend(holder.ends.iter().map(|end| format!("{}{}", how(end, conductor.is_cut()), unsaid(end))));
        *untightened = holder.ends.iter().all(ConductorEnd::is_untightened);
    }
    let ends_of = |label: &str| holders.get(label).cloned().unwrap_or_default();
    for (circuit, figures) in shared::protected(context) {
        if circuit.way.is_some() && matches!(figures.device.at, DeviceAt::Way) {
            continue;
        }
        if let Some(place) = device_place(context, circuit, &figures.device, Told::Number(Stage::ElectricalFitOff)) {
            let (mut ends, untightened) = ends_of(&circuit.id);
            if ends.is_empty() && figures.device.at == DeviceAt::InLine {
                // A cable that stays is cut here too.
                let size = figures.conductor().map_or_else(String::new, |sized| format!("{}, ", sized.show()));
                ends = vec![format!("{size}lug as its holder asks"); 2];
            }
            rows.push(InLineRow {
                label: circuit.id.clone(),
                device: figures.device.show(),
                colour: fuses::colour(&figures.device),
                place,
                ends,
                untightened,
            });
        }
    }
    // What leaves a post or a tap is fused as near to it as any other conductor that lies in no sheath.
    let reach = context.electrical.profile.reach.open.0;
    let reach = print_bound(Dimension::Length, reach, context.build.prints(), Bound::Most);
    for (conductor, _) in wires(context) {
        let Some(device) = fuses::of_lead(context, conductor) else { continue };
        let (ends, untightened) = ends_of(&conductor.id);
        rows.push(InLineRow {
            label: conductor.id.clone(),
            device,
            colour: String::new(),
            place: format!(
                "in line, within {reach} of {}",
                landing(context, &conductor.from, Told::Number(Stage::ElectricalFitOff))
            ),
            ends,
            untightened,
        });
    }
    rows
}

/// States of a part after which a conductor can end on it.
const FITTED: [&str; 2] = ["mounted", "inlet-mounted"];

/// Stages after the electrical fit-off that fit a part.
fn fitted_later<'b>(build: &'b Build<'_>) -> BTreeMap<&'b str, Stage> {
    let mut stages: BTreeMap<&str, Stage> = BTreeMap::new();
    for task in build.tasks.values().filter(|task| task.template.is_some_and(|t| FITTED.iter().any(|s| t.brings(s)))) {
        let Some(part) = &task.part else { continue };
        let stage = stages.entry(part).or_insert(task.stage);
        *stage = (*stage).max(task.stage);
    }
    stages.retain(|_, stage| *stage > Stage::ElectricalFitOff && !is_skipped(build, *stage));
    stages
}

/// The stage that fits the body which a post is on, where that is a second one with a task of its own.
fn fitted_by(build: &Build<'_>, landing: &Landing) -> Option<Stage> {
    let part = build.parts.get(&landing.part)?;
    let state = part.post(landing)?.fitted_by.as_deref()?;
    let tasks = build.tasks_of(&part.id).filter(|task| task.template.is_some_and(|t| t.brings(state)));
    let latest = tasks.map(|task| task.stage).max()?.max(Stage::ElectricalFitOff);
    Some(latest).filter(|stage| !is_skipped(build, *stage))
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
    let build = context.build;
    let fit_off = stage == Stage::ElectricalFitOff;
    let fitted = fitted_later(build);
    let made_in = |part: &str| fitted.get(part).copied().unwrap_or(Stage::ElectricalFitOff);
    let here = |landing: &Landing| {
        let made = fitted_by(build, landing).unwrap_or_else(|| made_in(&landing.part));
        Some(made).filter(|s| *s != stage).map_or(0, super::number_of)
    };
    let panels = directories(build, &context.electrical, Reader::Shop);
    let panel = |id: &str| panels.iter().find(|p| p.id == id);
    let bodies = bodies(context);
    let heads = |(id, collecting): Body<'_>, ends: usize| panel(id).is_some() || collecting || ends >= OF_ITS_OWN;
    let heading: Vec<Body<'_>> = bodies
        .iter()
        .filter(|(b, ends)| heads(*b, *ends))
        .map(|(b, _)| *b)
        .filter(|(id, _)| made_in(id) == stage)
        .collect();
    let rank = |landing: &Landing| heading.iter().position(|body| *body == body_of(landing));
    let mut groups: BTreeMap<usize, Vec<Wire<'_>>> = BTreeMap::new();
    for wire in wires(context).filter(|(conductor, _)| conductor.ends().into_iter().any(|end| here(end) == 0)) {
        // Between two parts with tables of their own it stands with the first.
        let own = wire.0.ends().into_iter().filter_map(rank).min();
        groups.entry(own.unwrap_or(heading.len())).or_default().push(wire);
    }
    let elsewhere = elsewhere(build, &heading, &groups);
    let group = |(rank, mut wires): (usize, Vec<Wire<'_>>)| {
        let own = heading.get(rank).copied();
        let at = |(conductor, figures): &Wire<'_>| {
            let end = own.and_then(|own| conductor.ends().into_iter().position(|end| body_of(end) == own));
            let landing = end.map(|end| (conductor.ends()[end], figures.ends[end].stud));
            landing.map(|(l, stud)| (l.way.unwrap_or(0), l.way.is_none() && l.switch.is_none(), stud))
        };
        wires.sort_by_key(at);
        let rows = wires.into_iter().map(|wire| row(context, wire, own, &here)).collect();
        let (name, about) = own.map_or_else(Default::default, |(id, collecting)| {
            let name = titled(shared::part_and_place(context, id, Told::Number(stage)), collecting);
            (name, panel(id).filter(|_| !collecting).map_or_else(|| studs(build, (id, collecting)), about))
        });
        let also = elsewhere.get(&rank).filter(|_| own.is_some());
        let also = also.map(|names| format!("More of its ends stand under: {}.", names.join("; ")));
        let about =
            [about, also.unwrap_or_default()].into_iter().filter(|t| !t.is_empty()).collect::<Vec<_>>().join(" ");
        Group { name, about, rows }
    };
    let groups: Vec<Group> = groups.into_iter().map(group).collect();
    let mut after: BTreeMap<Stage, Vec<&str>> = BTreeMap::new();
    for ((part, _), _) in &bodies {
        if let Some(own) = fitted.get(part).filter(|own| **own != stage) {
            after.entry(*own).or_default().push(part);
        }
    }
    (!groups.is_empty()).then(|| Terminations {
        fit_off,
        groups,
        in_line: if fit_off { in_line(context) } else { Vec::new() },
        later: if fit_off { later(context, &after) } else { Vec::new() },
    })
}
