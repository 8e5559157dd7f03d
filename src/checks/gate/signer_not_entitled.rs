//! Signed by someone who may not.

use super::people::same;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Signer;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "signer-not-entitled",
        severity: Severity::Warning,
        what: "The people who may sign are listed, and a hold point is signed by someone who is not among them, or who may not sign holds of its sort.",
        why: "Work on mains and gas is signed by a person who is licensed for it. A name that nobody knows answers for nothing.",
        example: "[person.technician]\nname = \"Ina Marsh\"\nsigns = \"technician\"\n\n[recorded.signed]\nconsumer-unit.fit = { by = \"I. M.\", date = 2027-04-15 }   # a person licensed for mains work signs it",
        basis: "`signs` of the task and of [person.<id>]; local codes say who is licensed.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    let people = &build.spec.people;
    if people.is_empty() {
        return;
    }
    for (id, signature) in &build.spec.recorded.signed {
        let Some(task) = build.tasks.get(id).filter(|_| build.holds.contains_key(id)) else { continue };
        let asked = task.template.map_or(Signer::Technician, |t| t.signs);
        let by = &signature.value.by;
        let named = |p: &&crate::fields::Record| p.text("name").is_some_and(|name| same(name, by));
        let known: Vec<_> = people.values().filter(named).collect();
        let may =
            known.iter().filter_map(|p| p.text("signs").and_then(Signer::from_id)).any(|own| entitles(own, asked));
        if may {
            continue;
        }
        let fault = match known.first() {
            None => format!("{by} is none of those who may sign"),
            Some(person) => {
                let own = person.text("signs").and_then(Signer::from_id).map_or("", Signer::title);
                format!("{by} signs as {own}, and {} signs this", asked.title())
            }
        };
        let mut finding = Finding::warning(CHECK.doc.name, format!("`{id}`: {fault}"))
            .about(id)
            .at(signature.span, format!("signed by {by}"));
        if let Some(person) = known.first() {
            finding = finding.label(person.span_of("signs"), "what this person signs");
        }
        sink.push(finding.basis("`signs` of the hold point and of [person.<id>]").help(
            "have it looked at and signed by one who may, with the day of that, or put the person's `signs` right",
        ));
    }
}

/// Whether one who signs as `own` may sign what `asked` signs: a licence is for its own trade, a drawing is answered for by
/// who drew it, and a second look is open to all but that one and a technician who signs the own work alone.
const fn entitles(own: Signer, asked: Signer) -> bool {
    match asked {
        Signer::Technician => true,
        Signer::SecondPerson => !matches!(own, Signer::Technician | Signer::Designer),
        Signer::Designer => matches!(own, Signer::Designer),
        Signer::LicensedElectrician => matches!(own, Signer::LicensedElectrician),
        Signer::LicensedGas => matches!(own, Signer::LicensedGas),
    }
}
