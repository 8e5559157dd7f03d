//! A battery's own fuse that is not shown to break what the other batteries drive through it.

use crate::checks::{Check, Context};
use crate::compute::electrical::interrupting::Interrupting;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::System;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "battery-fuse-unproven",
        severity: Severity::Warning,
        what: "Nothing shows that the fuse at each battery breaks what all others drive through it when that battery fails. An error where its own figure says that it does not.",
        why: "A fuse that cannot break the current bursts and goes on burning, beside the bank.",
        example: "[component.house-bank]\nkind = \"battery-bank\"\ncapacity = \"300 Ah\"\nparallel = 3\nfault_current = \"9000 A\"\nbattery_fuse = \"200 A\"         # and no battery_interrupting",
        basis: "Fault current of the bank but for one battery; UL 248 and ISO 8820 for what a family breaks.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (id, bank) in &context.electrical.banks {
        let Some((part, batteries)) = context.part(id).zip(bank.batteries.as_ref()) else { continue };
        let (Some(role), Some(fault)) = (&part.roles.bank, batteries.fault) else { continue };
        let shown = fault.show(System::Metric);
        let finding = match batteries.breaking {
            Some(Interrupting::Unproven) => {
                let headline = format!(
                    "{id}: the others drive {shown} through the fuse of one battery, and nothing shows that it breaks that"
                );
                Finding::warning(CHECK.doc.name, headline)
                    .at(role.battery_fuse.span, "by the rating marked on it alone")
            }
            Some(Interrupting::NotEnough) => {
                let headline =
                    format!("{id}: the others drive {shown} through the fuse of one battery, more than it breaks");
                Finding::error(CHECK.doc.name, headline).at(role.battery_interrupting.span, "less than that")
            }
            _ => continue,
        };
        sink.push(
            finding
                .about(id)
                .basis("fault current of the bank but for the battery that fails")
                .help(format!("give `battery_interrupting` of {shown} or more, and in `battery_interrupting_from` the data sheet that says so"))
                .help("or a fuse of another family: `battery_fuse_family`"),
        );
    }
}
