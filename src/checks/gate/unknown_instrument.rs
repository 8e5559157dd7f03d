//! A reading with an instrument that nobody knows.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "unknown-instrument",
        severity: Severity::Error,
        what: "`instruments` of [recorded.taken] names one that stands neither in the spec nor in the shop's page as [instrument.<id>].",
        why: "Nobody can tell which meter it was and whether it was calibrated.",
        example: "[recorded.taken]\ncommissioning = { by = \"I. M.\", date = 2027-05-13, instruments = [\"meter-1\"] }   # and no [instrument.meter-1]",
        basis: "A name must lead to what it names.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let spec = &context.build.spec;
    for (id, taken) in &spec.recorded.taken {
        for unknown in taken.value.instruments.iter().filter(|i| !spec.instruments.contains_key(&i.value)) {
            let near = sink.nearest(&unknown.value, spec.instruments.keys());
            let finding = Finding::error(CHECK.doc.name, format!("there is no instrument \"{}\"", unknown.value))
                .about(id)
                .at(unknown.span, "not known")
                .basis("[instrument.<id>] of the spec or of the shop");
            sink.push(match near {
                Some(near) => finding.help(format!("did you mean \"{near}\"?")),
                None => finding.help(format!(
                    "add [instrument.{}] with its number and calibrated_until, to the spec or to shop.toml",
                    unknown.value
                )),
            });
        }
    }
}
