//! A fact that is said to be read or measured, and is not written down.

use crate::build::ASSUMED;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "known-without-value",
        severity: Severity::Warning,
        what: "`known` says that something of a component was read or measured, and the component does not give it.",
        why: "A default or a sized value is printed as if somebody had looked at the van.",
        example: "[component.fridge]\nkind  = \"fridge\"\nscope = \"existing\"\nknown = { conductor = \"read\" }       # and no conductor",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for part in context.build.parts.values().filter(|p| p.was_there()) {
        for (field, word) in part.common.known.all() {
            if word.value == ASSUMED || part.says(&field.value) {
                continue;
            }
            let (name, how) = (&field.value, &word.value);
            sink.push(
                Finding::warning(CHECK.doc.name, format!("{}: `{name}` is {how} and not given", part.id))
                    .about(&part.id)
                    .at(field.span, format!("{how}, but what?"))
                    .label(part.span, format!("no `{name}` here"))
                    .basis("what was read stands in the spec")
                    .help(format!("write `{name}` as it was {how}, or say \"assumed\"")),
            );
        }
    }
}
