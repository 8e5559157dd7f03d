//! What the protective earth of a part may measure.

use super::Electrical;
use crate::build::{Build, Circuit, Part, Purpose};
use crate::kinds::{Carries, Network, Role};
use crate::units::Ohms;

/// The most that the protective earth of a part's AC circuit may read from what feeds it to the last of its fittings; of a
/// panel, from its bar over everything on the way to the farthest end that it feeds. `None` where a length is not known.
#[must_use]
pub fn earth_most(build: &Build<'_>, electrical: &Electrical, part: &Part<'_>) -> Option<Ohms> {
    if part.role() == Some(Role::AcPanel) {
        return behind(build, electrical, &part.id, &mut Vec::new()).filter(|most| most.0 > 0.0);
    }
    of_circuit(build, electrical, build.circuits.get(&part.id).filter(|c| c.network == Network::Ac)?)
}

/// The longest way from a part to an end that it feeds.
fn behind<'b>(build: &'b Build<'_>, all: &Electrical, part: &'b str, passed: &mut Vec<&'b str>) -> Option<Ohms> {
    let mut most = Ohms(0.0);
    passed.push(part);
    for circuit in build.leaving(part).filter(|c| c.network == Network::Ac) {
        if passed.contains(&circuit.to.as_str()) {
            continue;
        }
        let own = of_circuit(build, all, circuit)?;
        most = most.max(own + behind(build, all, &circuit.to, passed)?);
    }
    passed.pop();
    Some(most)
}

/// The earth of one circuit with its legs: of a chain all of them, of a star the longest.
fn of_circuit(build: &Build<'_>, all: &Electrical, circuit: &Circuit) -> Option<Ohms> {
    let is_star = build.parts.get(&circuit.to).is_some_and(|part| part.roles.legs().text() == Some("star"));
    let (mut own, mut legs) = (None, Ohms(0.0));
    for conductor in build.conductors_of(circuit).filter(|c| c.carries == Carries::Earth) {
        let most = all.conductors.get(&conductor.id)?.good?.conductor_most;
        match conductor.purpose {
            Purpose::Leg if is_star => legs = legs.max(most),
            Purpose::Leg => legs = legs + most,
            _ => own = Some(own.map_or(most, |own: Ohms| own.max(most))),
        }
    }
    own.map(|own| own + legs)
}
