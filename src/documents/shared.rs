//! View helpers that several documents share: how a circuit's ends, device, conductor and lengths are written.

pub(crate) mod cable;
pub(crate) mod conductors;
pub(crate) mod existing;
pub(crate) mod fuses;
pub(crate) mod openings;
pub(crate) mod site;
pub(crate) mod small_parts;
pub(crate) mod wire;

pub(crate) use crate::compute::wording::{
    Reader, Wired, conductor, name_and_place, place_of, places as places_of, protection, ranges, way,
};

use super::Context;
use super::facts::Facts;
use crate::build::{Build, Circuit, Feeding, Part, Task};
use crate::compute::electrical::interrupting::Interrupting;
use crate::compute::ledger::Figure;
use crate::compute::network::{CircuitFigures, Device, DeviceAt, reach, stud_of};
pub(crate) use crate::compute::readings::is_skipped;
use crate::compute::time::Season;
use crate::compute::wording;
use crate::fields::{Field, Text};
use crate::kinds::{Network, Role, Stage};
use crate::units::{Bound, Dimension, System, number, print, print_bound, significant};
use indexmap::IndexMap;
use std::borrow::Cow;

/// How a place is told.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Told {
    /// By its name.
    Name(Reader),
    /// By its number on the plan of the packet of a stage, where it is on it.
    Number(Stage),
}

impl Told {
    /// Who reads it.
    pub(crate) const fn reader(self) -> Reader {
        match self {
            Self::Name(reader) => reader,
            Self::Number(_) => Reader::Shop,
        }
    }
}

/// What stands where the spec gives no length.
pub(crate) const NO_RUN: &str = "not given";

/// Places of a part as a packet tells them; of a hidden one the box alone does.
#[must_use]
pub(crate) fn place_in_packet(context: &Context<'_>, part: &Part<'_>) -> String {
    if part.confidential { CONFIDENTIAL.to_owned() } else { places_of(context.build, part) }
}

/// The same by their numbers on the plan of the packet of `stage`, where they are on it.
#[must_use]
pub(crate) fn place_on_plan(context: &Context<'_>, part: &Part<'_>, stage: Stage) -> String {
    context.number_of(stage, part).map_or_else(|| place_in_packet(context, part), |numbers| format!("at {numbers}"))
}

/// A part with its place: "House panel (7)", "Fuse panel (garage left)".
#[must_use]
pub(crate) fn part_and_place(context: &Context<'_>, id: &str, told: Told) -> String {
    let build = context.build;
    let number = match (told, build.parts.get(id)) {
        (Told::Number(stage), Some(part)) => context.number_of(stage, part),
        _ => None,
    };
    number.map_or_else(|| name_and_place(build, id, told.reader()), |number| format!("{} ({number})", build.name(id)))
}

/// What stands where a length would tell where a hidden part is.
pub(crate) const CONFIDENTIAL: &str = "confidential";

/// Minutes as hours: "6.5 h"; below one hour "45 min".
#[must_use]
pub(crate) fn working_time(minutes: u64) -> String {
    if minutes < 60 {
        return format!("{minutes} min");
    }
    let hours = crate::compute::time::hours(minutes);
    format!("{} h", number((hours * 10.0).round() / 10.0))
}

/// How long something cures, in minutes.
#[must_use]
pub(crate) fn cure_time(minutes: u64) -> String {
    print(Dimension::Duration, crate::compute::time::hours(minutes) * 3600.0, System::Metric)
}

/// One-way length of the route.
#[must_use]
pub(crate) fn run(build: &Build<'_>, circuit: &Circuit) -> String {
    let unsaid = if circuit.confidential { CONFIDENTIAL } else { NO_RUN };
    circuit.run.map_or_else(|| unsaid.to_owned(), |r| r.show(build.prints()))
}

/// Places the cable passes, in the order of the spec.
#[must_use]
pub(crate) fn passes(build: &Build<'_>, circuit: &Circuit) -> String {
    circuit.through.iter().map(|p| build.place_name(p)).collect::<Vec<_>>().join(", ")
}

