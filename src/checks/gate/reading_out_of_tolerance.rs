//! A recorded reading that is out of tolerance.

use crate::checks::{Check, Context};
use crate::compute::readings::band::Verdict;
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "reading-out-of-tolerance",
        severity: Severity::Warning,
        what: "A reading under [recorded.readings], [recorded.circuits] or [recorded.conductors] lies outside the expected value and its tolerance.",
        why: "Something is not as the figures say: a bad joint, a wrong cable, a wrong setting, or a faulty component. It is found now or by the owner.",
        example: "[recorded.readings]\nhouse-bank.rest-volts = \"12.6 V\"        # expected 13.4 V ± 0.2 V",
        basis: "Expected value and tolerance of the test, as the packet and the test record print them; the maker's figure wins.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let readings = &context.readings;
    for result in readings.recorded() {
        if result.verdict != Verdict::Outside {
            continue;
        }
        let expected = result.expected(context.build.prints());
        sink.push(
            Finding::warning(CHECK.doc.name, format!("{}: {} read, {expected} expected", result.id, result.recorded))
                .about(&result.part)
                .at(result.span, format!("expected {expected}"))
                .basis("expected value and tolerance of the test")
                .help("find the cause and read again; where it is right as it is, accept it with the reason"),
        );
    }
}
