//! Fault current at the source end of every DC circuit: what its device must be able to break.

use super::{CircuitFigures, Electrical};
use crate::build::{Build, Circuit, Part};
use crate::compute::electrical::interrupting::{Interrupting, Upstream, judge};
use crate::compute::electrical::{fault, resistance};
use crate::kinds::{Network, Role};
use crate::tables::conductor_series::Finish;
use crate::units::{Celsius, Ohms, Volts};
use indexmap::IndexMap;

/// Conductors are taken cold: that gives the highest current.
const COLD: Celsius = Celsius(20.0);

pub(super) fn faults(build: &Build<'_>, all: &mut Electrical) {
    let mut path: IndexMap<String, (Volts, Ohms, Ohms)> = IndexMap::new();
    for (id, bank) in &all.banks {
        path.insert(id.clone(), (bank.volts, bank.resistance, Ohms(0.0)));
    }
    let mut found = Vec::new();
    for circuit in build.circuits.values().filter(|c| c.network == Network::Dc && c.owner == c.to) {
        let Some(&(volts, inside, cables)) = path.get(&circuit.from) else { continue };
        found.push((circuit.id.clone(), fault::prospective(volts, inside, cables)));
        if build.parts.get(&circuit.to).and_then(Part::role).is_some_and(Role::passes_through) {
            let own = loop_resistance(circuit, all.circuits.get(&circuit.id));
            path.entry(circuit.to.clone()).or_insert((volts, inside, cables + own));
        }
    }
    // A charger's output is protected at the busbar, where the bank's fault current comes from.
    for circuit in build.circuits.values().filter(|c| c.network == Network::Dc && c.owner == c.from) {
        if let Some(&(volts, inside, cables)) = path.get(&circuit.to) {
            found.push((circuit.id.clone(), fault::prospective(volts, inside, cables)));
        }
    }
    for (id, current) in found {
        if let Some(figures) = all.circuits.get_mut(&id) {
            figures.fault = current;
        }
    }
}

/// Judges every own device against the fault current at its place.
pub(super) fn breaking(build: &Build<'_>, all: &mut Electrical) {
    let judged: Vec<_> = build.circuits.values().filter_map(|c| Some((c.id.clone(), judged(build, all, c)?))).collect();
    for (id, judgement) in judged {
        if let Some(figures) = all.circuits.get_mut(&id) {
            figures.breaking = Some(judgement);
        }
    }
}

fn judged(build: &Build<'_>, all: &Electrical, circuit: &Circuit) -> Option<Interrupting> {
    let figures = all.circuits.get(&circuit.id).filter(|f| f.device.is_own())?;
    let first = build.parts.get(&circuit.from).and_then(Part::role) == Some(Role::Bank);
    let upstream = if first { None } else { current_limiting_above(build, all, circuit) };
    Some(judge(figures.fault?, figures.device.interrupting?, upstream))
}

/// The nearest current-limiting device between the bank and this circuit's own.
fn current_limiting_above(build: &Build<'_>, all: &Electrical, circuit: &Circuit) -> Option<Upstream> {
    let mut at = if circuit.owner == circuit.from { &circuit.to } else { &circuit.from };
    // No chain of feeders is this long; loops were left out before.
    for _ in 0..32 {
        let feeder = build.arriving(at).find(|c| c.owner == c.to && c.network == circuit.network)?;
        let device = &all.circuits.get(&feeder.id)?.device;
        if let (true, Some(family), Some(interrupting)) = (device.is_own(), device.family, device.interrupting)
            && family.series().current_limiting
        {
            return Some(Upstream { current_limiting: true, interrupting });
        }
        at = &feeder.from;
    }
    None
}

fn loop_resistance(circuit: &Circuit, figures: Option<&CircuitFigures>) -> Ohms {
    let (Some(run), Some(sized)) = (circuit.run, figures.and_then(CircuitFigures::conductor)) else { return Ohms(0.0) };
    (resistance::per_metre(sized.size, Finish::Plain, COLD) * run) * 2.0
}