/// Voltage drop of the circuit itself, "" where its length is not known.
#[must_use]
pub(crate) fn drop_percent(figures: &CircuitFigures) -> String {
    let share = figures.conductor().filter(|_| figures.run_known).map(|s| s.drop.share);
    share.map_or_else(String::new, |s| format!("{} %", significant(s.0 * 100.0, 2)))
}

/// Where a technician fits the device of a circuit; `None` where it has none of its own.
#[must_use]
pub(crate) fn device_place(context: &Context<'_>, circuit: &Circuit, device: &Device, told: Told) -> Option<String> {
    let build = context.build;
    match &device.at {
        DeviceAt::Way => {
            let way = circuit.way.map_or_else(String::new, |w| format!(", way {w}"));
            Some(format!("{}{way}", build.name(&circuit.from)))
        }
        DeviceAt::Component(id) => Some(part_and_place(context, id, told)),
        DeviceAt::InLine => {
            // A charger's output is fused where the bank can feed a fault into it: at the busbar.
            let at = if circuit.feeding == Feeding::Output { &circuit.to } else { &circuit.from };
            let stud =
                stud_of(build, &context.electrical, circuit, at).map_or_else(String::new, |n| format!("stud {n} of "));
            let source = part_and_place(context, at, told);
            let how_far = if let Some(distance) = circuit.protection_at {
                format!("at {}", distance.show(build.prints()))
            } else {
                let most = reach(build, &context.electrical.profile, circuit, at);
                format!("within {}", print_bound(Dimension::Length, most.0, build.prints(), Bound::Most))
            };
            Some(format!("in line, {how_far} of {stud}{source}"))
        }
        _ => None,
    }
}

/// What a network is called.
#[must_use]
pub(crate) const fn network_name(network: Network) -> &'static str {
    match network {
        Network::Dc => "house DC",
        Network::Ac => "AC",
        Network::Pv => "solar",
        Network::Start => "vehicle side",
    }
}

/// Circuits that the shop wires, with their figures; see [`wording::wired`].
pub(crate) fn wired<'c>(context: &'c Context<'_>) -> impl Iterator<Item = Wired<'c>> {
    wording::wired(context.build, &context.electrical)
}

/// Circuits that this job pulls, labels and tests; see [`wording::worked`].
pub(crate) fn worked<'c>(context: &'c Context<'_>) -> impl Iterator<Item = Wired<'c>> {
    wording::worked(context.build, &context.electrical)
}

/// Circuits whose fuse this job puts in; see [`wording::protected`].
pub(crate) fn protected<'c>(context: &'c Context<'_>) -> impl Iterator<Item = Wired<'c>> {
    wording::protected(context.build, &context.electrical)
}

/// Circuits by the part they leave; see [`wording::by_source`].
#[must_use]
pub(crate) fn by_source<'c>(context: &'c Context<'_>) -> IndexMap<&'c str, Vec<Wired<'c>>> {
    wording::by_source(context.build, &context.electrical)
}

/// Circuits by the panel or busbar they leave; all the rest (main path, switches, chargers, solar) together at the end.
#[must_use]
pub(crate) fn by_panel<'c>(context: &'c Context<'_>) -> Vec<(Option<&'c str>, Vec<Wired<'c>>)> {
    let role = |id: &str| context.build.parts.get(id).and_then(Part::role);
    let spreads = |id: &str| role(id).is_some_and(|r| r.has_ways() || r == Role::Bus);
    let (panels, rest): (Vec<_>, Vec<_>) = by_source(context).into_iter().partition(|(from, _)| spreads(from));
    let rest: Vec<_> = rest.into_iter().flat_map(|(_, circuits)| circuits).collect();
    panels.into_iter().map(|(from, circuits)| (Some(from), circuits)).chain([(None, rest)]).collect()
}

