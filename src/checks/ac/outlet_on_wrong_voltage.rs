//! An inverter whose output is of the other world's voltage.

use crate::checks::ac::reach;
use crate::checks::compare::above;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Role;

/// 110 V, 115 V and 120 V, or 220 V, 230 V and 240 V, are names of one supply. Common practice, no source.
const TOLERANCE: f64 = 0.1;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "outlet-on-wrong-voltage",
        severity: Severity::Error,
        what: "An inverter's output voltage differs by more than a tenth from the AC voltage of the build's rules, and it feeds something.",
        why: "Outlets, breakers and everything plugged in are for the other voltage: twice the voltage starts a fire, half of it burns out motors.",
        example: "rules = \"us\"                # 120 V\n\n[component.inverter]\nkind = \"inverter\"\noutput_voltage = \"230 V\"",
        basis: "The nominal AC voltage of the build's rules.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let rules = &context.electrical.profile;
    let inverts = |r: Option<Role>| matches!(r, Some(Role::Inverter | Role::InverterCharger));
    for part in context.build.parts.values().filter(|p| inverts(p.role())) {
        let Some(volts) = part.roles.output_voltage().get() else { continue };
        let off = (volts.0 - rules.ac.volts.0).abs();
        if !above(off, rules.ac.volts.0 * TOLERANCE) {
            continue;
        }
        let users = reach::users(context.build, &part.id);
        let Some((user, circuit)) = users.first() else { continue };
        let [volts, nominal] = [volts, rules.ac.volts].map(|v| v.show(context.build.prints()));
        sink.push(
            Finding::error(
                CHECK.doc.name,
                format!("{}: {volts} output in a build under {}, which are for {nominal}", part.id, rules.name),
            )
            .about(&part.id)
            .at(part.roles.output_voltage().span, format!("{volts} output"))
            .label(circuit.span, format!("{} is for {nominal}", user.id))
            .basis(format!("AC voltage of the build's rules (\"{}\"): {nominal}", rules.id))
            .help(format!("an inverter for {nominal}, or the other `rules` in [build]")),
        );
    }
}
