//! The loop of line and earth: whether a fault to a case opens the breaker at once.

use super::Electrical;
use crate::build::{Build, Circuit, Part};
use crate::compute::electrical::{ac, resistance};
use crate::kinds::{Carries, Network, Role};
use crate::tables::breaker_curve::Curve;
use crate::tables::conductor_series::Finish;
use crate::tables::shore_lead;
use crate::units::{Amps, Ohms};
use indexmap::IndexMap;
use serde::Serialize;
use std::collections::BTreeMap;

/// The loop of a circuit that shore power feeds.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FaultLoop {
    /// Inlet that it begins at.
    pub inlet: String,
    /// Rating of the breaker that is to open.
    pub rating: Amps,
    /// Its curve.
    pub curve: Curve,
    /// The most that the whole loop may have, measured cold.
    pub most: Ohms,
    /// The lead carried aboard, both ways.
    pub lead: Ohms,
    /// Line and earth of the van and its lead; `None` where a length or size on the way is not known.
    pub own: Option<Ohms>,
}

/// Of every AC circuit that ends at a user, shore power reaches and a breaker of known curve protects.
pub(super) fn loops(build: &Build<'_>, all: &Electrical) -> IndexMap<String, FaultLoop> {
    let ends = build.circuits.values().filter(|c| c.network == Network::Ac && super::is_end(build, c));
    ends.filter_map(|c| Some((c.id.clone(), of(build, all, c)?))).collect()
}

fn of(build: &Build<'_>, all: &Electrical, circuit: &Circuit) -> Option<FaultLoop> {
    let device = &all.circuits.get(&circuit.id)?.device;
    let (curve, rating) = (device.curve?, device.rating?);
    let way = from_inlet(build, circuit)?;
    let inlet = build.parts.get(&way.first()?.from)?;
    let most = ac::loop_most(all.profile.ac.volts, rating, curve.opens_at())?;
    let lead = lead(inlet, all);
    let own = way.iter().try_fold(lead, |sum, c| Some(sum + line_and_earth(build, all, c)?));
    Some(FaultLoop { inlet: inlet.id.clone(), rating, curve, most, lead, own })
}

/// The circuits from an inlet to the end of one, in the direction of the current.
fn from_inlet<'a>(build: &'a Build<'_>, circuit: &'a Circuit) -> Option<Vec<&'a Circuit>> {
    let is_inlet = |p: &Part<'_>| p.role() == Some(Role::Inlet);
    let from = build.parts.get(&circuit.from)?;
    if is_inlet(from) {
        return Some(vec![circuit]);
    }
    let above = build.upstream(&from.id).along(|c| c.network == Network::Ac);
    // Of each part above the circuit by which its current goes on.
    let on: BTreeMap<&str, &Circuit> = above.reached().map(|(part, by)| (part.id.as_str(), by)).collect();
    let mut at = build.parts.values().find(|p| is_inlet(p) && on.contains_key(p.id.as_str()))?.id.as_str();
    let mut way = Vec::new();
    while let Some(next) = on.get(at) {
        way.push(*next);
        at = &next.to;
    }
    way.push(circuit);
    Some(way)
}

/// Line and protective earth of a circuit, cold. What has no earth of its own has it in that of the part behind it.
fn line_and_earth(build: &Build<'_>, all: &Electrical, circuit: &Circuit) -> Option<Ohms> {
    let counts = build.conductors_of(circuit).filter(|c| matches!(c.carries, Carries::Line | Carries::Earth));
    counts.map(|c| Some(all.conductors.get(&c.id)?.good?.conductor)).sum()
}

/// The lead carried aboard, line and earth: of the given size, else of the least for its inlet.
fn lead(inlet: &Part<'_>, all: &Electrical) -> Ohms {
    let usual = || Some(shore_lead::least(inlet.roles.rating().get()?, all.profile.series)?.0);
    let size = inlet.roles.cord_conductor().get().or_else(usual);
    let known = inlet.roles.cord().get().zip(size);
    known.map_or(Ohms(0.0), |(length, size)| {
        (resistance::per_metre(size, Finish::Plain, resistance::COLD) * length) * 2.0
    })
}
