//! A consumer unit whose main breaker opens before all behind it can run.

use crate::checks::compare::above;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::{Amps, System};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "main-breaker-below-load",
        severity: Severity::Warning,
        what: "What is behind a consumer unit takes more at one time than its main breaker lets through: by its loads, or with 125 % of what runs for hours.",
        why: "The main breaker opens in normal use, and everything on AC is off at once.",
        example: "[component.consumer-unit]\nkind = \"consumer-unit\"\nfed_from = \"inlet\"\nrating = \"10 A\"\n\n[component.cooktop]\nkind = \"cooktop-induction\"\nfed_from = \"consumer-unit\"\ndraw = \"2000 W\"",
        basis: "NEC 210.20 and 215.3: 100 % of the non-continuous and 125 % of the continuous load; outlets at 180 VA each (NEC 220.14(I), from memory, so it warns).",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (id, panel) in &context.electrical.panels {
        let (Some(part), Some(wanted), Some(rating)) = (context.part(id), panel.wanted, panel.rating) else { continue };
        let needed = wanted.max(panel.design);
        if !above(needed.0, rating.0) {
            continue;
        }
        let show = |amps: Amps| amps.show(System::Metric);
        let (what, amps) = if above(wanted.0, rating.0) {
            ("what is behind it takes", wanted)
        } else {
            ("the design current behind it is", needed)
        };
        // Of two lines the fuller one opens it.
        let fuller = panel.lines.map(|[one, two]| if two > one { " on line 2" } else { " on line 1" });
        let fuller = fuller.unwrap_or_default();
        let headline = format!("{id}: {} main breaker, {what} {}{fuller}", show(rating), show(amps));
        sink.push(
            Finding::warning(CHECK.doc.name, headline)
                .about(id)
                .at(part.roles.rating().span, format!("{} main breaker", show(rating)))
                .basis(format!(
                    "{} behind it at one time, design current {}; outlets at 180 VA each (NEC 220.14(I), from memory)",
                    show(wanted),
                    show(panel.design)
                ))
                .help("a larger main breaker where inlet and cable allow it, fewer or smaller loads, or a lower `diversity` that you can stand behind"),
        );
    }
}
