//! A tank that nothing empties.

use crate::checks::{Check, Context};
use crate::compute::water::drained_by;
use crate::compute::water::of_role;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::PlumbingRole;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "tank-without-drain",
        severity: Severity::Warning,
        what: "A fresh or grey tank is named by no drain valve (`drains`) and by no hand or dump valve (`tank`).",
        why: "It can't be emptied for cleaning, sanitising or frost.",
        example: "[component.fresh]\nkind = \"fresh-tank\"\ncapacity = \"80 L\"                  # and no drain-valve with drains = [\"fresh\"]",
        basis: "Common practice, no source.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    for tank in of_role(build, PlumbingRole::FreshTank).chain(of_role(build, PlumbingRole::GreyTank)) {
        if drained_by(build, &tank.id).is_some() {
            continue;
        }
        sink.push(
            Finding::warning(CHECK.doc.name, format!("nothing empties {}", tank.id))
                .about(&tank.id)
                .at(tank.span, "no valve names this tank")
                .basis("common practice, no source")
                .help(format!("a drain-valve with drains = [\"{0}\"], or a manual-valve with tank = \"{0}\"", tank.id)),
        );
    }
}
