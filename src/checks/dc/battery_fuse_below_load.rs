//! A battery's own fuse below its share of the bank's current.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::System;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "battery-fuse-below-load",
        severity: Severity::Error,
        what: "The fuse at each battery is below that battery's share of what the bank gives or takes.",
        why: "It opens in use. Then the others carry its share, and their fuses follow one by one.",
        example: "[component.house-bank]\nkind = \"battery-bank\"\ncapacity = \"300 Ah\"\nparallel = 3\nbattery_fuse = \"30 A\"          # and 300 A for the inverter",
        basis: "Design current of the bank's circuits over the number of batteries, all sharing alike.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (id, bank) in &context.electrical.banks {
        let Some((part, batteries)) = context.part(id).zip(bank.batteries.as_ref()) else { continue };
        let Some(fuse) = batteries.fuse.filter(|fuse| fuse.0 < batteries.share.0 * (1.0 - 1e-9)) else { continue };
        let Some(role) = &part.roles.bank else { continue };
        let [fuse, share] = [fuse, batteries.share].map(|amps| amps.show(System::Metric));
        let headline = format!("{id}: a fuse of {fuse} at each battery, and {share} flow through each");
        sink.push(
            Finding::error(CHECK.doc.name, headline)
                .about(id)
                .at(role.battery_fuse.span, format!("{} batteries share the current", batteries.number))
                .help(format!("a fuse of {share} or more, no more than the battery's maker allows; or more batteries")),
        );
    }
}
