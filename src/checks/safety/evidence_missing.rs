//! A seat or anchorage that no certificate, approval or report answers for.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::fields::is_placeholder;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "evidence-missing",
        severity: Severity::Warning,
        what: "A travel seat, child seat anchorage or seat swivel names no certificate, approval or test report, or a text that only keeps its place (“to be entered”, “tbd”, “…”), or one without a number.",
        why: "rigbinder judges no seat: without that paper nobody has judged whether it holds a person in a crash.",
        example: "[component.bench]\nkind = \"travel-seat\"\napproval = \"to be entered at fitting\"",
        basis: "49 CFR 571.207, 571.210, 571.225 ask for tests that no computation here replaces.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for part in context.build.parts.values() {
        let Some(evidence) = &part.kind.evidence else { continue };
        let text = part.evidence.text().map(str::trim).unwrap_or_default();
        let fault = if text.is_empty() {
            "no certificate, approval or report is named".to_owned()
        } else if is_placeholder(text) {
            format!("“{text}” keeps the place of a record and is none")
        } else if !text.chars().any(|c| c.is_ascii_digit()) {
            format!("“{text}” has no number or date to find it by")
        } else {
            continue;
        };
        sink.push(
            Finding::warning(CHECK.doc.name, format!("{}: {fault}", part.id))
                .about(&part.id)
                .at(part.evidence.span, format!("it must answer for {}", evidence.answers_for))
                .basis("49 CFR 571.207, 571.210 and 571.225: proved by test; nothing here computes it")
                .help(format!(
                    "give `{}` the number of the certificate, approval or test report once it is on file; until then nobody travels on it",
                    evidence.field
                )),
        );
    }
}
