//! What hangs on converters.

use super::converter::rating;
use super::demand::supply;
use super::{Electrical, nominal};
use crate::build::Build;
use crate::kinds::{Network, Role};
use crate::units::Amps;
use indexmap::IndexMap;
use serde::Serialize;

/// Load on the converters that feed one part together.
#[derive(Clone, Debug, Serialize)]
pub struct ConverterLoad {
    /// The converters.
    pub converters: Vec<String>,
    /// What they give together without end.
    pub rating: Amps,
    /// What hangs on them and runs together.
    pub load: Amps,
}

/// Loads on converters, by the part they feed.
pub(super) fn loads(build: &Build<'_>, all: &Electrical) -> IndexMap<String, ConverterLoad> {
    let mut loads: IndexMap<String, ConverterLoad> = IndexMap::new();
    let known = |id: &str| all.circuits.get(id).map(|c| c.demand);
    for part in build.parts.values().filter(|p| p.role() == Some(Role::Converter)) {
        for circuit in build.leaving(&part.id).filter(|c| c.network == Network::Dc && c.feeding.draws()) {
            let (Some(to), Some(rating)) = (build.parts.get(&circuit.to), rating(part)) else { continue };
            let volts = nominal(build, circuit, &all.profile);
            // Those that feed several parts by themselves are held to the sum.
            let several = to.supply.fed_from.all().len() > 1;
            let key = if several { to.id.clone() } else { part.id.clone() };
            let load = supply(build, to, volts, &known).load;
            let entry = loads.entry(key);
            let sum =
                entry.or_insert_with(|| ConverterLoad { converters: Vec::new(), rating: Amps(0.0), load: Amps(0.0) });
            if !sum.converters.contains(&part.id) {
                sum.converters.push(part.id.clone());
                sum.rating = sum.rating + rating;
            }
            sum.load = if several { sum.load.max(load) } else { sum.load + load };
        }
    }
    loads
}
