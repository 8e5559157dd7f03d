//! How many loaded conductors lie side by side with those of a circuit, counted where they lie in channels.

use super::Electrical;
use crate::build::{Build, Conductor};
use crate::compute::electrical::ampacity::{Installation, for_bundle};
use crate::compute::electrical::grouping::{Loaded, counts};
use crate::compute::electrical::size::Sized;
use crate::units::Amps;
use std::collections::BTreeMap;

/// By circuit, of those in channels of which the spec gives no `bundle`. `alone` has all circuits sized as if each lay by
/// itself: with the others a conductor only grows, so that none is taken for idle that is not.
pub(super) fn counted(build: &Build<'_>, alone: &Electrical) -> BTreeMap<String, u32> {
    let mut most: BTreeMap<String, u32> = BTreeMap::new();
    for piece in build.wiring.pieces() {
        let together: Vec<(&Conductor, Loaded)> =
            piece.filter(|c| c.is_loaded()).filter_map(|c| Some((c, loaded(alone, c)?))).collect();
        for (at, (conductor, _)) in together.iter().enumerate() {
            let Some(circuit) = conductor.circuit.as_ref().filter(|id| !build.circuits[*id].bundle_given) else {
                continue;
            };
            let Some(installation) = alone.circuits.get(circuit).map(|f| f.installation) else { continue };
            let Installation { rule, volts, bundle_at_all_voltages: always, .. } = installation;
            let factor = |n: u32| for_bundle(rule, n, volts, always);
            let bundle: Vec<Loaded> = together.iter().map(|(_, loaded)| *loaded).collect();
            let idle = alone.profile.idle_share(installation.volts);
            let count = counts(&bundle, idle, factor).get(at).copied().unwrap_or(1);
            let own = most.entry(circuit.clone()).or_default();
            *own = count.max(*own);
        }
    }
    most
}

/// What a conductor carries, and what it may by itself.
fn loaded(alone: &Electrical, conductor: &Conductor) -> Option<Loaded> {
    let figures = alone.circuits.get(conductor.circuit.as_ref()?)?;
    let shares = figures.conductor().map_or(1.0, Sized::shares);
    let may = figures.conductor().and_then(|s| s.ampacity.as_ref()).map_or(Amps(0.0), |a| a.corrected);
    Some(Loaded { load: figures.demand.load * (1.0 / shares), alone: may * (1.0 / shares) })
}
