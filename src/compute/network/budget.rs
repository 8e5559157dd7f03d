//! How a limit of the voltage drop is shared: it counts from the source to the load, and every circuit on the way takes of it.

use crate::build::{Build, Circuit, Part};
use crate::compute::electrical::acceptance::USUAL_FUSE;
use crate::compute::electrical::positive;
use crate::kinds::{Network, Role};
use crate::units::{Ratio, Volts};

/// Share of a limit that the cables of all feeders before a load may take together: what fuses and switches lose on the way
/// takes as much again, and the last and longest cable needs the rest. Common practice, no source.
const FOR_FEEDERS: f64 = 0.25;

/// The last circuit is not held to less than this share of its limit: a larger conductor there would mend nothing, and what
/// is lost in all is told.
const LEAST_OWN: f64 = 0.35;

/// What a circuit may lose itself, where so much is lost `before` it, and so much of that in `cables`.
pub(super) fn left(
    build: &Build<'_>,
    circuit: &Circuit,
    (limit, nominal): (Ratio, Volts),
    (before, cables): (Volts, Volts),
    is_fused: bool,
) -> Ratio {
    let Some(nominal) = positive(nominal.0) else { return limit };
    if circuit.network == Network::Pv || !circuit.feeding.draws() {
        return limit;
    }
    if is_feeder(build, circuit) {
        let left = (limit.0 * FOR_FEEDERS - cables.0 / nominal).max(0.0);
        // At least what the last of a long row would have.
        return Ratio((left / feeders_from(build, circuit)).max(limit.0 * FOR_FEEDERS / 10.0));
    }
    let fuse = if is_fused { USUAL_FUSE.0 / nominal } else { 0.0 };
    Ratio((limit.0 - before.0 / nominal - fuse).max(limit.0 * LEAST_OWN))
}

fn is_feeder(build: &Build<'_>, circuit: &Circuit) -> bool {
    let to = build.parts.get(&circuit.to).and_then(Part::role);
    to.is_some_and(|role| role.passes_through() && role != Role::Control)
}

/// Feeders in the row from a circuit on: as far as the first of each that leave leads.
fn feeders_from(build: &Build<'_>, circuit: &Circuit) -> f64 {
    let mut count = 1.0;
    let below = build.downstream(&circuit.to).along(|c| c.network == circuit.network && c.feeding.draws());
    let mut at = circuit.to.as_str();
    for next in below.filter(|c| is_feeder(build, c)) {
        if next.from == at {
            count += 1.0;
            at = &next.to;
        }
    }
    count
}
