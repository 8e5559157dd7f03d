//! What the protective earth of a part may measure.

use super::Electrical;
use crate::build::{Build, Circuit, Part};
use crate::kinds::{Carries, Network, Role};
use crate::units::Ohms;

/// The most that the protective earth of a part's AC circuit may read up to the AC panel; of a panel, of its longest way.
#[must_use]
pub fn earth_most(build: &Build<'_>, electrical: &Electrical, part: &Part<'_>) -> Option<Ohms> {
    let of_circuit = |circuit: &Circuit| {
        let earth = build.conductors_of(circuit).find(|c| c.carries == Carries::Earth)?;
        Some(electrical.conductors.get(&earth.id)?.good?.conductor_most)
    };
    let has_ways = part.role() == Some(Role::AcPanel);
    let of_ways = build.leaving(&part.id).filter(|_| has_ways);
    let own = build.circuits.get(&part.id).filter(|_| !has_ways);
    of_ways.chain(own).filter(|c| c.network == Network::Ac).filter_map(of_circuit).reduce(Ohms::max)
}
