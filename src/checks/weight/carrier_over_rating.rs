//! A carrier or rack with more on it than it is rated for.

use super::rated;
use crate::checks::{Check, Context};
use crate::diag::{FindingDoc, Severity, Sink};
use crate::kinds::Rated;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "carrier-over-rating",
        severity: Severity::Error,
        what: "What a carrier, rack or door hinge holds, with the parts that ride on it (`on`), is above its rating.",
        why: "It breaks on a rough road, and what it carries lands on the road.",
        example: "[component.bikes]\nkind = \"bike-carrier\"\nbikes = 3\nbike_mass = \"25 kg\"\nrated_load = \"50 kg\"",
        basis: "Rating as the spec gives it. A warning where the rating or a mass is a usual value.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    rated::report(
        context,
        Rated::Carrier,
        CHECK.doc.name,
        "carry less, or choose a carrier with a higher rating",
        sink,
    );
}
