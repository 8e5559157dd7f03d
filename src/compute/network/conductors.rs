//! What is known of each conductor: its size and colour, its lugs and torques, the length to cut, and what it measures when
//! it is good.

use super::acceptance::Good;
use super::ends::{ConductorEnd, Holder, end, holder};
use super::studs;
use super::{CircuitFigures, DeviceAt, Electrical, reach_of_tail};
use crate::build::{Build, Circuit, Conductor, Part, Purpose, Spot};
use crate::kinds::{Carries, Network, PostForm, Role};
use crate::tables::conductor_series::Series;
use crate::tables::profile::Colours;
use crate::units::{ConductorSize, Metres, System};
use indexmap::{IndexMap, IndexSet};
use serde::Serialize;
use std::collections::BTreeMap;

/// Figures of one conductor.
#[derive(Clone, Debug, Serialize)]
pub struct ConductorFigures {
    /// Its size; `None` for a lead of the maker, and where its circuit has none.
    pub size: Option<ConductorSize>,
    /// Its two ends.
    pub ends: [ConductorEnd; 2],
    /// The holder of a fuse in its line.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub holder: Option<Holder>,
    /// Length to cut: its route with slack; `None` where the route is not known or it is not cut.
    pub cut: Option<Metres>,
    /// What it measures when it is good; `None` where length or size is not known.
    pub good: Option<Good>,
}

/// Length added to the route of each piece, both ends together, where the spec says none, as a round figure of the units in
/// print: strip, second crimp, and slack to dress the cable. Common practice, no source.
const fn usual_slack(prints: System) -> Metres {
    match prints {
        System::Metric => Metres(0.3),
        System::Us => Metres(0.3048),
    }
}

/// Length added to the route of each piece, both ends together.
#[must_use]
pub fn slack(build: &Build<'_>) -> Metres {
    build.about.slack.get().unwrap_or_else(|| usual_slack(build.prints()))
}

/// By id, of all that the vehicle did not bring along.
pub(super) fn conductors(build: &Build<'_>, all: &Electrical) -> IndexMap<String, ConductorFigures> {
    let largest = at_bank(build, all);
    let figures = |c: &Conductor| (c.id.clone(), of(build, all, c, largest));
    let all = build.wiring.conductors.values().filter(|c| !is_vehicles(all, c));
    let mut conductors: IndexMap<String, ConductorFigures> = all.map(figures).collect();
    for ((id, end), stud) in studs::of_ends(build, |id| conductors.get(id)?.size) {
        if let Some(figures) = conductors.get_mut(id) {
            figures.ends[end].stud = Some(stud);
        }
    }
    join(build, &mut conductors);
    conductors
}

/// Marks the ends of which several come to one blade, which takes one receptacle.
fn join(build: &Build<'_>, conductors: &mut IndexMap<String, ConductorFigures>) {
    let mut blades: BTreeMap<Spot<'_>, Vec<(&str, usize)>> = BTreeMap::new();
    for conductor in build.wiring.conductors.values() {
        let Some(figures) = conductors.get(&conductor.id) else { continue };
        for (end, landing) in conductor.ends().into_iter().enumerate() {
            if figures.ends[end].form == Some(PostForm::PushOn) {
                blades.entry(landing.spot()).or_default().push((&conductor.id, end));
            }
        }
    }
    for (id, end) in blades.into_values().filter(|there| there.len() > 1).flatten() {
        if let Some(figures) = conductors.get_mut(id) {
            figures.ends[end].joined = true;
        }
    }
}

/// Whether the vehicle brought it along.
fn is_vehicles(all: &Electrical, conductor: &Conductor) -> bool {
    let circuit = conductor.circuit.as_ref().and_then(|id| all.circuits.get(id));
    matches!(conductor.purpose, Purpose::Circuit | Purpose::Beside | Purpose::Leg)
        && circuit.is_none_or(|f| f.device.at == DeviceAt::Vehicle)
}

