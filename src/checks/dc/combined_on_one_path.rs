//! An inverter-charger behind one contactor of a bank whose protection parts what charges from what draws.

use crate::checks::{Check, Context};
use crate::compute::bank_paths::{Path, above};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::{Network, Role};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "combined-on-one-path",
        severity: Severity::Error,
        what: "An inverter-charger hangs behind the charge contactor or the load contactor of the bank: it charges and draws over one cable.",
        why: "Behind the load contactor it cannot charge a bank that is empty; behind the charge contactor it can empty one that nothing may draw from.",
        example: "[component.load-contactor]\nkind = \"bank-contactor\"\npath = \"load\"\nfed_from = \"disconnect\"\n\n[component.inverter-charger]\nkind = \"inverter-charger\"\npower = \"2000 W\"\nmade_for = \"12 V\"\nfed_from = \"load-contactor\"",
        basis: "Structure of the spec: what the fields say of both.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    for part in build.parts.values().filter(|p| p.role() == Some(Role::InverterCharger)) {
        let supply = build.arriving(&part.id).find(|c| c.network == Network::Dc && c.owner == part.id);
        let Some(circuit) = supply else { continue };
        let Some((contactor, path)) = above(build, &circuit.from) else { continue };
        let lost = match path {
            Path::Load => "with the bank empty it cannot charge",
            Path::Charge => "it can empty the bank beyond its limit",
        };
        let headline = format!("{}: charges and draws behind the one contactor {}", part.id, contactor.id);
        sink.push(
            Finding::error(CHECK.doc.name, headline)
                .about(&part.id)
                .at(circuit.span, lost)
                .label(contactor.span, "opens for one direction")
                .help(
                    "feed it from before both contactors, and let the bank's protection stop it: `stop_signal = true`",
                ),
        );
    }
}
