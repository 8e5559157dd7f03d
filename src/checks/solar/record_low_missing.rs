//! A solar array in a build that does not say how cold it gets.

use crate::checks::solar::strings;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "record-low-missing",
        severity: Severity::Warning,
        what: "The build has a solar array and no climate gives a `record_low`. The usual low of a night is not the lowest.",
        why: "The strings' voltage on the coldest morning, the highest they ever have, can't be held against the controller's limit.",
        example: "[component.roof-array]\nkind = \"solar-array\"          # and no [climate.…] with record_low",
        basis: "Voc(T) = Voc(25 °C) · (1 + β · (T − 25 °C)), from the module's data sheet.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let climates = &context.build.climates;
    if climates.values().any(|c| c.record_low.get().is_some()) {
        return;
    }
    let mut arrays = strings::arrays(context);
    let Some((array, figures)) = arrays.next() else { return };
    let voc = figures.voc.show(context.build.prints());
    let mut finding =
        Finding::warning(CHECK.doc.name, "no climate gives a record low, so the strings' highest voltage is unknown")
            .about(&array.id)
            .at(array.roles.voc().span, format!("{voc} in a string at 25 °C, more when it is colder"));
    for (other, _) in arrays {
        finding = finding.label(other.roles.voc().span, "the same here");
    }
    for climate in climates.values() {
        finding = finding.label(climate.span, "gives no record low");
    }
    sink.push(
        finding
            .basis("Voc(T) = Voc(25 °C) · (1 + β · (T − 25 °C))")
            .help("add `record_low` to a [climate.…]: the lowest temperature recorded where the van goes"),
    );
}
