//! A solar array in a season without sun.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "season-without-sun",
        severity: Severity::Warning,
        what: "The build has solar arrays, and in a season of the spec no sun reaches them: polar night, or an irradiation of zero.",
        why: "The arrays bring nothing then. The bank lives on driving and shore power.",
        example: "[climate.polar-night]\nmonth = 12\nlatitude = \"70 °\"\nirradiation = \"0 kWh/m2\"\nlow = \"-18 °C\"\nhigh = \"-9 °C\"",
        basis: "Duffie and Beckman 1.6.10 and 1.10.3: sunset angle and irradiation above the air.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    if context.electrical.strings.is_empty() {
        return;
    }
    for (id, season) in &context.energy.seasons {
        let night = season.sun.clearness.is_none();
        if !night && season.sun.irradiation > 0.0 {
            continue;
        }
        let why = if night {
            "polar night: the sun does not rise on the mean day of the month"
        } else {
            "the irradiation is zero"
        };
        let span = context.build.climates.get(id).map(|c| if night { c.latitude.span } else { c.irradiation.span });
        let finding = Finding::warning(CHECK.doc.name, format!("{id}: no sun reaches the solar arrays"))
            .about(id)
            .at(span.unwrap_or_default(), why)
            .basis("Duffie and Beckman 1.6.10 and 1.10.3")
            .help("check month, latitude and irradiation; if right, count on driving and shore power");
        sink.push(finding);
    }
}
