//! Levelling legs that must lift more than their plate allows.

use super::over::{self, Over};
use crate::build::Part;
use crate::checks::{Check, Context};
use crate::diag::{FindingDoc, Severity, Sink};
use crate::units::{Bound, Kilograms};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "legs-over-rating",
        severity: Severity::Error,
        what: "In a load case an axle carries more than the levelling legs beside it may lift.",
        why: "A leg that is overloaded buckles or sinks, with people aboard or beside the van.",
        example: "[component.legs]\nkind = \"hydraulic-levelling\"\nleg_rating = \"900 kg\"              # and 1950 kg on the rear axle",
        basis: "Plate of the legs, half of them at each axle; loads of the axles by moments. A warning where only usual values of masses lead above it.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let legs = |part: &&Part<'_>| part.roles.levelling.is_some();
    context.build.parts.values().filter(legs).for_each(|part| judge(context, part, sink));
}

fn judge(context: &Context<'_>, part: &Part<'_>, sink: &mut Sink) {
    let Some(legs) = &part.roles.levelling else { return };
    let (Some(count), Some(rating)) = (legs.leg_count.get(), legs.leg_rating.get()) else { return };
    let at_axle = crate::compute::network::count(count) / 2.0;
    let limit: Kilograms = rating * at_axle;
    let cases = || context.weight.cases.iter();
    let front = over::worst(cases().map(|c| Over { case: c, load: c.axles.front, known: c.known.front }), limit);
    let rear = over::worst(cases().map(|c| Over { case: c, load: c.axles.rear, known: c.known.rear }), limit);
    let system = context.build.prints();
    for (axle, worst) in [("front", front), ("rear", rear)] {
        let Some(worst) = worst else { continue };
        let headline = format!(
            "{}: {} on the {axle} axle {}, its legs there lift {}",
            part.id,
            worst.load.show(system),
            worst.case.id.title(),
            limit.bound(Bound::Most, system)
        );
        sink.push(
            over::finding(CHECK.doc.name, headline, &worst, limit)
                .about(&part.id)
                .at(legs.leg_rating.span, format!("at most {} a leg", rating.bound(Bound::Most, system)))
                .basis(over::heaviest(context, &worst, axle))
                .help("legs with a higher rating, or less weight at that axle"),
        );
    }
}
