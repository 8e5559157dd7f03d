//! A front axle too light to steer well.

use crate::checks::compare::above;
use crate::checks::{Check, Context};
use crate::compute::weight::FRONT;
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "front-axle-light",
        severity: Severity::Warning,
        what: "In a load case less than 35 % of the mass stands on the front axle.",
        why: "The front wheels lose grip when it is wet or steep: steering and braking suffer, and front-wheel drive spins.",
        example: "[place]\nrear = { at = [\"4.6 m\", \"0 m\", \"0 m\"] }        # tank, bank and box all behind the rear axle",
        basis: "Common practice, no source; balance of moments.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let share = |c: &crate::compute::weight::cases::Case| (c.total().0 > 0.0).then(|| c.axles.front.0 / c.total().0);
    let cases = context.weight.cases.iter().filter_map(|c| Some((c, share(c)?)));
    let Some((case, share)) = cases.min_by(|a, b| a.1.total_cmp(&b.1)) else { return };
    if !above(FRONT, share) {
        return;
    }
    let vehicle = &context.build.vehicle;
    sink.push(
        Finding::warning(
            CHECK.doc.name,
            format!("only {:.1} % of the mass stands on the front axle, {}", share * 100.0, case.id.title()),
        )
        .at(vehicle.front_axle_empty.span, format!("{} then", case.axles.front.show(context.build.prints())))
        .basis("at least 35 % on the front axle: common practice, no source")
        .basis("what lies behind the rear axle lightens the front")
        .help("move heavy things forward of the rear axle"),
    );
}
