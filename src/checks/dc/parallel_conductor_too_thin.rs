//! Parallel conductors thinner than those that may share a current.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::tables::conductor_series::Series;
use crate::tables::side_by_side;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "parallel-conductor-too-thin",
        severity: Severity::Warning,
        what: "`conductors` asks for several side by side, and `conductor` gives ones below 1/0 AWG or 50 mm².",
        why: "Where one of thin ones works loose, the other carries all of the current behind a fuse for both, and burns.",
        example: "[component.inverter]\nkind = \"inverter\"\nfed_from = \"busbar\"\nconductor = \"2 AWG\"\nconductors = 2",
        basis: "NEC 310.10(G)(1), from memory: parallel conductors from 1/0 AWG up. In mm² the size next to it.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (circuit, _) in context.circuits().filter(|(circuit, _)| circuit.side_by_side > 1) {
        let Some(given) = circuit.given_conductor else { continue };
        let least = side_by_side::least(Series::of(given));
        if given >= least {
            continue;
        }
        let headline = format!("{}: {} conductors of {given} share its current", circuit.id, circuit.side_by_side);
        sink.push(
            Finding::warning(CHECK.doc.name, headline)
                .about(&circuit.owner)
                .at(circuit.span_of(&context.build.parts, "conductor"), format!("below {least}"))
                .help("one larger conductor, without `conductors`; or leave the size out, and it is sized"),
        );
    }
}
