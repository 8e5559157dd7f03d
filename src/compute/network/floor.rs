//! Least rating of a device left open: larger than every device it feeds, and not opened by a motor that starts.
//!
//! A fault in one circuit should open that circuit's fuse alone. Common practice, no source.

use super::{Demand, Electrical, device};
use crate::build::{Build, Feeding};
use crate::kinds::{Network, Role};
use crate::units::Amps;
use indexmap::IndexMap;

/// Margin that makes "at least" mean "above": no two standard ratings are closer.
const ABOVE: Amps = Amps(0.1);

/// Multiple of its rating that a blade fuse carries while a motor starts: at 1.6 times it holds for 0.25 s at least by
/// ISO 8820-3, from memory; it sizes, it is no error.
const MOTOR_START: f64 = 1.6;

/// The floor of every DC circuit, by id.
pub(super) fn floors(
    build: &Build<'_>,
    all: &Electrical,
    demands: &IndexMap<String, Demand>,
) -> IndexMap<String, Amps> {
    let mut floors: IndexMap<String, Amps> = IndexMap::new();
    let mut ratings: IndexMap<&str, Amps> = IndexMap::new();
    // Circuits stand feeders first: taken backwards, those further down are known.
    for circuit in build.circuits.values().rev().filter(|c| c.network == Network::Dc) {
        // A charger's output joins a busbar that the bank feeds: what hangs there is not behind the charger.
        let supplies = circuit.owner == circuit.to && circuit.feeding != Feeding::Return;
        let passes = supplies
            && build.parts.get(&circuit.to).and_then(crate::build::Part::role).is_some_and(Role::passes_through);
        let below = build.leaving(&circuit.to).filter(|c| passes && c.network == Network::Dc && c.owner == c.to);
        let largest = below.filter_map(|c| ratings.get(c.id.as_str())).copied().fold(Amps(0.0), Amps::max);
        let selective = if largest.0 > 0.0 { largest + ABOVE } else { Amps(0.0) };
        let start =
            demands.get(&circuit.id).filter(|d| supplies && d.surge.0 > 0.0).map_or(Amps(0.0), |d| d.load + d.surge);
        let floor = selective.max(start * (1.0 / MOTOR_START));
        let design = demands.get(&circuit.id).map_or(Amps(0.0), |d| d.design(all.profile.continuous_factor));
        // The fault current at its place is not known yet, and may decide the family: the larger rating counts.
        let of = |fault| {
            let wanted = device::wanted(build, all, circuit, design.max(floor), fault);
            let next = wanted.family.and_then(|f| f.series().at_least(design.max(floor)));
            if wanted.is_own() { wanted.rating.or(next).unwrap_or(largest) } else { largest }
        };
        let rating = of(Amps(0.0)).max(of(Amps(f64::INFINITY)));
        ratings.insert(&circuit.id, rating);
        floors.insert(circuit.id.clone(), floor);
    }
    floors
}
