//! What the checks of pads and traces share: heat put in that is less than the heat lost.

use crate::checks::Context;
use crate::checks::compare::above;
use crate::compute::heat::Held;
use crate::diag::{Finding, Sink};
use crate::units::{Celsius, Watts};
use indexmap::IndexMap;

/// What differs between them.
pub(super) struct Words<'a> {
    /// What is kept warm.
    pub what: &'a str,
    /// What the loss rests on.
    pub basis: &'a str,
    /// What is added to it.
    pub extra: &'a str,
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
        let celsius = |t: f64| Celsius(t).show(context.build.prints());
        let low = context.heat.frost().map_or(String::new(), |t| format!(" at {}", celsius(t)));
        let headline = format!("{id} gives {}, its {} loses {}{low}", show(held.power), words.what, show(held.need));
        let on_record = context.heat.record_low.is_some();
        // Where no record is told, the usual low is what the finding is about already.
        let usual =
            context.heat.coldest.as_ref().filter(|_| on_record).map_or(String::new(), |c| {
                format!("; {} at the usual low of {}", show(held.usual), celsius(c.celsius))
            });
        let colder = if on_record { "`record_low`" } else { "`low`" };
        sink.push(
            Finding::warning(name, headline)
                .about(id)
                .at(part.roles.draw().span, show(held.power))
                .basis(format!("{} at the lowest {colder} of the climates{}{usual}", words.basis, words.extra))
                .help(format!(
                    "{} {}; or accept that it must be drained before it is colder than {}: the owner's manual says so",
                    show(held.need),
                    words.mend,
                    celsius(held.holds_to.ceil())
                )),
        );
    }
}
