//! A heavy thing its bolts cannot hold.

use crate::checks::compare::above;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::{Dimension, print};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "restraint-too-weak",
        severity: Severity::Error,
        what: "What holds a heavy item gives way below 0.8 g when braking (error), or below 20 g, the order of magnitude of a crash (warning).",
        why: "In an emergency stop it comes forward through the cabin.",
        example: "[component.bank]\nkind = \"battery-bank\"\nmass = \"120 kg\"\nbolts = 2\nbolt_size = \"M5\"",
        basis: "49 CFR 393.102(a): 0.8 g forward, a rule for cargo on commercial vehicles, used as a public figure; ISO 898-1 proof stress, class 8.8; with `fixed_to` also EN 1993-1-3 for the sheet (table 8.4) and the push-out of rivet nuts, tipping over where `size` is given. 20 g: from memory, a warning only.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let system = context.build.prints();
    let newtons = |f: f64| print(Dimension::Force, f, system);
    for (id, r) in &context.mechanics.restraints {
        let (Some(part), Some(holds), Some(size)) = (context.part(id), r.holds, &r.size) else { continue };
        let bolts = r.bolts.unwrap_or(0.0);
        let braking = above(r.force, holds);
        if !braking && !above(r.crash, holds) {
            continue;
        }
        let (word, force) = if braking { ("when braking", r.force) } else { ("in a crash", r.crash) };
        let (gives_way, rests_on, help) = match &r.fixing {
            Some(fixing) => (
                format!(", then {} give way", fixing.link.show()),
                "the weakest of bolt (ISO 898-1), sheet (EN 1993-1-3) and rivet nut (push-out)",
                "more bolts, or `fixed_to = \"plate\"` or \"frame\" in place of thin sheet and rivet nuts".to_owned(),
            ),
            None => (
                String::new(),
                "ISO 898-1, class 8.8, shear at the proof stress; the bolts alone: sheet, rivet nuts, plates and wood hold less and are not judged",
                format!("{} bolts M8 class 8.8 would do for both, on plates that spread the load", r.needed),
            ),
        };
        let headline = format!(
            "{id}: {bolts} × {size} hold {}{gives_way}; {word} it pulls with {}",
            newtons(holds),
            newtons(force)
        );
        let finding = Finding::error_if(braking && r.given && !r.usual, CHECK.doc.name, headline);
        let basis = if braking {
            "49 CFR 393.102(a): 0.8 g forward; written for cargo on commercial vehicles, no proof for a crash"
        } else {
            "20 g, the order of magnitude of seat anchorages: from memory, not verified"
        };
        sink.push(
            finding
                .about(id)
                .at(part.roles.bolts().span, format!("{} with what it holds", r.mass.show(system)))
                .basis(basis)
                .basis(rests_on)
                .help(help),
        );
    }
}
