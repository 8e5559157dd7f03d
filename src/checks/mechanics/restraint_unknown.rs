//! Heavy things whose bolts nobody has given.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::Kilograms;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "restraint-unknown",
        severity: Severity::Warning,
        what: "A heavy item (25 kg or more with what it holds) gives neither number nor size of the bolts that hold it.",
        why: "Whether it stays in place when braking cannot be told; the technician chooses.",
        example: "[component.bank]\nkind = \"battery-bank\"\nmass = \"72 kg\"                 # and no bolts, bolt_size",
        basis: "49 CFR 393.102(a) gives the force; structure of the spec.",
    },
    run,
};

/// From here on someone is hurt: 25 kg; common practice.
const FOLLOWED: Kilograms = Kilograms(25.0);

fn run(context: &Context<'_>, sink: &mut Sink) {
    let open: Vec<_> =
        context.mechanics.restraints.iter().filter(|(_, r)| r.holds.is_none() && r.mass >= FOLLOWED).collect();
    let Some((first, _)) = open.first() else { return };
    let Some(part) = context.part(first) else { return };
    let system = context.build.prints();
    let listed: Vec<_> = open.iter().take(8).map(|(id, r)| format!("{id} ({})", r.mass.show(system))).collect();
    sink.push(
        Finding::warning(CHECK.doc.name, format!("nothing tells how these are held: {}", listed.join(", ")))
            .at(part.span, "no `bolts` and `bolt_size` here")
            .basis("49 CFR 393.102(a): 0.8 g forward, 0.5 g rearward and sideways")
            .help("give `bolts` and `bolt_size`; the calculation sheet says how many would do"),
    );
}
