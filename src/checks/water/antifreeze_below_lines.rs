//! Less antifreeze than the pipes hold.

use crate::checks::{Check, Context};
use crate::compute::water::of_role;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::PlumbingRole;
use crate::units::{Dimension, print};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "antifreeze-below-lines",
        severity: Severity::Warning,
        what: "The antifreeze of the winterising port is less than the water in all cold, hot and suction pipes.",
        why: "The last pipes keep water in them, and freeze.",
        example: "[component.port]\nkind = \"winterising-port\"\nantifreeze_volume = \"0.5 L\"        # and 12 m of pipe",
        basis: "Volume of the pipes, heaters by-passed.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let Some(pipes) = context.water.in_pipes else { return };
    for port in of_role(context.build, PlumbingRole::WinterPort) {
        let Some(given) = port.roles.antifreeze_volume().get() else { continue };
        if !crate::checks::compare::above(pipes, given.0) {
            continue;
        }
        let show = |l: f64| print(Dimension::Volume, l, context.build.prints());
        sink.push(
            Finding::warning(
                CHECK.doc.name,
                format!("{} takes {}, the pipes hold {}", port.id, show(given.0), show(pipes)),
            )
            .about(&port.id)
            .at(port.roles.antifreeze_volume().span, show(given.0))
            .basis("V = Σ π/4 · D² · L of the cold, hot and suction pipes")
            .help(format!("{} or more, and some for the traps", show(pipes))),
        );
    }
}
