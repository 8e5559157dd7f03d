//! A motorised valve that no hand valve stands in for.

use crate::checks::{Check, Context};
use crate::compute::water::of_role;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::PlumbingRole;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "valve-without-bypass",
        severity: Severity::Warning,
        what: "A motorised valve has no hand valve beside it: none names it in `bypass_of`, and none is on the same tank.",
        why: "With a flat bank or a dead motor the grey tank can't be emptied, and in frost it bursts.",
        example: "[component.grey-valve]\nkind = \"dump-valve\"\ntank = \"grey\"                      # and no manual-valve with bypass_of = \"grey-valve\"",
        basis: "Common practice, no source.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for valve in of_role(context.build, PlumbingRole::MotorValve) {
        let tank = valve.roles.tank().first();
        let stands_in = |hand: &crate::build::Part<'_>| {
            hand.roles.bypass_of().first() == Some(&valve.id) || tank.is_some() && hand.roles.tank().first() == tank
        };
        if of_role(context.build, PlumbingRole::HandValve).any(stands_in) {
            continue;
        }
        sink.push(
            Finding::warning(CHECK.doc.name, format!("{} has a motor and no hand valve beside it", valve.id))
                .about(&valve.id)
                .at(valve.span, "does not move without current")
                .basis("common practice, no source")
                .help(format!("a manual-valve with bypass_of = \"{}\"", valve.id)),
        );
    }
}
