//! A fuse too far from where its current comes from.

use crate::checks::{Check, Context};
use crate::compute::network::{self, DeviceAt};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::{Network, Role};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "fuse-far-from-source",
        severity: Severity::Error,
        what: "The conductor between the source and its fuse is longer than allowed.",
        why: "Nothing protects that piece: a chafe there feeds a fire with the bank's full fault current.",
        example: "[component.main-fuse]\nkind = \"main-fuse\"\nfed_from = \"house-bank\"\nrun = \"1.5 m\"",
        basis: "33 CFR 183.455(b): within 7 in (178 mm) of the source, 40 in (1016 mm) if sheathed all the way; from a battery 72 in (1829 mm) if sheathed (ABYC E-11).",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let reach = &context.electrical.profile.reach;
    for (circuit, figures) in context.circuits().filter(|(c, _)| matches!(c.network, Network::Dc | Network::Start)) {
        let record = context.part(&circuit.owner).map(|p| p.record);
        let at_field = circuit.end.field("protection_at");
        let distance = match figures.device.at {
            DeviceAt::Component(_) => circuit.run,
            DeviceAt::InLine => record.and_then(|r| r.metres(&at_field)),
            _ => None,
        };
        let Some(distance) = distance else { continue };
        let source = context.part(&circuit.from).and_then(crate::build::Part::role);
        let from_battery = matches!(source, Some(Role::Bank | Role::StartBattery));
        let sheathed_limit = if from_battery { reach.battery_sheathed } else { reach.sheathed };
        let limit = network::reach(context.build, &context.electrical.profile, circuit, &circuit.from);
        if distance.0 <= limit.0 * (1.0 + 1e-9) {
            continue;
        }
        let show = |length: crate::units::Metres| length.show(context.build.prints());
        let name = if matches!(figures.device.at, DeviceAt::Component(_)) { "run" } else { "protection_at" };
        let how = if circuit.sheathed { "in a sheath" } else { "not in a sheath" };
        let headline = format!(
            "{}: {} of cable from {} to its fuse, {how}; {} is allowed",
            circuit.id,
            show(distance),
            circuit.from,
            show(limit)
        );
        let finding = Finding::error(CHECK.doc.name, headline)
            .about(&circuit.owner)
            .at(circuit.span_of(&context.build.parts, name), format!("{} without protection", show(distance)))
            .basis("33 CFR 183.455(b), 7 in or 40 in sheathed; ABYC E-11, 72 in sheathed from a battery");
        let finding = finding.help(format!("move the fuse within {} of {}", show(limit), circuit.from));
        let sheath_is_enough = !circuit.sheathed && distance <= sheathed_limit;
        sink.push(if sheath_is_enough {
            let allowed = show(sheathed_limit);
            finding
                .help(format!("or lay this cable in a sheath all the way (`sheathed = true`), which allows {allowed}"))
        } else {
            finding
        });
    }
}
