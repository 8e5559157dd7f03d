//! Three or more batteries in parallel, and no fuse at each.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

/// Batteries in parallel from which the others together drive far more into one that fails than its own links carry.
const SEVERAL: i64 = 3;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "battery-without-fuse",
        severity: Severity::Warning,
        what: "Three or more batteries are in parallel without a fuse at each.",
        why: "When a cell of one fails, all others feed it at once, and the main fuse is not in that way: link leads and battery burn.",
        example: "[component.house-bank]\nkind = \"battery-bank\"\ncapacity = \"300 Ah\"\nparallel = 3                  # and no battery_fuse",
        basis: "Common practice, no source; the battery maker's figure for batteries in parallel wins.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for part in context.build.parts.values() {
        let Some(bank) = &part.roles.bank else { continue };
        let several = bank.parallel.get().filter(|n| *n >= SEVERAL && !bank.battery_fuse.given);
        let Some(number) = several else { continue };
        let headline = format!("{}: {number} batteries in parallel, and none has a fuse of its own", part.id);
        sink.push(
            Finding::warning(CHECK.doc.name, headline)
                .about(&part.id)
                .at(bank.parallel.span, "all others feed one that fails")
                .basis("common practice, no source")
                .help("`battery_fuse = \"…\"` and `battery_run = \"…\"`: each battery gets a fuse and its own cables of one length to collecting bars")
                .help("or accept it here with what the battery's maker writes"),
        );
    }
}
