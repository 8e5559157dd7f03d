//! How a limit of the voltage drop is shared: it counts from the source to the load, and every feeder before takes of it.

use super::totals::in_legs;
use crate::build::{Build, Circuit, Part};
use crate::compute::electrical::acceptance::{USUAL_FUSE, USUAL_SWITCH};
use crate::compute::electrical::positive;
use crate::kinds::{Network, Role};
use crate::units::{Ratio, Volts};

/// Where the feeders leave less than this share of the limit, no conductor of the last circuit mends it: it is held to the
/// limit by itself, and what is lost in all is told. Common practice, no source.
const LEAST: f64 = 0.25;

/// What a circuit may lose itself, where so much is lost `before` it.
pub(super) fn left(
    build: &Build<'_>,
    circuit: &Circuit,
    (limit, nominal): (Ratio, Volts),
    before: Volts,
    is_fused: bool,
) -> Ratio {
    let to = build.parts.get(&circuit.to).and_then(Part::role);
    let shares = circuit.feeding.draws() && circuit.network != Network::Pv;
    let Some(nominal) = positive(nominal.0).filter(|_| shares) else { return limit };
    // A feeder is held to the limit by itself: heavier ones would raise the current of a short beyond what the fuses behind
    // them break.
    if to.is_some_and(Role::passes_through) {
        return limit;
    }
    let fuse = if is_fused { USUAL_FUSE.0 / nominal } else { 0.0 };
    let switch = if circuit.switched_at.is_some() { USUAL_SWITCH.0 / nominal } else { 0.0 };
    let left = limit.0 - before.0 / nominal - fuse - switch;
    let left = if left < limit.0 * LEAST { limit.0 } else { left };
    // The legs of several fittings are as thick as the supply and lose their part of it.
    let with_legs = match circuit.run.filter(|run| run.0 > 0.0) {
        Some(run) => 1.0 + in_legs(build, circuit).0 / (2.0 * run.0),
        None => 1.0,
    };
    Ratio(left / with_legs)
}
