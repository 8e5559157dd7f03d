//! A pump above the height it can suck from.

use crate::checks::{Check, Context};
use crate::compute::water::of_role;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::PlumbingRole;
use crate::units::{Dimension, print};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "pump-lift-too-high",
        severity: Severity::Warning,
        what: "A suction pipe rises more than the pump can prime itself over.",
        why: "The pump runs dry and gives no water.",
        example: "[component.suction]\nkind = \"pipe-run\"\nmedium = \"suction\"\nto = \"pump\"\nrise = \"2.2 m\"                     # and a pump with suction_lift = \"1.8 m\"",
        basis: "The figure of the pump's maker.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for run in of_role(context.build, PlumbingRole::Pipe).filter(|r| r.roles.medium().is("suction")) {
        let Some(pump) = run.roles.to().first().and_then(|id| context.part(id)) else { continue };
        let (Some(rise), Some(lift)) = (run.roles.rise().get(), pump.roles.suction_lift().get()) else {
            continue;
        };
        if !crate::checks::compare::above(rise.0, lift.0) {
            continue;
        }
        let show = |m: f64| print(Dimension::Length, m, context.build.prints());
        sink.push(
            Finding::warning(
                CHECK.doc.name,
                format!("{} sucks over {}, it can do {}", pump.id, show(rise.0), show(lift.0)),
            )
            .about(&pump.id)
            .at(run.roles.rise().span, show(rise.0))
            .label(pump.roles.suction_lift().span, show(lift.0))
            .basis("suction lift named by the pump's maker")
            .help("set the pump lower, beside the tank"),
        );
    }
}
