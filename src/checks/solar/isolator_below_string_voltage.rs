//! A solar isolator rated below the voltage of the strings it breaks.

use crate::checks::compare::above;
use crate::checks::solar::strings;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "isolator-below-string-voltage",
        severity: Severity::Error,
        what: "The DC voltage that an isolator can break is below the open-circuit voltage of the array before it.",
        why: "The arc between its contacts does not go out, and sets it on fire.",
        example: "[component.isolator]\nkind = \"pv-isolator\"\nfed_from = \"roof-array\"       # strings of 90 V\nrated_voltage = \"60 V\"",
        basis: "Data sheets of module and isolator.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let system = context.build.prints();
    for (array, figures) in strings::arrays(context) {
        let highest = strings::highest(figures);
        for part in strings::between(context, array) {
            let Some(rated) = part.roles.rated_voltage().get().filter(|r| above(highest.0, r.0)) else { continue };
            sink.push(
                Finding::error(
                    CHECK.doc.name,
                    format!("{}: rated {} on strings that reach {}", part.id, rated.show(system), highest.show(system)),
                )
                .about(&part.id)
                .at(part.roles.rated_voltage().span, format!("breaks {} DC", rated.show(system)))
                .label(array.roles.voc().span, format!("strings reach {}", highest.show(system)))
                .basis(strings::how(context, figures))
                .help(format!("an isolator for {} DC or more", highest.show(system))),
            );
        }
    }
}
