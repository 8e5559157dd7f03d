//! Lashing points that hold less than they must.

use crate::checks::compare::above;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::{Dimension, print};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "tie-down-over-rating",
        severity: Severity::Error,
        what: "The working load limits of a rail's points together are below half the weight of what they hold.",
        why: "The load breaks loose when braking.",
        example: "[component.rail]\nkind = \"lashing-rail\"\npoints = 2\nworking_load = \"300 N\"\nsecures = \"200 kg\"",
        basis: "49 CFR 393.102(a)(2) and 393.106: 0.5 g against the working load limits; written for cargo on commercial vehicles.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let system = context.build.prints();
    let newtons = |f: f64| print(Dimension::Force, f, system);
    for (id, t) in &context.mechanics.tie_downs {
        let Some(part) = context.part(id) else { continue };
        if !above(t.required, t.rated) {
            continue;
        }
        let headline = format!(
            "{id}: {} of working load for {}, {} is asked",
            newtons(t.rated),
            t.mass.show(system),
            newtons(t.required)
        );
        let finding = Finding::error_if(t.given, CHECK.doc.name, headline);
        sink.push(
            finding
                .about(id)
                .at(part.roles.working_load().span, "of one point")
                .basis("49 CFR 393.102(a)(2) and 393.106: working load limits together at least half the weight; no proof for a crash")
                .help("more points, or points with a higher working load limit; or lash less to it"),
        );
    }
}
