//! Something burns aboard, and no carbon monoxide alarm.

use super::people::{first, of_role};
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::SafetyRole;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "co-alarm-missing",
        severity: Severity::Warning,
        what: "The build has a burner of any fuel, and neither a carbon monoxide alarm nor a gas alarm that senses it.",
        why: "Carbon monoxide has no smell and kills sleepers.",
        example: "[component.heater]\nkind = \"air-heater\"               # and no co-alarm",
        basis: "NFPA 1192, one carbon monoxide alarm (from memory).",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let Some(cause) = first(context, &[SafetyRole::Burner]) else { return };
    let gas = of_role(context, SafetyRole::LpAlarm).any(|a| a.roles.senses_co().is_set());
    if gas || of_role(context, SafetyRole::CoAlarm).next().is_some() {
        return;
    }
    sink.push(
        Finding::warning(CHECK.doc.name, "a burner and no carbon monoxide alarm aboard")
            .about(&cause.id)
            .at(cause.span, "burns fuel")
            .basis("NFPA 1192: one carbon monoxide alarm, from memory")
            .help("a co-alarm near the beds, at the height its maker names"),
    );
}
