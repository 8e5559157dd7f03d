//! Arrays of different voltage on one controller.

use crate::build::Part;
use crate::checks::compare::above;
use crate::checks::solar::strings;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::Volts;

/// Difference of the strings' working voltages that costs little. Common practice, no source.
const USUAL_DIFFERENCE: f64 = 0.05;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "mixed-arrays-on-one-controller",
        severity: Severity::Warning,
        what: "Two arrays on one controller have strings whose voltages at peak power differ by more than 5 %.",
        why: "In parallel they work at one voltage: the weaker voltage wins, and the other array gives much less than its plate says.",
        example: "[component.controller]\nkind = \"solar-controller\"\nfed_from = [\"roof-array\", \"bonnet-array\"]   # 36 V and 18 V",
        basis: "Arrays in parallel share one voltage; the 5 % is common practice, no source.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (controller, arrays) in strings::by_controller(context) {
        let known: Vec<_> = arrays.iter().filter_map(|(p, _)| Some((*p, working(p)?))).collect();
        let low = known.iter().copied().reduce(|a, b| if b.1 < a.1 { b } else { a });
        let high = known.iter().copied().reduce(|a, b| if b.1 > a.1 { b } else { a });
        let (Some(low), Some(high)) = (low, high) else { continue };
        if !above(high.1.0, low.1.0 * (1.0 + USUAL_DIFFERENCE)) {
            continue;
        }
        let [l, h] = [low.1, high.1].map(|v| v.show(context.build.prints()));
        sink.push(
            Finding::warning(
                CHECK.doc.name,
                format!("{}: {} works at {h} and {} at {l}", controller.id, high.0.id, low.0.id),
            )
            .about(&controller.id)
            .at(controller.supply.fed_from.span, "both arrive here")
            .label(high.0.roles.vmp().span, format!("strings work at {h}"))
            .label(low.0.roles.vmp().span, format!("strings work at {l}"))
            .basis("arrays in parallel share one voltage")
            .help("a controller for each, or strings of the same voltage"),
        );
    }
}

/// Voltage of an array's strings at peak power.
fn working(array: &Part<'_>) -> Option<Volts> {
    let series = array.roles.series().get()?.max(1);
    Some(array.roles.vmp().get()? * crate::compute::network::count(series))
}
