//! One side much heavier than the other.

use crate::checks::compare::above;
use crate::checks::{Check, Context};
use crate::compute::weight::SIDES;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::Kilograms;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "left-right-unbalanced",
        severity: Severity::Warning,
        what: "With everyone aboard and everything loaded, one side of the van carries over 5 % of its mass more than the other.",
        why: "It leans, pulls to one side when braking, and wears tyres and springs of that side.",
        example: "[place]\nleft = { at = [\"2 m\", \"0.7 m\", \"0 m\"] }        # bank, tank and fridge all on the left",
        basis: "Common practice, no source; balance of moments about the middle.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let cases = context.weight.cases.iter().filter_map(|c| Some((c, c.imbalance()?, c.left?)));
    let Some((case, share, left)) = cases.max_by(|a, b| a.1.total_cmp(&b.1)) else { return };
    if !above(share, SIDES) {
        return;
    }
    let vehicle = &context.build.vehicle;
    let system = context.build.prints();
    let difference = Kilograms((left.0 * 2.0 - case.total().0).abs());
    let side = if left.0 * 2.0 > case.total().0 { "left" } else { "right" };
    sink.push(
        Finding::warning(
            CHECK.doc.name,
            format!("the {side} side carries {} more than the other, {}", difference.show(system), case.id.title()),
        )
        .at(vehicle.track.span, format!("{:.1} % of the mass", share * 100.0))
        .basis("the sides within 5 % of the mass: common practice, no source")
        .basis("the empty vehicle is taken as even; weigh both sides")
        .help("move something heavy to the other side: bank, water and fridge count most"),
    );
}
