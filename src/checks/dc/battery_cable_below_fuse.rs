//! A battery's cable that its own fuse does not protect.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::{Amps, System};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "battery-cable-below-fuse",
        severity: Severity::Error,
        what: "The cable that the spec gives from each battery to the collecting bars carries less than that battery's fuse lets through, or less than its share of the current.",
        why: "It overheats before the fuse opens.",
        example: "[component.house-bank]\nkind = \"battery-bank\"\ncapacity = \"300 Ah\"\nparallel = 3\nbattery_fuse = \"200 A\"\nbattery_conductor = \"10 mm2\"",
        basis: "Ampacity by the tables of the rules in force; 33 CFR 183.455: a fuse protects what lies behind it.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (id, bank) in &context.electrical.banks {
        let Some((part, batteries)) = context.part(id).zip(bank.batteries.as_ref()) else { continue };
        let (Some(cable), Some(role)) = (&batteries.cable, &part.roles.bank) else { continue };
        let carried = cable.ampacity.as_ref().map_or(Amps(0.0), |a| a.corrected);
        let needed = batteries.fuse.map_or(batteries.share, |fuse| fuse.max(batteries.share));
        if !role.battery_conductor.given || carried.0 >= needed.0 * (1.0 - 1e-9) {
            continue;
        }
        let [carried, needed] = [carried, needed].map(|amps| amps.show(System::Metric));
        let headline = format!("{id}: {} to each battery carries {carried}, and {needed} can flow", cable.size);
        sink.push(
            Finding::error(CHECK.doc.name, headline)
                .about(id)
                .at(role.battery_conductor.span, "too thin")
                .label(role.battery_fuse.span, "lets that through")
                .basis("33 CFR 183.455")
                .help("leave `battery_conductor` out to have it sized, or a smaller `battery_fuse`"),
        );
    }
}
