//! A bond that a fault burns off before the fuse opens.

use crate::build::Purpose;
use crate::checks::{Check, Context};
use crate::compute::network::bond_size;
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "bond-too-thin",
        severity: Severity::Warning,
        what: "The given bond is thinner than what its fault current asks: the bank's largest lead for the main bond, one size under the positive for the case of a machine.",
        why: "A positive that touches a case has to open its fuse. A thin bond burns off first, and the case stays live.",
        example: "[component.bond]\nkind = \"chassis-bond\"\nbond_conductor = \"10 AWG\"      # and a bank with 4/0 AWG at its posts",
        basis: "ABYC E-11, the DC grounding conductor, from memory; the least sizes of the rules.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for conductor in context.build.wiring.conductors.values() {
        if !matches!(conductor.purpose, Purpose::Bond | Purpose::EquipmentBond) {
            continue;
        }
        let Some(given) = context.electrical.conductors.get(&conductor.id).and_then(|f| f.size) else { continue };
        let wanted = bond_size(context.build, &context.electrical, conductor);
        if wanted.area().0 <= given.area().0 * (1.0 + 1e-9) {
            continue;
        }
        let bond = if conductor.purpose == Purpose::Bond { &conductor.owner } else { &conductor.to.part };
        let role = context.part(bond).and_then(|p| p.roles.chassis_bond.as_deref());
        let span = role.map_or(conductor.span, |role| {
            if conductor.purpose == Purpose::Bond { role.bond_conductor.span } else { role.equipment_conductor.span }
        });
        sink.push(
            Finding::warning(CHECK.doc.name, format!("{}: {given}, and a fault there asks {wanted}", conductor.id))
                .about(&conductor.owner)
                .at(span, "too thin")
                .basis("ABYC E-11, from memory")
                .help("leave the size out, and it is chosen"),
        );
    }
}
