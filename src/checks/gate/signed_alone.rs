//! A second person's hold point, signed by who read what proves it.

use super::people::same;
use super::signed::signed_holds;
use crate::build::Proved;
use crate::checks::{Check, Context};
use crate::compute::readings;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::{Signer, TaskTemplate};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "signed-alone",
        severity: Severity::Warning,
        what: "A hold point that a second person signs bears the name of the one who took its own readings.",
        why: "The second person is there to see what the first one overlooks. One who checks the own work sees it as it was meant.",
        example: "[recorded.taken]\nair-heater = { by = \"S. T.\", date = 2027-05-11 }\n\n[recorded.signed]\nair-heater.run = { by = \"S. T.\", date = 2027-05-11 }   # a second person signs it",
        basis: "What a second person is; common practice of work under sign-off, no source.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let (build, readings) = (context.build, &context.readings);
    if build.spec.recorded.signed.is_empty() {
        return;
    }
    let proofs = readings.proofs();
    for (id, hold, signature) in signed_holds(build) {
        let Some(task) = build.tasks.get(id) else { continue };
        if task.template.and_then(TaskTemplate::other_signer) != Some(Signer::SecondPerson) {
            continue;
        }
        // What others proved before is theirs.
        let own = |p: &Proved| match p {
            Proved::Reading(_) => true,
            Proved::Tasks(every) => every.ids.iter().all(|task| task == id),
            Proved::DeadTests => false,
        };
        if !hold.proof.iter().any(own) {
            continue;
        }
        let by = |key: &str| readings::taken(build, task.stage, key);
        let recorded = proofs.readings(hold).filter(|key| readings.results.contains_key(*key));
        let Some((key, taken)) =
            recorded.filter_map(|key| Some((key, by(key)?))).find(|(_, t)| same(&t.value.by, &signature.value.by))
        else {
            continue;
        };
        sink.push(
            Finding::warning(
                CHECK.doc.name,
                format!("`{id}` is signed by {}, who read {key} too: a second person signs it", signature.value.by),
            )
            .about(id)
            .at(signature.span, "signed by the same")
            .label(taken.span, format!("read by {}", taken.value.by))
            .basis("a second person is another than who did and read it")
            .help("have another person look and sign with the day of that, or name who really read it in [recorded.taken]"),
        );
    }
}
