//! No day to count maintenance from.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "no-handover-date",
        severity: Severity::Warning,
        what: "[build] gives no `handover` date.",
        why: "Maintenance dates, replace-by dates of alarms and ends of warranties count from it: the calendar stays empty.",
        example: "[build]\ntitle = \"Weekend\"           # and no handover",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = &context.build.about;
    if build.handover.get().is_some() || build.handover.faulty {
        return;
    }
    sink.push(
        Finding::warning(CHECK.doc.name, "no handover date: the maintenance calendar stays empty")
            .at(build.span, "no `handover` here")
            .basis("maintenance and replace-by dates count from the handover")
            .help("add `handover = 2027-05-14`, the planned day; it can be changed later"),
    );
}
