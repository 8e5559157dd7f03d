//! A key of a keypad for what hangs on no output of its modules.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "key-without-output",
        severity: Severity::Error,
        what: "`switched_at` names a key of a keypad, and what it shall switch is fed from something else than an output of the modules that the keypad works.",
        why: "A key only sends a message: nothing switches, the load runs all the time or never.",
        example: "[component.keypad]\nkind = \"keypad\"\nworks = \"module\"\nfed_from = \"panel\"\nkey.pump = { label = \"PUMP\" }\n\n[component.pump]\nkind = \"water-pump\"\nfed_from = \"panel\"             # not the module\nswitched_at = \"keypad.pump\"",
        basis: "Structure of the spec: what the fields say of both.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for part in context.build.parts.values() {
        let Some(at) = part.supply.switched_at.text() else { continue };
        let panel = at.split_once('.').and_then(|(panel, _)| context.part(panel));
        let Some((panel, keypad)) = panel.and_then(|p| Some((p, p.roles.keypad.as_ref()?))) else { continue };
        let Some(feeder) = part.supply.fed_from.all().first() else { continue };
        if keypad.works.names(&feeder.value) {
            continue;
        }
        let modules: Vec<&str> = keypad.works.all().iter().map(|id| id.value.as_str()).collect();
        let headline = format!("{}: switched by a key of {}, and fed from {}", part.id, panel.id, feeder.value);
        sink.push(
            Finding::error(CHECK.doc.name, headline)
                .about(&part.id)
                .at(feeder.span, "no output that the keypad works")
                .label(part.supply.switched_at.span, "the key is here")
                .help(format!(
                    "feed it from an output of {}, or name that module in `works` of the keypad",
                    modules.join(" or ")
                )),
        );
    }
}
