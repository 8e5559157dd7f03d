//! More plugged in at one time than an outlet, an inverter or the inlet gives.

use crate::checks::compare::above;
use crate::checks::{Check, Context};
use crate::compute::network::plugged_in;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Role;
use crate::source::Span;
use crate::units::Watts;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "devices-over-supply",
        severity: Severity::Warning,
        what: "The devices of `[use]` that may run together take more than the outlet they are plugged into carries, or with the fixed loads more than the inverter or the inlet gives.",
        why: "The inverter switches off or the breaker trips, most often at breakfast.",
        example: "[use]\ndevices.kettle = { plugged_into = \"galley-outlet\", power = \"1500 W\", hours = \"15 min\" }\ndevices.dryer  = { plugged_into = \"bath-outlet\", power = \"1200 W\", hours = \"10 min\" }   # on an inverter for 2000 W",
        basis: "The rating of the outlet and the continuous power that the maker of the inverter gives; which of them run together is what the spec says (`one_of`).",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let volts = context.electrical.profile.ac.volts;
    for outlet in context.build.parts.values().filter(|p| p.role() == Some(Role::Outlet)) {
        let Some(rating) = outlet.roles.rating().get() else { continue };
        let there = plugged_in(context.build, |id| id == outlet.id);
        // Of several the spec does not say which is plugged into which.
        let most = volts * rating * outlet.times();
        if above(there.0, most.0) {
            tell(context, &outlet.id, (there, most), outlet.roles.rating().span, sink);
        }
    }
    for (id, source) in &context.electrical.ac_sources {
        // The fixed loads alone are told as such.
        let over = above(source.with_devices.0, source.capacity.0);
        if over && !above(source.fixed_load.0, source.capacity.0) {
            let span = context.part(id).map_or_else(Span::default, |part| part.span);
            tell(context, id, (source.with_devices, source.capacity), span, sink);
        }
    }
}

fn tell(context: &Context<'_>, id: &str, (takes, gives): (Watts, Watts), span: Span, sink: &mut Sink) {
    let show = |watts: Watts| watts.show(context.build.prints());
    let headline = format!("{id}: {} at one time, with what is plugged in; it gives {}", show(takes), show(gives));
    sink.push(
        Finding::warning(CHECK.doc.name, headline)
            .about(id)
            .at(span, format!("gives {}", show(gives)))
            .help("say of which only one runs at a time (`one_of`), and tell the owner; or a larger inverter"),
    );
}
