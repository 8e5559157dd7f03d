//! Line and earth of the van alone that let too little current flow to open the breaker at once.

use crate::checks::compare::above;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::{Bound, Dimension, System, print_bound};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "loop-impedance-high",
        severity: Severity::Warning,
        what: "Line and earth of an AC circuit, up to the plug of the shore lead, have more resistance than lets its breaker open at once on a fault to earth: 5 times its rating with curve B, 10 times with curve C.",
        why: "The breaker opens late or not at all, and metal stays live unless the residual-current device works.",
        example: "rules = \"eu\"\n\n[component.inlet]\nkind = \"shore-inlet\"\nrating = \"32 A\"\ncord = \"25 m\"\n\n[component.outlet]\nkind = \"ac-outlet\"\nprotection = \"32 A curve C\"\nrun = \"40 m\"",
        basis: "IEC 60898-1, from memory; 0.8 for a loop that is measured cold: common practice, no source. So it warns.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (id, found) in &context.electrical.loops {
        let Some(circuit) = context.build.circuits.get(id) else { continue };
        let Some(own) = found.own.filter(|own| above(own.0, found.most.0)) else { continue };
        let print = |ohms: f64, bound| print_bound(Dimension::Resistance, ohms, System::Metric, bound);
        let (own, most) = (print(own.0, Bound::Least), print(found.most.0, Bound::Most));
        let opens = found.curve.opens_at() * found.rating.0;
        sink.push(
            Finding::warning(CHECK.doc.name, format!("{id}: line and earth have {own}; {most} is the most"))
                .about(&circuit.owner)
                .at(circuit.span, format!("{} with curve {}", found.rating.show(System::Metric), found.curve))
                .label(context.part(&found.inlet).map_or(circuit.span, |p| p.roles.cord().span), "with this lead")
                .basis(format!("a curve {} breaker opens at once at {opens} A (IEC 60898-1, from memory)", found.curve))
                .help("curve B, a smaller breaker, thicker conductors or a shorter lead"),
        );
    }
}
