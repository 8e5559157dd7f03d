//! A serial number, reading or signature of something that the build does not have.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Stage;
use crate::source::Span;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "recorded-unknown-component",
        severity: Severity::Warning,
        what: "[recorded] has a serial number of no component, a reading that no test takes, or a signature of no stage and no hold point.",
        why: "What was measured or signed is printed nowhere, and the test record still shows a blank.",
        example: "[recorded.serials]\nfrigde = \"A-1234\"",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    let recorded = &build.spec.recorded;
    let components: Vec<String> = build.parts.keys().cloned().collect();
    for (id, serial) in &recorded.serials {
        report("serial number", id, serial.span, &components, sink);
    }
    let mut readings = Vec::new();
    for task in build.tasks.values() {
        if let (Some(part), Some(template)) = (&task.part, task.template) {
            readings.extend(template.readings.iter().map(|r| format!("{part}.{}", r.id)));
        }
    }
    for (id, reading) in &recorded.readings {
        report("reading", id, reading.span, &readings, sink);
    }
    // Holds of a build's own tasks are fields of the spec.
    let own_hold = |id: &str| build.spec.tasks.get(id).is_some_and(|r| r.text("hold").is_some());
    let holds = build.tasks.values().filter(|t| t.template.is_some_and(|k| k.hold.is_some()) || own_hold(&t.id));
    let mut signed: Vec<String> = Stage::ALL.iter().map(|s| s.id().to_owned()).collect();
    signed.extend(holds.map(|t| t.id.clone()));
    for (id, signature) in &recorded.signed {
        report("signature", id, signature.span, &signed, sink);
    }
}

fn report(what: &str, id: &str, span: Span, known: &[String], sink: &mut Sink) {
    if known.iter().any(|k| k == id) {
        return;
    }
    let thing = match what {
        "serial number" => "component",
        "reading" => "reading in its tests",
        _ => "stage and no hold point",
    };
    let finding = Finding::warning(CHECK.doc.name, format!("{what} of `{id}`: the build has no such {thing}"))
        .about(id)
        .at(span, "of nothing in this build")
        .basis("a record is printed beside what it belongs to");
    let near = known.iter().min_by_key(|k| strsim::damerau_levenshtein(k, id));
    sink.push(match near {
        Some(near) => finding.help(format!("did you mean `{near}`?")),
        None => finding.help("take it out"),
    });
}
