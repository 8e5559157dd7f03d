//! A charger that runs from an inverter on the bank it charges.

use crate::build::{Build, Part};
use crate::checks::ac::reach;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::{Network, Role};
use std::collections::BTreeSet;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "charger-on-its-own-inverter",
        severity: Severity::Warning,
        what: "An AC charger can be fed by an inverter that draws from the bank which the charger charges.",
        why: "The energy runs in a circle, and the losses of both empty the bank.",
        example: "[component.charger]\nkind = \"shore-charger\"\nfed_from = \"consumer-unit\"\nfeeds = \"busbar\"\n\n[component.inverter]\nkind = \"inverter\"\nfed_from = \"busbar\"\nfeeds = \"consumer-unit\"",
        basis: "Every conversion loses energy.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    let on_ac =
        |p: &&Part<'_>| p.role() == Some(Role::Charger) && p.electric().is_some_and(|e| e.network == Network::Ac);
    for charger in build.parts.values().filter(on_ac) {
        let charged: BTreeSet<_> = charger.output.feeds.all().iter().flat_map(|f| banks(build, &f.value)).collect();
        let inverters =
            reach::up_to(build, &charger.id, |p| matches!(p.role(), Some(Role::Inverter | Role::InverterCharger)));
        for inverter in inverters {
            let Some(bank) = banks(build, &inverter.id).into_iter().find(|b| charged.contains(b)) else { continue };
            sink.push(
                Finding::warning(
                    CHECK.doc.name,
                    format!("{}: {} can feed it from {bank}, which it charges", charger.id, inverter.id),
                )
                .about(&charger.id)
                .at(charger.supply.fed_from.span, "this is live on inverter too")
                .label(inverter.span, format!("draws from {bank}"))
                .label(charger.output.feeds.span, format!("charges {bank}"))
                .basis("the losses of inverter and charger empty the bank")
                .help("feed the charger before the transfer, from shore power alone"),
            );
        }
    }
}

/// Banks that `part` is connected to on DC.
fn banks<'a>(build: &'a Build<'_>, part: &'a str) -> BTreeSet<&'a str> {
    let above = build.upstream(part).along(|c| c.network == Network::Dc && c.owner == c.to).parts();
    let connected = build.parts.get(part).into_iter().chain(above);
    connected.filter(|p| p.role() == Some(Role::Bank)).map(|p| p.id.as_str()).collect()
}
