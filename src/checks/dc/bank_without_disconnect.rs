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
        let Some(circuit) = undisconnected(context, id) else { continue };
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
fn undisconnected<'a>(context: &Context<'a>, bank: &'a str) -> Option<&'a Circuit> {
    let role = |id: &str| context.part(id).and_then(crate::build::Part::role);
    let bare = |c: &Circuit| c.from == bank || role(&c.from) == Some(Role::Protection);
    let mut live = context.build.downstream(bank).along(|c| c.network == Network::Dc && c.feeding.draws() && bare(c));
    live.find(|c| !matches!(role(&c.to), Some(Role::Disconnect | Role::Shunt | Role::Protection)))
}
