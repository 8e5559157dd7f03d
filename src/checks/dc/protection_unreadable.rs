//! A `protection` that is neither a rating nor "none".

use crate::checks::{Check, Context};
use crate::compute::network::read_protection;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::tables::fuse_series::Family;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "protection-unreadable",
        severity: Severity::Error,
        what: "`protection` must be a rating, perhaps with a fuse family, or \"none\".",
        why: "The fuse would be a guess.",
        example: "[component.fridge]\nkind = \"fridge\"\nfed_from = \"house-panel\"\nprotection = \"fifteen\"",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    // Whether a circuit comes of it or not: one that is read wrong is wrong in the spec.
    for part in build.parts.values().chain(build.removed.values()) {
        let second = part.roles.load.as_ref().map(|load| &load.second_protection);
        for said in [&part.supply.protection, &part.output.output_protection].into_iter().chain(second) {
            let Some(text) = said.text().filter(|text| read_protection(text).is_none()) else { continue };
            let families: Vec<_> = Family::ALL.iter().map(|f| f.word()).collect();
            sink.push(
                Finding::error(
                    CHECK.doc.name,
                    format!("{}: {} \"{}\" cannot be read", part.id, said.name.replace('_', " "), text.escape_debug()),
                )
                .about(&part.id)
                .at(said.span, "expected a rating such as \"15 A\"")
                .help("write \"15 A\", \"200 A class-t\" or \"none\"")
                .help(format!("families: {}", families.join(", "))),
            );
        }
    }
}
