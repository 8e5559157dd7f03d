//! The shop gives a warranty for what the customer brought.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "warranty-of-customers-part",
        severity: Severity::Warning,
        what: "A component is brought by the customer, and the spec gives it a warranty that counts from the handover.",
        why: "The binder would promise in the shop's name what the seller owes, for a part whose history the shop does not know.",
        example: "[component.fridge]\nkind          = \"fridge\"\nfrom_customer = true\nwarranty      = \"2 years\"",
        basis: "House rule; common practice of shops, no source. The law of the land decides what a shop owes for its work.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for part in context.build.parts.values().filter(|p| p.common.from_customer.is_set() && p.common.warranty.given) {
        let headline = format!("{}: a warranty from the handover on, for what the customer brings", part.id);
        let finding = Finding::warning(CHECK.doc.name, headline).about(&part.id);
        let finding =
            finding.at(part.common.warranty.span, "the shop's").label(part.common.from_customer.span, "the customer's");
        sink.push(
            finding
                .basis("the shop answers for fitting it, its seller for the part")
                .help("take `warranty` out; what the seller gives stands in `warranty_until`, or in [recorded.warranty] with `of`"),
        );
    }
}
