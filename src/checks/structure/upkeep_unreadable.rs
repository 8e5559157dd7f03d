//! Upkeep of which nobody can tell when it falls due.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "upkeep-unreadable",
        severity: Severity::Error,
        what: "An interval, season, distance or period of upkeep or warranty cannot be read, or several exclude each other.",
        why: "It would be in no calendar, and nobody would do it.",
        example: "[upkeep.wax-roof]\ntitle = \"Wax the roof\"\nevery = \"now and then\"      # every = \"6 months\"",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for fault in context.upkeep_faults {
        let finding = Finding::error(CHECK.doc.name, fault.message.clone()).about(&fault.subject);
        let finding = finding.at(fault.span, "cannot be read").basis("structure of the spec");
        sink.push(match &fault.help {
            Some(help) => finding.help(help.clone()),
            None => finding,
        });
    }
}
