//! An alarm past its date on the day of the handover.

use super::people::of_role;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::SafetyRole;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "alarm-expired",
        severity: Severity::Warning,
        what: "The replace-by date of an alarm or extinguisher is before the handover.",
        why: "It may stay silent, or fail to spray, when it is needed.",
        example: "[component.co-alarm]\nkind = \"co-alarm\"\nreplace_by = 2027-01-31            # and the handover in May",
        basis: "The date its maker printed on it.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let Some(handover) = context.build.about.handover.get() else { return };
    let roles = [SafetyRole::SmokeAlarm, SafetyRole::CoAlarm, SafetyRole::LpAlarm, SafetyRole::Extinguisher];
    for part in roles.into_iter().flat_map(|role| of_role(context, role)) {
        let Some(date) = part.roles.replace_by().get().filter(|d| *d < handover) else { continue };
        sink.push(
            Finding::warning(CHECK.doc.name, format!("{} was to be replaced by {date}", part.id))
                .about(&part.id)
                .at(part.roles.replace_by().span, "before the handover")
                .label(context.build.about.handover.span, handover.to_string())
                .basis("date printed by its maker")
                .help("fit a new one and give its date"),
        );
    }
}
