//! Where in the spec the device of a circuit stands.

use crate::build::{Circuit, Part};
use crate::checks::Context;
use crate::compute::network::{CircuitFigures, DeviceAt};
use crate::source::Span;

/// Place of the device's rating: `protection` of the circuit, or that field of the fuse that is a component of its own.
pub(super) fn device_span(context: &Context<'_>, circuit: &Circuit, figures: &CircuitFigures, field: Of) -> Span {
    let own = match &figures.device.at {
        DeviceAt::Component(id) => context.part(id).and_then(|p| field.given(p)),
        _ => None,
    };
    own.unwrap_or_else(|| circuit.span_of(&context.build.parts, "protection"))
}

/// Which field of a fuse that is a component of its own.
#[derive(Clone, Copy, Debug)]
pub(super) enum Of {
    /// Its family.
    Family,
    /// Its rating.
    Rating,
}

impl Of {
    fn given(self, part: &Part<'_>) -> Option<Span> {
        let (family, rating) = (part.roles.family(), part.roles.rating());
        let (given, span) = match self {
            Self::Family => (family.given, family.span),
            Self::Rating => (rating.given, rating.span),
        };
        given.then_some(span)
    }
}
