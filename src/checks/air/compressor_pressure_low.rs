//! A compressor that stops before the tyres are full.

use crate::checks::compare::above;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::{Dimension, print};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "compressor-pressure-low",
        severity: Severity::Error,
        what: "The pressure at which the compressor stops is below the road pressure of a tyre.",
        why: "The tyres stay soft, heat up on the road and burst.",
        example: "[component.compressor]\nkind = \"air-compressor\"\nmax_pressure = \"3 bar\"\n\n[component.wheels]\nkind = \"wheel-set\"\npressure_rear = \"4.5 bar\"",
        basis: "Air flows to the lower pressure. A warning where one of the two is a usual value.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let system = context.build.prints();
    // Both states of a set end at the same pressure; one is enough.
    for f in context.air.fillings.iter().filter(|f| f.from_track) {
        let (Some(compressor), Some(tyres), Some(stops)) =
            (context.part(&f.compressor), context.part(&f.tyres), f.max_pressure)
        else {
            continue;
        };
        if !above(f.highest, stops) {
            continue;
        }
        let pressure = |p: f64| print(Dimension::Pressure, p, system);
        let (front, rear) = (tyres.roles.pressure_front(), tyres.roles.pressure_rear());
        let needs = if front.get().is_some_and(|p| p.0 == f.highest) { front } else { rear };
        let headline =
            format!("{} stops at {}, {} needs {}", f.compressor, pressure(stops), f.tyres, pressure(f.highest));
        let given = compressor.roles.max_pressure().given && needs.given;
        let finding = Finding::error_if(given, CHECK.doc.name, headline);
        sink.push(
            finding
                .about(&f.compressor)
                .at(compressor.roles.max_pressure().span, format!("stops at {}", pressure(stops)))
                .label(needs.span, format!("needs {}", pressure(f.highest)))
                .basis("air flows to the lower pressure")
                .help("a compressor for a higher pressure"),
        );
    }
}
