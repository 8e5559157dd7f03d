//! Nobody to call.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "no-contact",
        severity: Severity::Warning,
        what: "The spec has no [contact.<id>], and no shop's page with telephones stands behind it.",
        why: "On the first cold night the owner looks in the manual for whom to call, and finds nobody.",
        example: "[build]\ntitle = \"Weekend\"           # and no [contact.shop]",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let spec = &context.build.spec;
    if !spec.contacts.is_empty() {
        return;
    }
    sink.push(
        Finding::warning(CHECK.doc.name, "the manual has nobody to call")
            .at(spec.build.span, "no [contact.<id>] in this spec")
            .basis("the owner's manual prints the contacts among its emergencies")
            .help("add [contact.shop] with `role`, `name` and `phone`, or `telephones` to shop.toml"),
    );
}
