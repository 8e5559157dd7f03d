//! A string whose voltage on the coldest morning is above what its controller withstands.

use crate::checks::compare::above;
use crate::checks::solar::strings;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "string-voltage-over-controller",
        severity: Severity::Error,
        what: "The open-circuit voltage of an array's strings at the lowest temperature of the climates is above the controller's limit.",
        why: "The first clear, frosty morning destroys the controller, and the array's voltage may reach the bank.",
        example: "[climate.winter]\nrecord_low = \"-35 °C\"\n\n[component.roof-array]\nkind = \"solar-array\"\nvoc = \"45 V\"\nseries = 2",
        basis: "Data sheets of module and controller; Voc(T) = Voc(25 °C) · (1 + β · (T − 25 °C)).",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let system = context.build.prints();
    for (controller, arrays) in strings::by_controller(context) {
        let Some(limit) = controller.roles.max_pv_voltage().get() else { continue };
        for (array, figures) in arrays {
            let highest = strings::highest(figures);
            if !above(highest.0, limit.0) {
                continue;
            }
            let given = if controller.roles.max_pv_voltage().given { "" } else { " (usual value; give the maker's)" };
            let low = figures.coldest.map_or(String::new(), |t| format!(" at {}", t.show(system)));
            sink.push(
                Finding::error(
                    CHECK.doc.name,
                    format!(
                        "{}: {}{low} on {}, which withstands {}",
                        array.id,
                        highest.show(system),
                        controller.id,
                        limit.show(system)
                    ),
                )
                .about(&array.id)
                .at(array.roles.voc().span, format!("strings reach {}", highest.show(system)))
                .label(controller.roles.max_pv_voltage().span, format!("withstands {}{given}", limit.show(system)))
                .basis(strings::how(context, figures))
                .help("fewer modules in series, or a controller for a higher voltage"),
            );
        }
    }
}
