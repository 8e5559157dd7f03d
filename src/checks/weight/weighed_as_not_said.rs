//! A refit whose empty loads are given, and nothing says what was aboard when they were weighed.

use crate::build::Part;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "weighed-as-not-said",
        severity: Severity::Warning,
        what: "[vehicle] gives the empty axle loads of a camper in which components stay or come out, and not `weighed_as`: what of them was aboard on the scales.",
        why: "Left out, the loads count as those of the bare vehicle. Where the old fit-out was aboard, it would be counted twice, and what comes out would never be taken off.",
        example: "[vehicle]\nfront_axle_empty = \"1420 kg\"\nrear_axle_empty  = \"1310 kg\"        # and no weighed_as\n\n[component.old-bank]\nkind  = \"battery-bank\"\nscope = \"removed\"\nmass  = \"52 kg\"",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    let vehicle = &build.vehicle;
    let said = vehicle.weighed_as.given || vehicle.weighed_as.faulty;
    let Some(weighed) = [&vehicle.front_axle_empty, &vehicle.rear_axle_empty].into_iter().find(|load| load.given)
    else {
        return;
    };
    if said || !build.about.job.is("refit") {
        return;
    }
    let weighs = |p: &&Part<'_>| p.common.mass.get().is_some_and(|mass| mass.0 > 0.0);
    let leaves = build.removed.values().find(weighs);
    let stays = || build.parts.values().filter(|p| p.was_there()).find(weighs);
    let Some((part, what)) = leaves.map(|p| (p, "comes out")).or_else(|| Some((stays()?, "stays"))) else { return };
    sink.push(
        Finding::warning(CHECK.doc.name, format!("the empty loads are given, and not whether {} was aboard", part.id))
            .at(weighed.span, "weighed how?")
            .label(part.span, what)
            .basis("left out, the loads are those of the bare vehicle, and what was there before is added to them")
            .help("write `weighed_as = \"as-it-came\"` in [vehicle] where all of it was aboard, \"stripped\" where what comes out was not, \"bare\" where nothing was"),
    );
}
