//! A text that holds the place of a record and is none.

use crate::checks::{Check, Context};
use crate::compute::readings::is_record;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::fields::is_placeholder;
use crate::source::Span;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "record-is-placeholder",
        severity: Severity::Warning,
        what: "Something under [recorded] says that it comes later, or says nothing: \"tbd\", \"to be entered at fitting\", \"…\". It counts as not recorded.",
        why: "Whoever reads the record later takes it for one. A serial number that nobody wrote down cannot be recalled, and a reading that nobody took proves nothing.",
        example: "[recorded.serials]\ninverter = \"to be entered at fitting\"",
        basis: "House rule; common practice of work under sign-off, no source.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let recorded = &context.build.spec.recorded;
    let mut tell = |id: &str, what: &str, text: &str, span: Span| {
        sink.push(
            Finding::warning(CHECK.doc.name, format!("{id}: \"{}\" is no {what}", text.trim()))
                .about(id)
                .at(span, "nothing is recorded here")
                .basis("a record says what was read, on which day, by whom")
                .help("leave the line out until it is known, then write what was read"),
        );
    };
    for (id, serial) in recorded.serials.iter().filter(|(_, s)| is_placeholder(&s.value)) {
        tell(id, "serial number", &serial.value, serial.span);
    }
    for test in &context.readings.tests {
        let Some(text) = recorded.readings.get(&test.id).filter(|t| !is_record(&t.value)) else { continue };
        tell(&test.id, "reading", &text.value, text.span);
    }
    for (id, text) in recorded.conductors.iter().filter(|(_, t)| !is_record(&t.value)) {
        tell(id, "reading", &text.value, text.span);
    }
    for (id, record) in &recorded.circuits {
        for (field, entry) in record.fields.iter().filter(|(_, e)| e.given) {
            let Some(text) = record.text(field).filter(|t| !is_record(t)) else { continue };
            tell(&format!("{id}.{field}"), "reading", text, entry.span);
        }
    }
    for (id, signature) in recorded.signed.iter().chain(&recorded.taken) {
        if is_placeholder(&signature.value.by) {
            tell(id, "name of a person", &signature.value.by, signature.span);
        }
    }
    for (field, what) in [("by", "name of a person"), ("scale", "scale")] {
        let Some(text) = recorded.weights.text(field).filter(|t| is_placeholder(t)) else { continue };
        tell("weights", what, text, recorded.weights.span_of(field));
    }
}
