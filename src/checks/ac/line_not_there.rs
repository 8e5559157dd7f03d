//! A part on a line of AC that does not arrive where it hangs.

use crate::build::Feeding;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Network;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "line-not-there",
        severity: Severity::Error,
        what: "`line` names the second line, or both, and what feeds the part has one line alone.",
        why: "There is no second line to connect: the part gets no current, or half its voltage.",
        example: "[component.inlet]\nkind = \"shore-inlet\"\nrating = \"30 A\"          # one line\n\n[component.air-conditioner]\nkind = \"air-conditioner\"\nfed_from = \"consumer-unit\"\nline = \"both\"",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    for (circuit, _) in context.circuits().filter(|(c, _)| c.network == Network::Ac && c.feeding == Feeding::Supply) {
        let Some(part) = context.part(&circuit.to) else { continue };
        let line = &part.supply.line;
        let Some(word) = line.text().filter(|word| *word != "1") else { continue };
        if build.has_two_lines(&circuit.from) {
            continue;
        }
        let what = if word == "both" { "both lines".to_owned() } else { format!("line {word}") };
        sink.push(
            Finding::error(CHECK.doc.name, format!("{}: it is on {what}, and {} has one", part.id, circuit.from))
                .about(&part.id)
                .at(line.span, "not there")
                .label(circuit.span, format!("fed from {}", circuit.from))
                .help("leave `line` out; a supply of 120/240 V is an inlet with `lines = 2`, and a sub-panel that passes both on says `line = \"both\"`"),
        );
    }
}
