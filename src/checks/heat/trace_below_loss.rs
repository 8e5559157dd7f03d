//! Heat trace that gives less than its pipe loses.

use super::below_loss::{self, Words};
use crate::checks::{Check, Context};
use crate::diag::{FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "trace-below-loss",
        severity: Severity::Warning,
        what: "At the lowest temperature on record, or the usual low where none is told, the pipe loses more heat than the heat trace on it gives.",
        why: "The pipe freezes although it is heated.",
        example: "[component.trace]\nkind = \"heat-trace\"\nlength = \"2 m\"\ndraw = \"6 W\"                       # and 30 W are lost at -35 °C",
        basis: "q = ΔT / (ln(D2/D1)/(2π k) + 1/(h π D2)), 10 % on top.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let words = Words {
        what: "pipe",
        basis: "loss of the insulated pipe",
        extra: ", 10 % on top",
        mend: "or more over its length, or thicker insulation round it",
    };
    below_loss::find(context, sink, CHECK.doc.name, &context.heat.traces, &words);
}
