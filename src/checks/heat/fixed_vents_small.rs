//! Openings for air that can't be shut and are too small, or that nobody tells of.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::significant;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "fixed-vents-small",
        severity: Severity::Warning,
        what: "Under the rules `eu` the openings of the living space that can't be shut, high up or low down, are smaller than EN 721 asks for its floor, or not told.",
        why: "With doors and windows shut, flames and people use up the air; carbon monoxide and damp stay in it.",
        example: "[build]\nrules = \"eu\"\n\n[vehicle]\nvent_high = \"15 cm2\"                    # 100 cm2 with a gas cooktop over 7 m2 of floor\nvent_low = \"15 cm2\"",
        basis: "EN 721 by a reprint: 75 and 10 cm² up to 5 m² of floor, 100 and 15 cm² up to 10 m², where something burns that takes its air from the room; else 30 cm² (15 cm² in the roof) and 5 cm².",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let Some(vents) = &context.heat.vents else { return };
    let vehicle = &context.build.vehicle;
    let lacks = |told: Option<f64>, needed: f64| told.is_none_or(|t| crate::checks::compare::above(needed, t));
    if !lacks(vents.high, vents.needed.high) && !lacks(vents.low, vents.needed.low) {
        return;
    }
    let show = |area: f64| format!("{} cm²", significant(area * 1e4, 3));
    let told = |area: Option<f64>| area.map_or_else(|| "not told".to_owned(), show);
    let mut finding = Finding::warning(
        CHECK.doc.name,
        format!("openings that can't be shut: high up {}, low down {}", told(vents.high), told(vents.low)),
    )
    .basis(format!(
        "EN 721, {} m² of floor, {}: {} high up, {} low down",
        significant(vents.floor, 3),
        if vents.sealed { "nothing burns in the room" } else { "something burns that takes its air from the room" },
        show(vents.needed.high),
        show(vents.needed.low)
    ));
    let spans = [(vehicle.vent_high.get(), vehicle.vent_high.span), (vehicle.vent_low.get(), vehicle.vent_low.span)];
    if let Some((_, span)) = spans.into_iter().find(|(told, _)| told.is_some()) {
        finding = finding.at(span, "too small together with the other, or alone");
    } else if let Some((_, surface)) = context.build.shell.iter().next() {
        finding = finding.at(surface.span, "the floor of [shell] decides");
    }
    sink.push(finding.help("cut fixed vents, and tell their free area in vent_high and vent_low of [vehicle]"));
}
