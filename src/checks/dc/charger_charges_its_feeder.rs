//! A charger that takes its energy from the battery it charges.

use crate::build::{Build, Part};
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::{Network, Role};
use std::collections::BTreeSet;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "charger-charges-its-feeder",
        severity: Severity::Error,
        what: "A charger is fed by the battery that its output charges.",
        why: "It takes more than it gives: it empties the battery and is warm all day.",
        example: "[component.dc-dc-charger]\nkind = \"dc-dc-charger\"\nfed_from = \"positive-busbar\"\nfeeds = \"positive-busbar\"",
        basis: "Conservation of energy: what leaves a charger is less than what enters it.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    let on_dc =
        |p: &&Part<'_>| p.role() == Some(Role::Charger) && p.electric().is_some_and(|e| e.network != Network::Ac);
    for charger in build.parts.values().filter(on_dc) {
        let of = |ids: &[crate::source::Spanned<String>]| -> BTreeSet<String> {
            ids.iter().flat_map(|id| batteries(build, &id.value)).collect()
        };
        let (from, to) = (of(charger.supply.fed_from.all()), of(charger.output.feeds.all()));
        let Some(battery) = from.intersection(&to).next() else { continue };
        sink.push(
            Finding::error(CHECK.doc.name, format!("{}: it is fed by {battery}, which it charges", charger.id))
                .about(&charger.id)
                .at(charger.supply.fed_from.span, format!("comes from {battery}"))
                .label(charger.output.feeds.span, format!("goes to {battery}"))
                .basis("what leaves a charger is less than what enters it")
                .help("feed it from what is to charge the battery: the starter battery, an array, shore power"),
        );
    }
}

/// Batteries that a part is, or hangs on.
fn batteries(build: &Build<'_>, part: &str) -> BTreeSet<String> {
    let above = build.upstream(part).along(|c| c.network != Network::Ac && c.owner == c.to).parts();
    let own = build.parts.get(part).into_iter().chain(above);
    let is_battery = |p: &&Part<'_>| matches!(p.role(), Some(Role::Bank | Role::StartBattery));
    own.filter(is_battery).map(|p| p.id.clone()).collect()
}
