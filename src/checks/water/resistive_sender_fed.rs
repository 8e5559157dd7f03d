//! A resistive level sender with a supply.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "resistive-sender-fed",
        severity: Severity::Warning,
        what: "A level sender is resistive, by what the spec says or by default, and names what feeds it.",
        why: "Between plus and minus of the van its track burns; on its signal post the supply spoils what the display measures.",
        example: "[component.sender]\nkind = \"level-sender\"\ntechnology = \"resistive\"           # technology = \"pressure\"\nfed_from = \"panel\"",
        basis: "Common practice, no source: a resistive sender is a variable resistor that its display measures.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for part in context.build.parts.values() {
        let technology = part.roles.technology();
        let fed = &part.supply.fed_from;
        if !technology.is("resistive") || fed.all().is_empty() {
            continue;
        }
        let said = if technology.given { "resistive" } else { "resistive, as nothing else is said" };
        let finding = Finding::warning(CHECK.doc.name, format!("{} is {said}, and fed", part.id))
            .about(&part.id)
            .at(fed.span, "fed from here")
            .label(technology.span, "how it measures")
            .basis("a resistive sender has no supply: its display measures it");
        sink.push(finding.help("delete `fed_from`, or say how it measures, like technology = \"pressure\""));
    }
}
