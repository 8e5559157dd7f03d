//! Least rating of a device left open, so that it is larger than every device it feeds.
//!
//! A fault in one circuit should open that circuit's fuse alone. Common practice, no source.

use super::{Demand, Electrical, device};
use crate::build::Build;
use crate::kinds::{Network, Role};
use crate::units::Amps;
use indexmap::IndexMap;

/// Margin that makes "at least" mean "above": no two standard ratings are closer.
const ABOVE: Amps = Amps(0.1);

/// The floor of every DC circuit that feeds others, by id.
pub(super) fn floors(build: &Build<'_>, all: &Electrical, demands: &IndexMap<String, Demand>) -> IndexMap<String, Amps> {
    let mut floors: IndexMap<String, Amps> = IndexMap::new();
    let mut ratings: IndexMap<&str, Amps> = IndexMap::new();
    // Circuits stand feeders first: taken backwards, those further down are known.
    for circuit in build.circuits.values().rev().filter(|c| c.network == Network::Dc) {
        // A charger's output joins a busbar that the bank feeds: what hangs there is not behind the charger.
        let supplies = circuit.owner == circuit.to;
        let passes = supplies && build.parts.get(&circuit.to).and_then(|p| p.role()).is_some_and(Role::passes_through);
        let below = build.leaving(&circuit.to).filter(|c| passes && c.network == Network::Dc && c.owner == c.to);
        let largest = below.filter_map(|c| ratings.get(c.id.as_str())).copied().fold(Amps(0.0), Amps::max);
        let floor = if largest.0 > 0.0 { largest + ABOVE } else { Amps(0.0) };
        let design = demands.get(&circuit.id).map_or(Amps(0.0), |d| d.design(all.profile.continuous_factor));
        let wanted = device::wanted(build, all, circuit, design.max(floor));
        let next = wanted.family.and_then(|f| f.series().at_least(design.max(floor)));
        let rating = if wanted.is_own() { wanted.rating.or(next).unwrap_or(largest) } else { largest };
        ratings.insert(&circuit.id, rating);
        floors.insert(circuit.id.clone(), floor);
    }
    floors
}
