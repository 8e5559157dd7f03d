//! What a test may switch on together: as much of a panel as stays within everything that feeds it, and the one load
//! that a test of the main path may use. A test never overloads what it tests.

use super::{CircuitFigures, Electrical};
use crate::build::{Build, Circuit, Feeding, Part};
use crate::kinds::{Follows, Network, Role};
use crate::units::{Amps, Volts};
use indexmap::IndexMap;
use serde::Serialize;

/// How long a load must be able to stay on by itself to be of use in a test: ten minutes. Common practice, no source.
const LONG_ENOUGH: f64 = 600.0;

/// Loads of a panel that a test switches on together.
#[derive(Clone, Debug, Default, Serialize)]
pub struct Together {
    /// Their circuits, by way.
    pub circuits: Vec<String>,
    /// What they draw.
    pub running: Amps,
    /// The same with the factor on what lasts: what has to stay within the limit.
    pub design: Amps,
    /// The least rating of all that feeds the panel.
    pub limit: Option<Amps>,
    /// The most that the panel then may lie below the source, nothing else on; `None` where that is not known.
    pub most: Option<Volts>,
}

/// By panel.
pub(super) fn of_panels(build: &Build<'_>, all: &Electrical) -> IndexMap<String, Together> {
    let panels = build.parts.values().filter(|p| matches!(p.role(), Some(Role::Panel | Role::SwitchPanel)));
    panels.map(|p| (p.id.clone(), of_panel(build, all, p))).collect()
}

fn of_panel(build: &Build<'_>, all: &Electrical, panel: &Part<'_>) -> Together {
    let limit = limit(build, all, &panel.id);
    let design = |c: &Circuit| all.circuits.get(&c.id).map_or(Amps(0.0), |f| f.design.max(f.demand.load));
    // What earlier work left with too large a fuse stays out.
    let is_out = |c: &Circuit| {
        !build.is_worked_on(c) && all.circuits.get(&c.id).is_some_and(CircuitFigures::lets_too_much_through)
    };
    let mut usable: Vec<&Circuit> = build.leaving(&panel.id).filter(|c| stays_on(build, c) && !is_out(c)).collect();
    // The heaviest first: the more flows, the more a reading tells.
    usable.sort_by(|a, b| design(b).0.total_cmp(&design(a).0).then(a.way.cmp(&b.way)));
    let mut together = Together { limit, ..Together::default() };
    let mut picked: Vec<&Circuit> = Vec::new();
    for circuit in usable {
        let sum = together.design + design(circuit);
        if design(circuit).0 > 0.0 && limit.is_none_or(|limit| sum <= limit) {
            together.design = sum;
            together.running = together.running + all.circuits.get(&circuit.id).map_or(Amps(0.0), |f| f.demand.running);
            picked.push(circuit);
        }
    }
    picked.sort_by_key(|c| c.way);
    together.circuits = picked.into_iter().map(|c| c.id.clone()).collect();
    let feed = build.arriving(&panel.id).find(|c| c.owner == panel.id).and_then(|c| all.circuits.get(&c.id));
    together.most = feed.and_then(|f| f.acceptance?.below_most(together.running));
    together
}

/// The circuit of the largest load in the house that can be left on for a test, by what it draws.
pub(super) fn largest(build: &Build<'_>, all: &Electrical) -> Option<String> {
    let inverts = |c: &Circuit| {
        let role = build.parts.get(&c.to).and_then(Part::role);
        matches!(role, Some(Role::Inverter | Role::InverterCharger)) && c.owner == c.to
    };
    let on_house = build.circuits.values().filter(|c| c.network == Network::Dc && c.feeding == Feeding::Supply);
    let mut largest: Option<(&Circuit, Amps)> = None;
    for circuit in on_house.filter(|c| inverts(c) || is_load(build, c) && stays_on(build, c)) {
        let Some(figures) = all.circuits.get(&circuit.id) else { continue };
        let fits = limit(build, all, &circuit.from).is_none_or(|limit| figures.design <= limit);
        if fits && figures.demand.running > largest.map_or(Amps(0.0), |(_, amps)| amps) {
            largest = Some((circuit, figures.demand.running));
        }
    }
    largest.map(|(circuit, _)| circuit.id.clone())
}

