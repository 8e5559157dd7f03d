//! What the checks of pads and traces share: heat put in that is less than the heat lost.

use crate::checks::Context;
use crate::checks::compare::above;
use crate::compute::heat::Held;
use crate::diag::{Finding, Sink};
use crate::units::Watts;
use indexmap::IndexMap;

/// What differs between them.
pub(super) struct Words<'a> {
    /// What is kept warm.
    pub what: &'a str,
    /// What the loss rests on.
    pub basis: &'a str,
    /// What to do, after the power needed.
    pub mend: &'a str,
}

/// Reports every part of `held` that gives less than is lost.
pub(super) fn find(
    context: &Context<'_>,
    sink: &mut Sink,
    name: &'static str,
    held: &IndexMap<String, Held>,
    words: &Words<'_>,
) {
    for (id, held) in held {
        let Some(part) = context.part(id).filter(|_| above(held.need, held.power)) else { continue };
        let show = |w: f64| Watts(w).show(context.build.prints());
        let headline = format!("{id} gives {}, its {} loses {}", show(held.power), words.what, show(held.need));
        sink.push(
            Finding::warning(name, headline)
                .about(id)
                .at(part.roles.draw().span, show(held.power))
                .basis(words.basis)
                .help(format!("{} {}", show(held.need), words.mend)),
        );
    }
}
