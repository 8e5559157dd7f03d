//! Something burns aboard, and no carbon monoxide alarm.

use super::people::{first, of_role};
use crate::build::Part;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::SafetyRole;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "co-alarm-missing",
        severity: Severity::Warning,
        what: "The build has a burner of any fuel or `portable_power` of a generator at its inlet, and neither a carbon monoxide alarm nor a gas alarm that senses it.",
        why: "Carbon monoxide has no smell and kills sleepers.",
        example: "[component.heater]\nkind = \"air-heater\"               # and no co-alarm",
        basis: "NFPA 1192, one carbon monoxide alarm (from memory).",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    // A portable generator has no task here, and its exhaust is as deadly.
    let carried =
        |part: &&Part<'_>| part.roles.inlet.as_ref().is_some_and(|inlet| inlet.portable_power.get().is_some());
    let generator = || context.build.parts.values().find(carried);
    let Some(cause) = first(context, &[SafetyRole::Burner]).or_else(generator) else { return };
    let gas = of_role(context, SafetyRole::LpAlarm).any(|a| a.roles.senses_co().is_set());
    if gas || of_role(context, SafetyRole::CoAlarm).next().is_some() {
        return;
    }
    sink.push(
        Finding::warning(CHECK.doc.name, "exhaust or flame, and no carbon monoxide alarm aboard")
            .about(&cause.id)
            .at(cause.span, "burns fuel, or takes its current from what does")
            .basis("NFPA 1192: one carbon monoxide alarm, from memory")
            .help("a co-alarm near the beds, at the height its maker names"),
    );
}
