//! An outside switch panel that anyone can use.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::{Role, System};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "exterior-panel-without-master",
        severity: Severity::Warning,
        what: "An auxiliary switch panel that can be reached from outside, or that feeds exterior lights, has no keyed or hidden master.",
        why: "A passer-by switches the lights on and the bank is flat by morning.",
        example: "[component.aux-panel]\nkind = \"switch-panel\"\nmaster = \"none\"\noutside = true",
        basis: "Common practice, no source.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for part in context.build.parts.values().filter(|p| p.role() == Some(Role::SwitchPanel)) {
        let open = part.roles.master().is("none") && part.roles.master_switch().all().is_empty();
        let lights = context
            .build
            .leaving(&part.id)
            .any(|c| context.part(&c.to).is_some_and(|p| p.kind.system == System::ExteriorLighting));
        if !open || !(part.roles.outside().is_set() || lights) {
            continue;
        }
        sink.push(
            Finding::warning(
                CHECK.doc.name,
                format!("{}: no keyed or hidden master keeps others from switching it", part.id),
            )
            .about(&part.id)
            .at(part.roles.master().span, "no master")
            .basis("common practice, no source")
            .help("write `master = \"keyed\"` or `\"hidden\"`, or name a `master_switch`"),
        );
    }
}
