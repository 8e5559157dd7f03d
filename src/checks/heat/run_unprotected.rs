//! A pipe in the frost that nothing protects.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::{Celsius, Seconds};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "run-unprotected",
        severity: Severity::Warning,
        what: "A pipe with water in it lies outside the heated space, the climate freezes, and it has neither heat trace under insulation nor a drain.",
        why: "It freezes within hours of standing and splits.",
        example: "[component.cold]\nkind = \"pipe-run\"\nmedium = \"cold\"\nposition = \"under-floor\"\nlength = \"2 m\"                     # no heat-trace protects it, no drain-valve drains it",
        basis: "Water freezes at 0 °C; insulation alone only delays it.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let Some(coldest) = &context.heat.coldest else { return };
    for (id, run) in context.heat.runs.iter().filter(|(_, r)| r.outside && !r.is_protected()) {
        let (Some(part), Some(zero), Some(ice)) = (context.part(id), run.to_zero, run.to_ice) else { continue };
        let system = context.build.prints();
        let low = Celsius(coldest.celsius).show(system);
        let mut finding = Finding::warning(
            CHECK.doc.name,
            format!("{id} lies outside the heated space and nothing keeps it from freezing at {low}"),
        )
        .about(id)
        .at(part.roles.position().span, "outside")
        .basis(format!(
            "standing water of 10 °C is at 0 °C after {} and all ice {} later",
            Seconds(zero).show(system),
            Seconds(ice).show(system)
        ));
        if let Some(climate) = context.build.climates.get(&coldest.climate) {
            finding = finding.label(climate.low.span, low);
        }
        sink.push(finding.help(
            "name it in `drains` of a drain-valve, or in `protects` of a heat-trace and insulate it; or lay it inside",
        ));
    }
}
