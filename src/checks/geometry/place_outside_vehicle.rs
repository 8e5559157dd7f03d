//! A place that is not within the vehicle.

use crate::checks::compare::above;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::spec::PlaceSection;
use crate::units::Metres;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "place-outside-vehicle",
        severity: Severity::Error,
        what: "The middle of a cabin place lies outside the vehicle's length or width (error), or its edge does (warning).",
        why: "A sign or a digit is wrong, and with it weight, routes and drawings.",
        example: "[place]\ngalley = { at = [\"19 m\", \"0.6 m\", \"0 m\"] }       # 1.9 m",
        basis: "Measures of the vehicle as the spec gives them.",
    },
    run,
};

/// Skins, doors and lids stand out a little: 50 mm.
const EDGE: f64 = 0.05;

fn run(context: &Context<'_>, sink: &mut Sink) {
    let v = &context.build.vehicle;
    let ends = (|| {
        let front = -v.front_overhang.get()?.0;
        let rear = v.wheelbase.get()?.0 + v.rear_overhang.get()?.0;
        Some((front, rear))
    })();
    let half = v.width.get().map(|w| w.0 / 2.0);
    for (id, place) in &context.build.places {
        if !["cabin", "engine-space"].contains(&place.zone()) {
            continue;
        }
        let along = ends.and_then(|(front, rear)| beyond(place, 0, front, rear));
        let across = half.and_then(|h| beyond(place, 1, -h, h));
        for (axis, (middle, edge)) in
            [("length", along), ("width", across)].into_iter().filter_map(|(a, b)| Some((a, b?)))
        {
            let system = context.build.prints();
            let finding = if above(middle, 0.0) {
                Finding::error(
                    CHECK.doc.name,
                    format!("{id}: lies {} outside the vehicle's {axis}", Metres(middle).show(system)),
                )
            } else if above(edge, EDGE) {
                Finding::warning(
                    CHECK.doc.name,
                    format!("{id}: its edge stands {} out of the vehicle's {axis}", Metres(edge).show(system)),
                )
            } else {
                continue;
            };
            sink.push(
                finding
                    .about(id)
                    .at(place.at.span, "aft of the front axle, to the left, above the floor")
                    .basis("overhangs, wheelbase and width in [vehicle]")
                    .help("correct `at` or `size`; a place on the outside has zone = \"outside\""),
            );
        }
    }
}

/// How far middle and edge of a place lie beyond `low` and `high` along an axis.
fn beyond(place: &PlaceSection, axis: usize, low: f64, high: f64) -> Option<(f64, f64)> {
    let middle = place.at.get()?.0.get(axis)?.0;
    let half = place.half(axis)?.0;
    let out = |from: f64, to: f64| (low - from).max(to - high);
    Some((out(middle, middle), out(middle - half, middle + half)))
}
