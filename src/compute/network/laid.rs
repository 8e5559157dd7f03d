//! How a circuit's conductors are laid, as far as the build tells, for the method of installation.

use crate::build::{Build, Circuit};
use crate::compute::electrical::ampacity::{Lies, method};
use crate::kinds::Network;
use crate::tables::iec60364::Method;

/// The method of installation of a circuit.
///
/// What lies in a conduit or sheath all the way counts as a cable in a conduit, the poorest of what that may be, and so
/// does the mains, which is never laid as single open wires. Of other conductors those between two parts of one place lie
/// open before the board; those that leave it run behind linings and through furniture, in cavities.
pub(super) fn method_of(build: &Build<'_>, circuit: &Circuit) -> Method {
    let cable = circuit.sheathed || circuit.network == Network::Ac;
    method(lies(build, circuit, cable), cable)
}

fn lies(build: &Build<'_>, circuit: &Circuit, cable: bool) -> Lies {
    if circuit.through.iter().any(|place| build.is_insulated(place)) {
        return Lies::Insulated;
    }
    let stays = circuit.through.is_empty()
        && only_place(build, &circuit.from).is_some_and(|place| {
            // Over the whole floor or shell a cable runs as it does between places.
            !build.places.get(place).is_some_and(|p| p.open.is_set()) && only_place(build, &circuit.to) == Some(place)
        });
    if stays && !cable { Lies::Open } else { Lies::Enclosed }
}

/// The place of a part that stands in one alone.
fn only_place<'a>(build: &'a Build<'_>, part: &str) -> Option<&'a str> {
    let [place] = build.parts.get(part)?.places.as_slice() else { return None };
    Some(place)
}
