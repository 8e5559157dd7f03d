//! An array much larger than its controller can use.

use crate::checks::compare::above;
use crate::checks::solar::strings;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::{Amps, Watts};

/// Peak power over what the controller can put into the bank, from which on the loss is worth a word: modules give
/// their peak power seldom, so some excess is usual. Common practice, no source.
const USUAL_EXCESS: f64 = 1.3;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "array-far-above-controller",
        severity: Severity::Warning,
        what: "The peak power of the arrays on a controller, divided by the bank's voltage, is more than 1.3 times its output current.",
        why: "The controller clips: part of the modules that the owner pays for and carries on the roof gives nothing at noon.",
        example: "[component.roof-array]\nkind = \"solar-array\"\npower = \"200 W\"\nparallel = 4\n\n[component.controller]\nkind = \"solar-controller\"\noutput_current = \"30 A\"",
        basis: "I = P / V at the bank's nominal voltage; the factor 1.3 is common practice, no source.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let electrical = &context.electrical;
    let Some(volts) = electrical.banks.values().next().map(|b| b.volts) else { return };
    for (controller, arrays) in strings::by_controller(context) {
        let Some(output) = controller.roles.output_current().get().map(|a| a * controller.times()) else { continue };
        let power: Watts = arrays.iter().map(|(_, s)| s.power).sum();
        let wanted: Amps = power / volts;
        if !above(wanted.0, output.0 * USUAL_EXCESS) {
            continue;
        }
        let system = context.build.prints();
        let headline = format!(
            "{}: {} of modules could give {}, it gives {}",
            controller.id,
            power.show(system),
            wanted.show(system),
            output.show(system)
        );
        let mut finding = Finding::warning(CHECK.doc.name, headline)
            .about(&controller.id)
            .at(controller.roles.output_current().span, format!("gives {}", output.show(system)));
        for (array, figures) in arrays {
            finding = finding.label(array.roles.power().span, format!("{} peak in all", figures.power.show(system)));
        }
        sink.push(
            finding
                .basis(format!("{} / {} > 1.3 × {}; the factor is common practice", power.show(system), volts.show(system), output.show(system)))
                .help("a controller for more current, or accept it with a reason: such as modules that face different ways"),
        );
    }
}
