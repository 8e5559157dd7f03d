//! A component fed from two places at once.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::{Network, Role};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "load-fed-twice",
        severity: Severity::Error,
        what: "A component that is no transfer switch names more than one feeder.",
        why: "Two fuses feed the same point: one can be out and the wire is live all the same, and current flows from one panel into the other.",
        example: "[component.pump]\nkind = \"water-pump\"\nfed_from = [\"house-panel\", \"aux-panel\"]",
        basis: "Common practice; 33 CFR 183.455 asks for one device at the source of each conductor.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for part in context.build.parts.values() {
        let feeders = part.supply.fed_from.all();
        let (true, Some(second)) = (part.role().is_some_and(|r| r != Role::Transfer), feeders.get(1)) else { continue };
        // Several AC sources without a transfer switch are `two-sources-without-transfer`; arrays may share a controller.
        if part.electric().is_some_and(|e| matches!(e.network, Network::Ac | Network::Pv)) {
            continue;
        }
        // What has a second supply is fed once by each.
        if feeders.len() == 2 && part.electric().is_some_and(|e| e.second.is_some()) {
            continue;
        }
        // Converters that feed one busbar or panel limit their current themselves.
        let converts = |id: &str| context.part(id).and_then(crate::build::Part::role) == Some(Role::Converter);
        if part.role().is_some_and(Role::passes_through) && feeders.iter().all(|f| converts(&f.value)) {
            continue;
        }
        // Two voltages are `fed-from-two-voltages`.
        let build = context.build;
        let voltage = |id: &str| build.dc_given_by(id).map(|network| network.nominal);
        let first = &feeders[0];
        if voltage(&first.value).zip(voltage(&second.value)).is_some_and(|(a, b)| a != b) {
            continue;
        }
        let headline = format!("{}: fed from {} and from {} at once", part.id, first.value, second.value);
        sink.push(
            Finding::error(CHECK.doc.name, headline)
                .about(&part.id)
                .at(second.span, "fed a second time")
                .label(first.span, "fed here already")
                .basis("two feeders back-feed each other through the load")
                .help("name one feeder; two loads of one kind are two components"),
        );
    }
}
