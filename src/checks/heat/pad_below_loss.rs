//! A tank pad that gives less than its tank loses.

use super::below_loss::{self, Words};
use crate::checks::{Check, Context};
use crate::diag::{FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "pad-below-loss",
        severity: Severity::Warning,
        what: "At the lowest temperature on record, or the usual low where none is told, a tank outside the heated space loses more heat than its pad gives.",
        why: "The tank freezes although it is heated.",
        example: "[component.pad]\nkind = \"tank-pad\"\ntank = \"grey\"\ndraw = \"15 W\"                      # and 70 W are lost at -35 °C",
        basis: "Q = A · ΔT / (s/k + 1/25) of a box.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let words = Words {
        what: "tank",
        basis: "loss of the insulated tank",
        extra: "",
        mend: "or more, or thicker `tank_insulation`",
    };
    below_loss::find(context, sink, CHECK.doc.name, &context.heat.pads, &words);
}
