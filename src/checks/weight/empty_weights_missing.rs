//! Masses given, but nothing to add them to.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "empty-weights-missing",
        severity: Severity::Warning,
        what: "Components give masses, but [vehicle] lacks wheelbase or an empty axle load.",
        why: "No axle load can be computed, and the first weighing of the finished van may bring a surprise.",
        example: "[vehicle]\ngross_mass = \"3500 kg\"          # and no wheelbase, front_axle_empty, rear_axle_empty",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let vehicle = &context.build.vehicle;
    let weighs = context.build.parts.values().any(|p| p.common.mass.given);
    if context.weight.base.is_some() || !weighs || vehicle.gross_mass.get().is_none() {
        return;
    }
    let fields = [
        ("wheelbase", vehicle.wheelbase.get().is_some()),
        ("front_axle_empty", vehicle.front_axle_empty.get().is_some()),
        ("rear_axle_empty", vehicle.rear_axle_empty.get().is_some()),
    ];
    let missing: Vec<_> = fields.iter().filter(|(_, there)| !there).map(|(name, _)| format!("`{name}`")).collect();
    sink.push(
        Finding::warning(CHECK.doc.name, "no axle load can be computed: the empty vehicle is not known")
            .at(vehicle.span, format!("no {}", missing.join(", ")))
            .help("weigh both axles before the build, with a full fuel tank and no driver"),
    );
}
