//! LPG aboard, and no gas locker.

use super::people::of_role;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::SafetyRole;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "lpg-locker-missing",
        severity: Severity::Warning,
        what: "A burner runs on LPG, and no locker houses its cylinders.",
        why: "A leak at the cylinder fills the inside with gas.",
        example: "[component.cooktop]\nkind = \"cooktop-lpg\"              # and no lpg-locker",
        basis: "EN 1949 (2002), quoted: a compartment that is sealed from the living space, opened from outside alone, cylinders upright and held high and low. NFPA 1192 asks the like (from memory).",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let Some(cause) = super::people::burns_gas(context) else { return };
    if of_role(context, SafetyRole::LpgLocker).next().is_some() {
        return;
    }
    sink.push(
        Finding::warning(CHECK.doc.name, "LPG and no gas locker")
            .about(&cause.id)
            .at(cause.span, "runs on LPG")
            .basis("EN 1949 (2002), quoted: cylinders in a compartment sealed from the living space")
            .help("an lpg-locker that is vapour-tight to the inside and vented low to the outside"),
    );
}
