//! Where in the spec the device of a circuit stands.

use crate::build::Circuit;
use crate::checks::Context;
use crate::compute::network::{CircuitFigures, DeviceAt};
use crate::source::Span;

/// Place of the device's rating: `protection` of the circuit, or `field` of the fuse that is a component of its own.
pub(super) fn device_span(context: &Context<'_>, circuit: &Circuit, figures: &CircuitFigures, field: &str) -> Span {
    let own = match &figures.device.at {
        DeviceAt::Component(id) => context.part(id).and_then(|p| p.record.get(field)).filter(|e| e.given),
        _ => None,
    };
    own.map_or_else(|| circuit.span_of(&context.build.parts, "protection"), |e| e.span)
}
