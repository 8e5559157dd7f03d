//! An outlet that no pipe leads to.

use crate::checks::{Check, Context};
use crate::compute::water::of_role;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::PlumbingRole;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "outlet-without-pipe",
        severity: Severity::Warning,
        what: "The build has a water pump, and no cold or hot pipe-run ends at an outlet.",
        why: "Nothing can be said about its flow, no one lays the pipe, and no one drains it before frost.",
        example: "[component.tap]\nkind = \"tap\"                       # and no pipe-run with to = \"tap\"",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    let Some(pump) = of_role(build, PlumbingRole::Pump).next() else { return };
    for outlet in of_role(build, PlumbingRole::Outlet) {
        if !crate::compute::water::lines_to(build, &outlet.id).is_empty() {
            continue;
        }
        sink.push(
            Finding::warning(CHECK.doc.name, format!("no pipe leads to {}", outlet.id))
                .about(&outlet.id)
                .at(outlet.span, "no pipe-run ends here")
                .basis("pressure, frost and cut lists go by the pipes")
                .help(format!("a pipe-run with from = \"{}\" and to = \"{}\"", pump.id, outlet.id)),
        );
    }
}
