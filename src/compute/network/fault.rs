//! Fault current where the device of every DC circuit sits: what it must be able to break.
//!
//! The bank alone drives it, through its own resistance and that of the cables both ways, cold: what chargers, the
//! alternator and joints, fuses and switches on the way add or take is left out.

use super::{Bank, CircuitFigures, DeviceAt, bank, converter};
use crate::build::{Build, Circuit, Feeding, Part};
use crate::compute::electrical::interrupting::{Interrupting, judge};
use crate::compute::electrical::{fault, resistance};
use crate::kinds::{Network, Role};
use crate::tables::conductor_series::Finish;
use crate::units::{Amps, Ohms, Volts};
use indexmap::IndexMap;
use serde::Serialize;

/// A dead short somewhere.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Short {
    /// Voltage that drives it.
    pub volts: Volts,
    /// Bank and cables both ways, cold.
    pub ohms: Ohms,
    /// The current.
    pub current: Amps,
}

impl Short {
    fn of(volts: Volts, ohms: Ohms) -> Option<Self> {
        Some(Self { volts, ohms, current: fault::prospective(volts, ohms, Ohms(0.0))? })
    }
}

/// Shorts at the parts that current passes through, found feeders first, each once.
pub(super) struct Shorts {
    at: IndexMap<String, Short>,
}

impl Shorts {
    /// At the posts of the banks, and at the outputs of converters, which limit it themselves.
    pub(super) fn of_sources(build: &Build<'_>) -> Self {
        let short = |p: &Part<'_>| {
            let short = match p.role()? {
                Role::Bank => Short::of(bank::voltage(p)?, bank::resistance(p)?)?,
                Role::Converter => {
                    let (volts, limit) = (p.roles.output_voltage().get()?, converter::limit(p)?);
                    Short::of(volts, volts / limit)?
                }
                _ => return None,
            };
            Some((p.id.clone(), short))
        };
        Self { at: build.parts.values().filter_map(short).collect() }
    }

    /// Where the circuit leaves the bank's side: its source, for a charger's output the busbar it ends on.
    pub(super) fn before(&self, circuit: &Circuit) -> Option<Short> {
        let bank_side = if circuit.owner == circuit.from { &circuit.to } else { &circuit.from };
        let supplies = circuit.network == Network::Dc && circuit.feeding != Feeding::Return;
        self.at.get(bank_side).copied().filter(|_| supplies)
    }

    /// Behind the cable of the circuit.
    fn behind(&self, circuit: &Circuit, figures: &CircuitFigures) -> Option<Short> {
        let before = self.before(circuit)?;
        Short::of(before.volts, before.ohms + loop_resistance(circuit, figures))
    }

    /// Where the circuit's device sits: a fuse that is a component of its own stands behind the cable to it.
    pub(super) fn of_device(&self, circuit: &Circuit, figures: &CircuitFigures) -> Option<Short> {
        match figures.device.at {
            DeviceAt::Component(_) => self.behind(circuit, figures),
            _ => self.before(circuit),
        }
    }

    /// Goes on through the part at the end of the circuit. Several feeds of one part add up.
    pub(super) fn pass(&mut self, build: &Build<'_>, circuit: &Circuit, figures: &CircuitFigures) {
        let passes = build.parts.get(&circuit.to).and_then(Part::role).is_some_and(Role::passes_through);
        if !passes || circuit.owner != circuit.to {
            return;
        }
        let Some(short) = self.behind(circuit, figures) else { return };
        let sum = match self.at.get(&circuit.to) {
            // Two alike add up as well.
            Some(known) => {
                let (volts, sum) = (known.volts.max(short.volts), known.current + short.current);
                Short { volts, ohms: volts / sum, current: sum }
            }
            None => short,
        };
        self.at.insert(circuit.to.clone(), sum);
    }
}

/// Judges the device of a circuit against the fault current at its place.
pub(super) fn judged(figures: &CircuitFigures) -> Option<Interrupting> {
    let short = figures.fault.filter(|_| figures.device.is_own())?;
    Some(judge(short.current, &figures.device.breaks))
}

/// Whether every bank's fault current rests on what the spec gives, and not on what is usual.
#[must_use]
pub fn is_of_makers(banks: &IndexMap<String, Bank>) -> bool {
    banks.values().all(|b| b.fault_given)
}

fn loop_resistance(circuit: &Circuit, figures: &CircuitFigures) -> Ohms {
    let (Some(run), Some(sized)) = (circuit.run, figures.conductor()) else { return Ohms(0.0) };
    (resistance::per_metre(sized.size, Finish::Plain, resistance::COLD) * run) * (2.0 / sized.shares())
}
