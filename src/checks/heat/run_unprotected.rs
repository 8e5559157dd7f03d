//! A pipe in the frost that nothing protects.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::{Celsius, Seconds};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "run-unprotected",
        severity: Severity::Warning,
        what: "A pipe with water in it lies outside the heated space, it freezes at the usual low or at the lowest on record, and it has neither heat trace under insulation nor a drain.",
        why: "It freezes within hours of standing and splits.",
        example: "[component.cold]\nkind = \"pipe-run\"\nmedium = \"cold\"\nposition = \"under-floor\"\nlength = \"2 m\"                     # no heat-trace protects it, no drain-valve drains it",
        basis: "Water freezes at 0 °C; insulation alone only delays it.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let heat = &context.heat;
    let Some(coldest) = &heat.coldest else { return };
    // A place that freezes in no usual night may still freeze once.
    let usual = coldest.celsius < 0.0;
    let Some(low) = Some(coldest.celsius).filter(|_| usual).or(heat.record_low) else { return };
    for (id, run) in context.heat.runs.iter().filter(|(_, r)| r.outside && !r.is_protected()) {
        let times = if usual { run.to_zero.zip(run.to_ice) } else { run.on_record };
        let (Some(part), Some((zero, ice))) = (context.part(id), times) else { continue };
        let system = context.build.prints();
        let low = Celsius(low).show(system);
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
        let climates = &context.build.climates;
        let on_record = || {
            let told = climates.values().filter_map(|c| Some((&c.record_low, c.record_low.get()?)));
            told.reduce(|a, b| if b.1.0 < a.1.0 { b } else { a }).map(|(field, _)| field)
        };
        let said = if usual { climates.get(&coldest.climate).map(|c| &c.low) } else { on_record() };
        if let Some(said) = said {
            finding = finding.label(said.span, low);
        }
        sink.push(finding.help(
            "name it in `drains` of a drain-valve, or in `protects` of a heat-trace and insulate it; or lay it inside",
        ));
    }
}
