//! A bank without a climate to reckon with.

use super::words::bank_span;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "no-season",
        severity: Severity::Warning,
        what: "The build has a house bank, and the spec has no season that is complete enough to reckon the energy with.",
        why: "Whether the bank lasts is a question of sun and cold. Without a season nothing is answered.",
        example: "[component.house-bank]\nkind = \"battery-bank\"\ncapacity = \"200 Ah\"",
        basis: "The energy account needs month, latitude, irradiation, low and high of a season.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    if context.energy.store.is_none() || !context.energy.seasons.is_empty() {
        return;
    }
    let finding = Finding::warning(CHECK.doc.name, "no season: whether the bank lasts off grid is not reckoned")
        .at(bank_span(context), "a house bank")
        .basis("the energy account needs month, latitude, irradiation, low and high of a season")
        .help("add [climate.winter] and [climate.summer] for where the van is used; `rigbinder new` shows the form");
    sink.push(finding);
}
