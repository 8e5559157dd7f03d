//! Fixed AC loads that together take more than the inverter gives.

use crate::checks::ac::reach;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Role;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "inverter-overloaded",
        severity: Severity::Error,
        what: "The fixed AC loads behind an inverter, all at once, take more than its continuous power. Outlets and chargers are left aside.",
        why: "The inverter switches off, and with it everything else on AC.",
        example: "[component.inverter]\nkind = \"inverter\"\npower = \"1000 W\"\nfeeds = \"rcd\"\n\n[component.microwave]\nkind = \"microwave\"\nfed_from = \"rcd\"\ndraw = \"1350 W\"",
        basis: "The continuous power that the inverter's maker gives.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (part, source) in reach::overloaded(context, |role| matches!(role, Role::Inverter | Role::InverterCharger)) {
        let id = part.id.as_str();
        let show = |w: crate::units::Watts| w.show(context.build.prints());
        let headline =
            format!("{id}: fixed loads of {} on an inverter for {}", show(source.fixed_load), show(source.capacity));
        let mut finding = Finding::error(CHECK.doc.name, headline)
            .about(id)
            .at(part.roles.power().span, format!("{} continuous", show(source.capacity)))
            .basis(format!("maker's continuous power: {}", show(source.capacity)));
        if let Some((largest, watts)) = &source.largest {
            let span = context.part(largest).map_or(part.span, |p| p.roles.draw().span);
            finding = finding.label(span, format!("{largest} takes {}", show(*watts)));
        }
        sink.push(finding.help("a larger inverter, or feed some of them from shore power alone"));
    }
}
