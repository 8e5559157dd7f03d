//! A bank that cannot be switched off.

use crate::build::Circuit;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::{Network, Role};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "bank-without-disconnect",
        severity: Severity::Error,
        what: "No disconnect stands between the bank and what it feeds.",
        why: "In an emergency, and before every work on the wiring, there is nothing to turn.",
        example: "[component.main-fuse]\nkind = \"main-fuse\"\nfed_from = \"house-bank\"\n\n[component.busbar]\nkind = \"busbar\"\nfed_from = \"main-fuse\"",
        basis: "46 CFR 120.380 and 183.380 and ABYC E-11 ask for a battery switch on boats; common practice in vans.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for id in context.electrical.banks.keys() {
        let Some(part) = context.part(id) else { continue };
        let Some(circuit) = undisconnected(context, id, 0) else { continue };
        let open = &circuit.to;
        sink.push(
            Finding::error(CHECK.doc.name, format!("{id}: nothing switches it off before {open}"))
                .about(id)
                .at(part.span, "no disconnect between this bank and its loads")
                .label(circuit.span, format!("{open} is always live"))
                .basis("46 CFR 183.380; ABYC E-11")
                .help(format!("put a battery-disconnect behind the main fuse and feed {open} from it")),
        );
    }
}

/// The circuit to the first part that the bank feeds without a disconnect on the way.
fn undisconnected<'a>(context: &Context<'a>, from: &str, depth: usize) -> Option<&'a Circuit> {
    context.build.leaving(from).filter(|c| c.network == Network::Dc && c.feeding.draws()).find_map(|c| {
        match context.part(&c.to).and_then(crate::build::Part::role) {
            Some(Role::Disconnect | Role::Shunt) => None,
            Some(Role::Protection) if depth < 8 => undisconnected(context, &c.to, depth + 1),
            _ => Some(c),
        }
    })
}
