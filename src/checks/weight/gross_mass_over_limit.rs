//! A van heavier than its plate allows.

use super::over::{self, Over};
use crate::checks::{Check, Context};
use crate::diag::{FindingDoc, Severity, Sink};
use crate::units::Bound;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "gross-mass-over-limit",
        severity: Severity::Error,
        what: "The mass of the whole van is above its gross mass in a load case.",
        why: "Brakes, tyres and structure are not made for it; insurance and licence may not cover it.",
        example: "[vehicle]\ngross_mass = \"3500 kg\"          # and 3600 kg with everyone belted",
        basis: "Plate of the vehicle. A warning where only usual values of masses lead above it.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let vehicle = &context.build.vehicle;
    let Some(limit) = vehicle.gross_mass.get() else { return };
    if super::cargo_label_below_belted_seats::stops(context) {
        // One cause, one finding: that check says what is left for the people.
        return;
    }
    let cases = context.weight.cases.iter().map(|c| Over { case: c, load: c.total(), known: c.known.total() });
    let Some(worst) = over::worst(cases, limit) else { return };
    let system = context.build.prints();
    let excess = worst.load - limit;
    let headline = format!(
        "the van weighs {} {}: {} over its gross mass",
        worst.load.show(system),
        worst.case.id.title(),
        excess.show(system)
    );
    sink.push(
        over::finding(CHECK.doc.name, headline, &worst, limit)
            .at(vehicle.gross_mass.span, format!("at most {}", limit.bound(Bound::Most, system)))
            .basis(over::heaviest(context, &worst, "whole"))
            .help("leave something out, or carry less water and cargo"),
    );
}