/// What is switched on so that the conductors of a circuit carry enough to be tested: the largest that hangs behind it, with what
/// it draws, of what can be left on where one of that reaches `least`; `None` where there is none.
#[must_use]
pub fn load_behind<'b>(
    build: &'b Build<'_>,
    all: &Electrical,
    circuit: &'b Circuit,
    least: Amps,
) -> Option<(&'b Circuit, Amps)> {
    let role = |id: &str| build.parts.get(id).and_then(Part::role);
    let running = |c: &'b Circuit| Some((c, all.circuits.get(&c.id)?.demand.running));
    // Everything comes back through the negative of the bank.
    if circuit.feeding == Feeding::Return || role(&circuit.to) == Some(Role::Shunt) {
        return running(build.circuits.get(all.largest.as_ref()?)?);
    }
    let takes_all = |c: &Circuit| {
        let machine = matches!(
            role(&c.to).filter(|_| c.to == c.owner),
            Some(Role::Inverter | Role::InverterCharger | Role::Converter | Role::Charger)
        );
        machine && c.feeding.draws()
    };
    let on_it = |c: &Circuit| c.network == circuit.network && c.feeding != Feeding::Return;
    let below = build.downstream(&circuit.to).along(on_it);
    let ends = |c: &&Circuit| takes_all(c) || c.feeding == Feeding::Supply && is_load(build, c);
    let ends: Vec<(&Circuit, Amps)> = std::iter::once(circuit).chain(below).filter(ends).filter_map(running).collect();
    let largest = |some: &mut dyn Iterator<Item = (&'b Circuit, Amps)>| {
        some.reduce(|most, one| if one.1 > most.1 { one } else { most })
    };
    let lasting = largest(&mut ends.iter().copied().filter(|(c, _)| takes_all(c) || stays_on(build, c)));
    lasting.filter(|(_, amps)| *amps >= least).or_else(|| largest(&mut ends.iter().copied()))
}

fn is_load(build: &Build<'_>, circuit: &Circuit) -> bool {
    matches!(build.parts.get(&circuit.to).and_then(Part::role), Some(Role::Load | Role::Display))
}

/// Whether all behind a circuit can be switched on and left on: no thermostat against cold, no water, no burner, no motor for a
/// moment, nothing that only takes what is plugged in.
fn stays_on(build: &Build<'_>, circuit: &Circuit) -> bool {
    let role = |id: &str| build.parts.get(id).and_then(Part::role);
    let behind = |c: &Circuit| c.network == circuit.network && role(&c.from) == Some(Role::Control);
    let below = build.downstream(&circuit.to).along(behind);
    std::iter::once(circuit).chain(below).all(|c| {
        let part = build.parts.get(&c.to).filter(|_| c.feeding == Feeding::Supply);
        part.is_some_and(|part| match part.role() {
            Some(Role::Load | Role::Display) => can_stay_on(part),
            Some(Role::Control) => build.leaving(&part.id).any(|c| c.network == circuit.network),
            _ => false,
        })
    })
}

/// Whether a way is left alone while its panel is made live: what it feeds needs water, fuel, free travel or settings first, or
/// is tested by itself. Its own test switches the way on.
#[must_use]
pub fn waits_for_its_test(build: &Build<'_>, circuit: &Circuit) -> bool {
    let to = build.parts.get(&circuit.to).filter(|part| build.tasks_of(&part.id).next().is_some()).and_then(Part::role);
    circuit.way.is_some()
        && circuit.feeding == Feeding::Supply
        && match to {
            Some(Role::Load | Role::Control) => !stays_on(build, circuit),
            Some(role) => matches!(
                role,
                Role::Panel
                    | Role::SwitchPanel
                    | Role::Charger
                    | Role::Converter
                    | Role::Inverter
                    | Role::InverterCharger
            ),
            None => false,
        }
}

fn can_stay_on(load: &Part<'_>) -> bool {
    let kind = load.kind;
    let hours = load.roles.hours().get().map(|s| s.0);
    // A warm fridge and a cooler run at once; a thermostat in a warm workshop does not.
    !matches!(kind.energy.follows, Some(Follows::Frost | Follows::Heating))
        && kind.plumbing.is_none()
        && kind.air.is_none()
        && !kind.electric.is_some_and(|e| e.long_start)
        && hours.is_none_or(|hours| hours >= LONG_ENOUGH)
}

/// The least rating of what feeds `part` from its source on: devices, switches, busbars, panels, the bank.
fn limit(build: &Build<'_>, all: &Electrical, part: &str) -> Option<Amps> {
    let mut least: Option<Amps> = None;
    let mut take = |rating: Option<Amps>| {
        if let Some(rating) = rating.filter(|r| r.0 > 0.0) {
            least = Some(least.map_or(rating, |l| l.min(rating)));
        }
    };
    let passes = |id: &str| build.parts.get(id).and_then(Part::role).is_some_and(Role::passes_through);
    let rating = |id: &str| {
        let roles = &build.parts.get(id)?.roles;
        if passes(id) { roles.rating().get() } else { roles.max_discharge().get() }
    };
    take(rating(part));
    for feeder in build.upstream(part).along(|c| c.network == Network::Dc && c.owner == c.to && passes(&c.to)).single()
    {
        take(all.circuits.get(&feeder.id).and_then(|f| f.device.rating));
        take(rating(&feeder.from));
    }
    least
}
