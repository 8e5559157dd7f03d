//! Fixed AC loads that together take more than the shore inlet gives.

use crate::checks::ac::reach;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Role;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "inlet-overloaded",
        severity: Severity::Warning,
        what: "The fixed AC loads and chargers behind a shore inlet, all at once, take more than its rating. Outlets are left aside.",
        why: "The breaker of the pitch trips when they run together, often at night and out of the owner's reach.",
        example: "rules = \"eu\"\n\n[component.inlet]\nkind = \"shore-inlet\"\nrating = \"6 A\"      # 1380 W at 230 V\n\n[component.cooktop]\nkind = \"cooktop-induction\"\ndraw = \"1800 W\"",
        basis: "P = V · I with the nominal voltage of the build's rules.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (part, source) in reach::overloaded(context, |role| role == Role::Inlet) {
        let id = part.id.as_str();
        let show = |w: crate::units::Watts| w.show(context.build.prints());
        let volts = context.electrical.profile.ac.volts.show(context.build.prints());
        let headline = format!(
            "{id}: fixed loads of {} on an inlet that gives {}",
            show(source.fixed_load),
            show(source.capacity)
        );
        let mut finding = Finding::warning(CHECK.doc.name, headline)
            .about(id)
            .at(part.roles.rating().span, format!("gives {} at {volts}", show(source.capacity)))
            .basis(format!("rating × {volts} = {}", show(source.capacity)));
        if let Some((largest, watts)) = &source.largest {
            let span = context.part(largest).map_or(part.span, |p| p.span);
            finding = finding.label(span, format!("the largest: {}", show(*watts)));
        }
        sink.push(
            finding.help("a larger inlet, smaller loads, or accept it with a reason: which of them never run together"),
        );
    }
}
