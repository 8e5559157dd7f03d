//! A switch, relay, panel or busbar above 12 V of which nobody knows the voltage it is rated for.

use super::words::rated_part;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::{System, Volts};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "voltage-rating-untold",
        severity: Severity::Warning,
        what: "A switch, relay, panel, shunt or busbar stands in a DC network of 24 V or 48 V, and the spec does not tell its rated voltage.",
        why: "Most are sold for 12 V. What opens a higher DC voltage than its own welds or burns.",
        example: "[component.house-bank]\nkind = \"battery-bank\"\ncapacity = \"100 Ah\"\nvoltage = \"25.6 V\"\n\n[component.switch]\nkind = \"battery-disconnect\"\nfed_from = \"main-fuse\"",
        basis: "Structure of the spec: a rating nobody tells proves nothing.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for part in context.build.parts.values() {
        let Some((rated, network)) = rated_part(context, part).filter(|(_, n)| n.nominal.0 > 12.0) else { continue };
        let show = |volts: Volts| volts.show(System::Metric);
        let help = format!(
            "read it on the part or in its data sheet, {} or more, and write `rated_voltage`",
            show(network.highest)
        );
        let mut push = |name: &str, span| {
            let headline = format!("{name}: on {}, and its rated voltage is not told", show(network.nominal));
            let finding = Finding::warning(CHECK.doc.name, headline).about(&part.id);
            sink.push(finding.at(span, "no `rated_voltage`").help(help.clone()));
        };
        let switches = part.switches();
        if rated.get().is_none() && !rated.faulty && switches.is_empty() {
            push(&part.id, part.span);
        }
        for (id, _) in switches.iter().filter(|(_, s)| s.rated_voltage.get().is_none() && !s.rated_voltage.faulty) {
            let span = part.has.iter().find(|inner| inner.id == *id).map_or(part.span, |inner| inner.span);
            push(&format!("{}.{id}", part.id), span);
        }
    }
}
