//! Parts of a camper that were there before, in a build that begins with an empty vehicle.

use crate::build::Part;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Network;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "refit-not-said",
        severity: Severity::Warning,
        what: "A component of the house's electricity or water is existing, altered or removed, and [build] does not say `job = \"refit\"`.",
        why: "An empty vehicle has none of these. Either the job is a refit, or the component is new and would be missing from every packet and from the purchase list.",
        example: "[build]\ntitle = \"Van\"                # job = \"refit\"\n\n[component.fridge]\nkind  = \"fridge\"\nscope = \"existing\"",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    if build.about.job.is("refit") || build.about.job.faulty {
        return;
    }
    let there = build.parts.values().chain(build.removed.values()).filter(|p| p.was_there());
    let fitted: Vec<&Part<'_>> = there.filter(|p| is_of_the_house(p)).collect();
    let Some(first) = fitted.first() else { return };
    let scope = first.scope.word();
    let more = match fitted.len() - 1 {
        0 => String::new(),
        1 => " and one more was there".to_owned(),
        n => format!(" and {n} more were there"),
    };
    sink.push(
        Finding::warning(CHECK.doc.name, format!("{} is {scope}{more}, in a build from an empty vehicle", first.id))
            .about(&first.id)
            .at(first.common.scope.span, scope)
            .label(build.about.span, "no `job = \"refit\"` here")
            .basis("a vehicle without a camper in it has none of these")
            .help("write `job = \"refit\"` in [build], or take `scope` out where the component is new"),
    );
}

/// Whether a part is none that a vehicle has by itself: it is in the house's electricity or water.
fn is_of_the_house(part: &Part<'_>) -> bool {
    let of_vehicle = part.kind.load.as_ref().is_some_and(|load| load.none);
    let wired = part.electric().is_some_and(|e| e.network != Network::Start);
    !of_vehicle && (wired || part.kind.plumbing.is_some())
}
