//! LPG aboard, and no gas alarm.

use super::people::{first, of_role};
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::SafetyRole;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "lpg-alarm-missing",
        severity: Severity::Warning,
        what: "A burner runs on LPG, or there is a gas locker, and no LP gas alarm.",
        why: "LP gas is heavier than air, gathers at the floor and explodes at the first spark.",
        example: "[component.cooktop]\nkind = \"cooktop-lpg\"              # and no lp-alarm",
        basis: "NFPA 1192, one LP gas detector where LPG is fitted (from memory).",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let gas = super::people::burns_gas(context).or_else(|| first(context, &[SafetyRole::LpgLocker]));
    let Some(cause) = gas else { return };
    if of_role(context, SafetyRole::LpAlarm).next().is_some() {
        return;
    }
    sink.push(
        Finding::warning(CHECK.doc.name, "LPG and no gas alarm aboard")
            .about(&cause.id)
            .at(cause.span, "runs on LPG")
            .basis("NFPA 1192: one LP gas detector where LPG is fitted, from memory")
            .help("an lp-alarm near the floor, on a circuit that stays on"),
    );
}