fn of(build: &Build<'_>, all: &Electrical, conductor: &Conductor, at_bank: Option<ConductorSize>) -> ConductorFigures {
    let circuit = conductor.circuit.as_ref().and_then(|id| all.circuits.get(id));
    let size = size(build, all, conductor, circuit, at_bank);
    let ends = conductor.ends().map(|landing| end(build, landing, size));
    let length = laid(build, conductor);
    let warmer = circuit.filter(|_| conductor.is_loaded()).and_then(CircuitFigures::conductor);
    let good = length
        .zip(size)
        .map(|(length, size)| Good::of(size, length, warmer.map(|s| (s, circuit_run(build, conductor)))));
    let holder = holder(build, all, conductor, size);
    let cut = length.filter(|_| conductor.is_cut()).map(|length| {
        let longest = own_circuit(build, conductor).and_then(|c| reach_of_tail(build, all, c));
        let whole = length + slack(build);
        // The piece before a fuse is cut to fit: spare length there has no protection.
        longest.map_or(whole, |longest| whole.min(longest.max(length)))
    });
    ConductorFigures { size, ends, holder, cut, good }
}

/// Length that is laid: the loose lead of what is plugged in comes with it.
#[must_use]
pub fn laid(build: &Build<'_>, conductor: &Conductor) -> Option<Metres> {
    let loose = own_lead(build, conductor).unwrap_or_default();
    conductor.route.length.map(|l| Metres(l.0 - loose.0)).filter(|l| l.0 > 0.0)
}

fn circuit_run(build: &Build<'_>, conductor: &Conductor) -> Option<Metres> {
    build.circuits.get(conductor.circuit.as_ref()?)?.run
}

/// The lead of its own that the part brings along from which a conductor comes, or to which a negative leads.
fn own_lead(build: &Build<'_>, conductor: &Conductor) -> Option<Metres> {
    let circuit = conductor.circuit.as_ref().filter(|_| conductor.purpose != Purpose::Leg)?;
    build.parts.get(&build.circuits.get(circuit)?.from)?.roles.lead().get()
}

/// The circuit that a conductor is, not a leg or lead of it.
fn own_circuit<'a>(build: &'a Build<'_>, conductor: &Conductor) -> Option<&'a Circuit> {
    let whole = matches!(conductor.purpose, Purpose::Circuit | Purpose::Beside) && !conductor.is_back();
    build.circuits.get(conductor.circuit.as_ref().filter(|_| whole)?)
}

fn size(
    build: &Build<'_>,
    all: &Electrical,
    conductor: &Conductor,
    circuit: Option<&CircuitFigures>,
    at_bank: Option<ConductorSize>,
) -> Option<ConductorSize> {
    match conductor.purpose {
        Purpose::Circuit | Purpose::Beside | Purpose::Leg => {
            let size = |f: &CircuitFigures| f.conductor().map(|s| s.size);
            let also = conductor.also.as_ref().and_then(|id| size(all.circuits.get(id)?));
            thickest(circuit.and_then(size).into_iter().chain(also))
        }
        Purpose::Lead(size) => Some(size),
        Purpose::Makers => None,
        Purpose::Link => at_bank,
        Purpose::Battery => Some(all.banks.get(&conductor.owner)?.batteries.as_ref()?.cable.as_ref()?.size),
        Purpose::Bond => {
            let bond = build.parts.get(&conductor.owner).and_then(|p| p.roles.chassis_bond.as_ref());
            bond.and_then(|b| b.bond_conductor.get()).or_else(|| Some(bond_size(build, all, conductor)))
        }
        Purpose::EquipmentBond => {
            let bond = build.parts.get(&conductor.to.part).and_then(|p| p.roles.chassis_bond.as_ref());
            let given = bond.and_then(|b| b.equipment_conductor.get());
            given.or_else(|| Some(bond_size(build, all, conductor)))
        }
    }
}

