//! A pump that gives less than one outlet takes.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::{Dimension, print};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "pump-below-flow",
        severity: Severity::Warning,
        what: "The open flow of the pump, at no pressure at all, is below the flow of an outlet behind it.",
        why: "The outlet never gives what it is made for, and the pump never stops while it is open.",
        example: "[component.pump]\nkind = \"water-pump\"\nflow = \"4 L/min\"                   # and a shower of 6 L/min",
        basis: "Flow in is flow out; the figures of the makers.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let mut told = std::collections::BTreeSet::new();
    for outlet in &context.water.outlets {
        let below = crate::checks::compare::above(outlet.flow, outlet.open_flow);
        if !below || !told.insert((&outlet.part, &outlet.pump)) {
            continue;
        }
        let (Some(part), Some(pump)) = (context.part(&outlet.part), context.part(&outlet.pump)) else { continue };
        let show = |flow: f64| print(Dimension::Flow, flow, context.build.prints());
        sink.push(
            Finding::warning(
                CHECK.doc.name,
                format!(
                    "{} gives {} at most, {} takes {}",
                    pump.id,
                    show(outlet.open_flow),
                    part.id,
                    show(outlet.flow)
                ),
            )
            .about(&pump.id)
            .at(pump.roles.flow().span, show(outlet.open_flow))
            .label(part.roles.flow().span, show(outlet.flow))
            .basis("open flow of the pump, at no pressure")
            .help(format!("a pump for more than {}, or an outlet for less", show(outlet.flow))),
        );
    }
}
