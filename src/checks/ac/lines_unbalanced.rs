//! A split-phase panel of which one line carries most.

use crate::checks::compare::above;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::{Amps, System};

/// Difference of the lines as a share of the main breaker. Common practice, no source.
const MOST: f64 = 0.5;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "lines-unbalanced",
        severity: Severity::Warning,
        what: "The two lines of a split-phase panel differ by more than half the rating of its main breaker.",
        why: "One line trips the main breaker while the other has room, and the neutral carries the difference.",
        example: "[component.inlet]\nkind = \"shore-inlet\"\nrating = \"50 A\"\nlines = 2\n\n[component.air-conditioner]\nkind = \"air-conditioner\"\nfed_from = \"consumer-unit\"\nline = \"1\"\n\n[component.heater]\nkind = \"water-heater-ac\"\nfed_from = \"consumer-unit\"\nline = \"1\"      # and nothing on line 2",
        basis: "Kirchhoff's current law: the neutral carries the difference of the lines. Half the rating: common practice, no source.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (id, panel) in &context.electrical.panels {
        let (Some(part), Some([one, two]), Some(rating)) = (context.part(id), panel.lines, panel.rating) else {
            continue;
        };
        if !above((one.0 - two.0).abs(), (rating * MOST).0) {
            continue;
        }
        let show = |amps: Amps| amps.show(System::Metric);
        let fuller = if one > two { "1" } else { "2" };
        sink.push(
            Finding::warning(CHECK.doc.name, format!("{id}: {} on line 1 and {} on line 2", show(one), show(two)))
                .about(id)
                .at(part.roles.rating().span, format!("{} on each line", show(rating)))
                .basis("the neutral carries the difference of the lines; half the rating is common practice, no source")
                .help(format!("put a large load of line {fuller} on the other: another way, or `line`")),
        );
    }
}
