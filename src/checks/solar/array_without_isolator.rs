//! A fixed array that can't be cut off from its controller.

use crate::checks::solar::strings;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Role;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "array-without-isolator",
        severity: Severity::Warning,
        what: "No isolator stands between a fixed solar array and its controller. A portable array is unplugged instead.",
        why: "The cables are live whenever there is light. Pulled apart under load, a DC connector draws an arc.",
        example: "[component.controller]\nkind = \"solar-controller\"\nfed_from = \"roof-array\"      # and no pv-isolator between",
        basis: "NEC 690.13, from memory, and common practice; so it warns.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (array, figures) in strings::arrays(context) {
        let Some(controller) = figures.controller.as_deref().and_then(|c| context.part(c)) else { continue };
        // A loose lead ends in a plug.
        let portable = array.roles.lead().get().is_some();
        let cut = strings::between(context, array)
            .iter()
            .any(|p| matches!(p.role(), Some(Role::Disconnect | Role::Protection)));
        if portable || cut {
            continue;
        }
        sink.push(
            Finding::warning(CHECK.doc.name, format!("{}: nothing cuts it off from {}", array.id, controller.id))
                .about(&array.id)
                .at(controller.supply.fed_from.span, "fed straight from the array")
                .label(array.span, "live whenever there is light")
                .basis("NEC 690.13, from memory; common practice")
                .help("put a pv-isolator between them, rated for the DC voltage and current of the array"),
        );
    }
}