/// What a bond needs, so that a fault opens the fuse of its positive and leaves the bond: as thick as the bank's largest lead,
/// or of a case one size under its positive; never less than the rules ask.
#[must_use]
pub fn bond_size(build: &Build<'_>, all: &Electrical, conductor: &Conductor) -> ConductorSize {
    let asked = match conductor.purpose {
        Purpose::EquipmentBond => positive_of(build, all, &conductor.owner).map(one_under),
        _ => at_bank(build, all),
    };
    larger(asked, all.profile.equipment_bond)
}

/// The thicker of the two.
fn larger(size: Option<ConductorSize>, least: ConductorSize) -> ConductorSize {
    size.filter(|size| size.area().0 > least.area().0).unwrap_or(least)
}

/// The thickest of some.
fn thickest(sizes: impl Iterator<Item = ConductorSize>) -> Option<ConductorSize> {
    sizes.max_by(|a, b| a.area().0.total_cmp(&b.area().0))
}

/// The thickest conductor at the posts of a bank.
fn at_bank(build: &Build<'_>, all: &Electrical) -> Option<ConductorSize> {
    let banks = build.parts.values().filter(|p| p.role() == Some(Role::Bank));
    let circuits = banks.flat_map(|bank| build.leaving(&bank.id));
    thickest(circuits.filter_map(|c| Some(all.circuits.get(&c.id)?.conductor()?.as_one())))
}

/// The thickest DC conductor that brings a part its current, or takes it from there.
fn positive_of(build: &Build<'_>, all: &Electrical, part: &str) -> Option<ConductorSize> {
    let own = |c: &&Circuit| c.owner == part && c.network == Network::Dc;
    let circuits = build.arriving(part).chain(build.leaving(part)).filter(own);
    thickest(circuits.filter_map(|c| Some(all.circuits.get(&c.id)?.conductor()?.as_one())))
}

/// What a case needs, so that a fault in it opens the fuse of its positive: at most one size under that positive. ABYC
/// E-11, the DC grounding conductor, from memory.
#[must_use]
fn one_under(positive: ConductorSize) -> ConductorSize {
    let stocked = Series::of(positive).stocked();
    let at = stocked.iter().position(|size| *size == positive);
    at.and_then(|at| stocked.get(at.checked_sub(1)?)).copied().unwrap_or(positive)
}

/// Colour of what is cut from a reel and carries this; "" where nothing says one.
#[must_use]
pub fn colour(carries: Carries, colours: &Colours) -> String {
    let first = |list: &[String]| list.first().cloned().unwrap_or_default();
    match carries {
        Carries::Positive | Carries::SwitchedPositive | Carries::Sense => first(&colours.positive),
        Carries::Negative => first(&colours.negative),
        Carries::Line => colours.ac_line.clone(),
        Carries::LineTwo => colours.ac_line_two.clone(),
        Carries::Neutral => colours.ac_neutral.clone(),
        Carries::Earth => colours.ac_earth.clone(),
        Carries::Bond => colours.bond.clone(),
        Carries::Control | Carries::Data | Carries::Signal | Carries::Antenna => String::new(),
    }
}

/// Colours of a circuit's conductors: "red, yellow".
#[must_use]
pub fn colours(build: &Build<'_>, circuit: &Circuit, colours: &Colours) -> String {
    let all = build.conductors_of(circuit).map(|c| colour(c.carries, colours));
    all.collect::<IndexSet<_>>().into_iter().collect::<Vec<_>>().join(", ")
}

/// Whether this job pulls, labels and tests a conductor: its part is worked on, or the point that a case is bonded to.
#[must_use]
pub fn is_worked_on(build: &Build<'_>, conductor: &Conductor) -> bool {
    let by = |part: &str| build.parts.get(part).is_some_and(Part::is_worked_on);
    by(&conductor.owner) || conductor.purpose == Purpose::EquipmentBond && by(&conductor.to.part)
}