/// What was made of a fault current.
#[must_use]
pub(crate) fn fault_verdict(context: &Context<'_>, figure: &Figure) -> Cow<'static, str> {
    let breaking = context.electrical.circuits.get(&figure.subject).and_then(|c| c.breaking);
    let word = breaking.map_or("", Interrupting::words);
    let open = figure.open();
    if open.is_empty() || figure.is_broken() { word.into() } else { format!("{word}; {open}").into() }
}

/// A value of a part, and how it is known where that is said: "10 AWG (assumed)".
#[must_use]
pub(crate) fn with_known(value: String, known: Option<&str>) -> String {
    match known.filter(|_| !value.is_empty()) {
        Some(known) => format!("{value} ({known})"),
        None => value,
    }
}

/// Whether current flows on through `part`: panels, busbars, switches, fuses.
#[must_use]
pub(crate) fn passes_current(build: &Build<'_>, part: &str) -> bool {
    build.parts.get(part).and_then(Part::role).is_some_and(Role::passes_through)
}

/// Title of a task, as Markdown of one line.
#[must_use]
pub(crate) fn task_title(context: &Context<'_>, task: &Task<'_>) -> String {
    let part = task.part.as_ref().and_then(|p| context.build.bearer(p));
    if let (Some(template), Some(part)) = (task.template, part) {
        let facts = context.facts.part(&part.id);
        return context.text(facts, &template.title);
    }
    let own = context.build.own_tasks.get(&task.id).and_then(|r| r.title.text());
    plain(context, &own.map_or_else(|| task.id.replace('-', " "), str::to_owned))
}

/// Plain text of the spec as Markdown that shows exactly that text.
#[must_use]
pub(crate) fn plain(context: &Context<'_>, text: &str) -> String {
    let facts = Facts::from([("text".to_owned(), text.to_owned())]);
    context.text(&facts, "{{ text }}")
}

/// Title of a stage: what the shop calls it, else the usual one.
#[must_use]
pub(crate) fn stage_title(build: &Build<'_>, stage: Stage) -> String {
    build.stages.get(stage.id()).and_then(|r| r.title.text()).unwrap_or(stage.title()).to_owned()
}
/// Name of the component of a task, "" where the title already says it.
#[must_use]
pub(crate) fn component_of(title: &str, name: &str) -> String {
    if title.to_lowercase().contains(&name.to_lowercase()) { String::new() } else { name.to_owned() }
}

/// Supplier and part number in one cell.
#[must_use]
pub(crate) fn part_number(part: &Part<'_>) -> String {
    let given = |field: &'_ Field<Text>| field.text().filter(|t| !t.is_empty()).map(str::to_owned);
    [given(&part.common.supplier), given(&part.common.part)].into_iter().flatten().collect::<Vec<_>>().join(", ")
}

/// Recorded serial number, "" where none is recorded.
#[must_use]
pub(crate) fn serial(build: &Build<'_>, id: &str) -> String {
    build.spec.recorded.serials.get(id).map_or_else(String::new, |s| s.value.clone())
}

/// "A. Person, 2027-05-14" where `what` is signed in the spec, else "".
#[must_use]
pub(crate) fn signed(build: &Build<'_>, what: &str) -> String {
    let Some(signature) = build.spec.recorded.signed.get(what) else { return String::new() };
    let date = signature.value.date.map_or_else(String::new, |d| format!(", {d}"));
    format!("{}{date}", signature.value.by)
}

/// Anchor of a figure on the calculation sheet.
#[must_use]
pub(crate) fn figure_anchor(figure: &str) -> String {
    format!("fig-{}", figure.replace(' ', "-"))
}

/// Anchor in the owner's manual of what is done in a season, by its word.
#[must_use]
pub(crate) fn season_anchor(season: &str) -> String {
    // What is done before a trip stands with the lists for driving off.
    if season == Season::BeforeTrip.word() { season.to_owned() } else { format!("season-{season}") }
}
