//! A reading that no test takes, or a signature for which no sheet has a line.

use crate::checks::{Check, Context};
use crate::compute::handover::AS_FOUND;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Stage;
use crate::source::Span;
use indexmap::IndexSet;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "recorded-nothing",
        severity: Severity::Warning,
        what: "[recorded] has a reading that none of the component's tests takes, a circuit or conductor that is not there, or a signature or photo of no stage, hold point or component.",
        why: "What was measured or signed is printed nowhere, and the test record still shows a blank.",
        example: "[recorded.readings]\n\"fridge.volts-runing\" = \"12.9 V\"",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    let recorded = &build.spec.recorded;
    let mut readings: IndexSet<String> = IndexSet::new();
    for task in build.tasks.values() {
        let part = task.part.as_ref().and_then(|id| build.bearer(id));
        if let (Some(part), Some(template)) = (part, task.template) {
            readings.extend(build.readings_of(part, template).map(|r| format!("{}.{}", part.id, r.id)));
        }
    }
    let of_own_tasks = |task: &str| build.tasks.get(task).is_some_and(|task| task.template.is_none());
    readings.extend(context.readings.tests.iter().filter(|t| of_own_tasks(&t.task)).map(|t| t.id.clone()));
    for (id, reading) in &recorded.readings {
        // The reader reports components that are not there.
        let component = id.split('.').next().unwrap_or(id);
        let known = build.parts.contains_key(component) || build.own_tasks.contains_key(component);
        if known && !build.may_be_from_before(component) && !readings.contains(id) {
            let same = format!("{component}.");
            let of_component = readings.iter().filter(|r| r.starts_with(&same)).cloned().collect();
            report("reading", "no test takes it", (id, reading.span), &of_component, sink);
        }
    }
    let mut signed: IndexSet<String> = Stage::ALL.iter().map(|s| s.id().to_owned()).collect();
    signed.extend(build.holds.keys().cloned());
    signed.extend(build.keeps_or_removes().then(|| AS_FOUND.to_owned()));
    // What was recorded of a part before this job, and stays or comes out, is kept and asked by no sheet.
    for (id, signature) in recorded.signed.iter().filter(|(id, _)| !build.may_be_from_before(id)) {
        report("signature", "no stage and no hold point", (id, signature.span), &signed, sink);
    }
    let circuits: IndexSet<String> = context.readings.circuits.iter().map(|c| c.circuit.clone()).collect();
    for (id, record) in &recorded.circuits {
        if build.parts.contains_key(id.split('.').next().unwrap_or(id)) && !build.may_be_from_before(id) {
            report("circuit", "no circuit of that label is tested", (id, record.span), &circuits, sink);
        }
    }
    let pulled: IndexSet<String> = context.electrical.conductors.keys().cloned().collect();
    for (id, reading) in &recorded.conductors {
        if build.parts.contains_key(id.split('.').next().unwrap_or(id)) && !build.may_be_from_before(id) {
            report("conductor", "no conductor of that label is pulled", (id, reading.span), &pulled, sink);
        }
    }
    let mut shown: IndexSet<String> = Stage::ALL.iter().map(|s| s.id().to_owned()).collect();
    shown.extend(build.parts.keys().cloned());
    for (id, record) in recorded.photos.iter().filter(|(id, _)| !build.may_be_from_before(id)) {
        report("photo", "no stage and no component", (id, record.span), &shown, sink);
    }
    shown.extend(readings);
    for (id, signature) in recorded.taken.iter().filter(|(id, _)| !build.may_be_from_before(id)) {
        report("reading", "no stage, no component and no reading", (id, signature.span), &shown, sink);
    }
}

fn report(what: &str, fault: &str, (id, span): (&str, Span), known: &IndexSet<String>, sink: &mut Sink) {
    if known.contains(id) {
        return;
    }
    let finding = Finding::warning(CHECK.doc.name, format!("{what} `{id}`: {fault}"))
        .about(id)
        .at(span, fault)
        .basis("a record is printed on the line that asks for it");
    sink.push(match sink.nearest(id, known.iter()) {
        Some(near) => finding.help(format!("did you mean `{near}`?")),
        None => finding.help("take it out, or write it into a `note`"),
    });
}
