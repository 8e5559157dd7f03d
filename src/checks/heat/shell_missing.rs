//! A heater or cooler in a build without a shell.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::ThermalRole;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "shell-missing",
        severity: Severity::Warning,
        what: "The build has a heater or an air conditioner and no [shell].",
        why: "No one can say whether it is large enough, nor how much fuel or bank it takes.",
        example: "[component.heater]\nkind = \"air-heater\"               # and no [shell.roof], [shell.floor] and so on",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    if !context.build.shell.is_empty() {
        return;
    }
    let wants = |role| matches!(role, ThermalRole::Heater | ThermalRole::Cooler);
    let Some(part) = context.build.parts.values().find(|p| p.kind.thermal.is_some_and(|t| wants(t.role))) else {
        return;
    };
    sink.push(
        Finding::warning(CHECK.doc.name, "no [shell] says what heat passes through")
            .about(&part.id)
            .at(part.span, "its size can't be judged")
            .basis("heat loss goes by the surfaces of the body")
            .help("add [shell.roof], [shell.floor] and the sides, each with area, thickness and conductivity"),
    );
}
