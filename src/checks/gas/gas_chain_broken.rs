//! A gas appliance that no line leads to from a regulator.

use super::lines_to;
use crate::build::Part;
use crate::checks::{Check, Context};
use crate::compute::heat::gas_burners;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::roles::GasLine;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "gas-chain-broken",
        severity: Severity::Warning,
        what: "Of the way of gas from the cylinder to an appliance a link is missing: a line with `to` naming the appliance, what that line comes `from`, or the regulator.",
        why: "What is in no list is neither bought nor pressure-tested, and nobody signs for it.",
        example: "[component.cooktop]\nkind = \"cooktop-lpg\"              # and no lpg-line with to = \"cooktop\"",
        basis: "EN 1949: cylinder, regulator, line, valve, appliance, tested for leaks as a whole (the test from a copy, the rest from memory).",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let regulated = context.build.parts.values().any(|p| p.roles.gas_regulator.is_some());
    let mut told = false;
    for appliance in gas_burners(context.build) {
        let fed: Vec<(&Part<'_>, &GasLine)> = lines_to(context, appliance).collect();
        let missing = if fed.is_empty() {
            Some("no gas line leads to it")
        } else if fed.iter().all(|(_, line)| !comes_from_gas(context, line)) {
            Some("its gas line comes from no regulator and no other line")
        } else if !regulated && !told {
            told = true;
            Some("no regulator brings its gas to its pressure")
        } else {
            None
        };
        let Some(missing) = missing else { continue };
        // A line that comes from the appliance is not missing: it is told the wrong way round.
        if let Some((id, line)) = lines_from(context, appliance).next().filter(|_| fed.is_empty()) {
            let to = line.to.first().unwrap_or("the line or regulator before it");
            let headline = format!("{}: its gas line `{id}` says `from` where `to` belongs", appliance.id);
            sink.push(
                Finding::warning(CHECK.doc.name, headline)
                    .about(&appliance.id)
                    .at(line.from.span, "gas flows to the appliance")
                    .label(appliance.span, "burns LPG")
                    .basis("EN 1949: the way of gas from cylinder to appliance; from memory")
                    .help(format!(
                        "the wrong way round: `from` is where the gas comes from ({to}), `to` is `{}`",
                        appliance.id
                    )),
            );
            continue;
        }
        let mut finding = Finding::warning(CHECK.doc.name, format!("{}: {missing}", appliance.id))
            .about(&appliance.id)
            .at(appliance.span, "burns LPG");
        for (line, _) in fed {
            finding = finding.label(line.span, "the line");
        }
        sink.push(
            finding
                .basis("EN 1949: the way of gas from cylinder to appliance; from memory")
                .help("an lpg-line with `from` the regulator and `to` this, and an lpg-regulator at the locker"),
        );
    }
}

/// The gas lines that are said to come from an appliance, with their ids.
fn lines_from<'a>(
    context: &Context<'a>,
    appliance: &'a Part<'a>,
) -> impl Iterator<Item = (&'a str, &'a GasLine)> + use<'a> {
    let lines = context.build.parts.values().filter_map(|p| Some((p.id.as_str(), p.roles.gas_line.as_deref()?)));
    lines.filter(|(_, line)| line.from.names(&appliance.id))
}

/// Whether a line says what it comes from, and that is a regulator or a line.
fn comes_from_gas(context: &Context<'_>, line: &GasLine) -> bool {
    let before = line.from.first().and_then(|id| context.build.parts.get(id));
    before.is_some_and(|p| p.roles.gas_regulator.is_some() || p.roles.gas_line.is_some())
}
