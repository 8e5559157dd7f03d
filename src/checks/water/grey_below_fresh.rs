//! A grey tank that is full before the fresh tank is empty.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::in_words;
use crate::units::{Dimension, print};

/// What is drunk or cooked away.
const ASIDE: &str = "2.5 L per person and day do not reach it (common practice, no source)";

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "grey-below-fresh",
        severity: Severity::Warning,
        what: "The grey tank fills up in fewer days than the fresh water lasts.",
        why: "Waste water backs up in the shower tray, or someone opens the valve where that is not allowed.",
        example: "[component.grey]\nkind = \"grey-tank\"\ncapacity = \"30 L\"                  # and a fresh tank of 110 L",
        basis: "2.5 L per person and day are drunk or cooked away (common practice, no source); the rest goes down the drain.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let (Some(fresh), Some(grey)) = (context.water.fresh_days, context.water.grey_days) else { return };
    if !crate::checks::compare::above(fresh, grey) {
        return;
    }
    let Some((id, _)) = context.water.grey.first() else { return };
    let Some(part) = context.part(id) else { return };
    let litres: f64 = context.water.grey.values().map(|t| t.litres).sum();
    let days = |d: f64| crate::units::significant(d, 2);
    let show = |l: f64| print(Dimension::Volume, l, context.build.prints());
    sink.push(
        Finding::warning(
            CHECK.doc.name,
            format!("{id} is full after {} days, the fresh water lasts {}", days(grey), days(fresh)),
        )
        .about(id)
        .at(part.roles.capacity_litres().span, show(litres))
        .basis(in_words(ASIDE, context.build.prints()).into_owned())
        .help(format!("a grey tank of {} or more", show(litres * fresh / grey))),
    );
}
