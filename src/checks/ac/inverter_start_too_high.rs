//! A load whose start takes more than the inverter's surge power.

use crate::checks::ac::reach;
use crate::checks::compare::above;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Role;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "inverter-start-too-high",
        severity: Severity::Warning,
        what: "A load with a known start current takes, by itself, more than the surge power of the inverter that feeds it.",
        why: "The inverter switches off each time the load starts.",
        example: "[component.inverter]\nkind = \"inverter\"\npower = \"1500 W\"\nsurge_power = \"2000 W\"\nfeeds = \"rcd\"\n\n[component.microwave]\nkind = \"microwave\"\nfed_from = \"rcd\"\ndraw = \"1200 W\"\nstart_current = \"25 A\"    # 3000 W at 120 V",
        basis: "The surge power that the inverter's maker gives; P = V · I with the start current.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let volts = context.electrical.profile.ac.volts;
    for (id, source) in &context.electrical.ac_sources {
        let inverts = |r: Option<Role>| matches!(r, Some(Role::Inverter | Role::InverterCharger));
        let Some(part) = context.part(id).filter(|p| inverts(p.role())) else { continue };
        let Some(surge) = source.surge else { continue };
        for (user, _) in reach::users(context.build, id) {
            let Some(start) = user.roles.start_current().get().map(|a| volts * a) else { continue };
            if !above(start.0, surge.0) {
                continue;
            }
            let [start, surge] = [start, surge].map(|w| w.show(context.build.prints()));
            sink.push(
                Finding::warning(
                    CHECK.doc.name,
                    format!("{}: its start takes {start}, {id} gives {surge} for a short time", user.id),
                )
                .about(&user.id)
                .at(user.roles.start_current().span, format!("{start} at the start"))
                .label(part.roles.surge_power().span, format!("{surge} for a short time"))
                .basis(format!("start current × {}", volts.show(context.build.prints())))
                .help("an inverter with more surge power, or a load with a soft start"),
            );
        }
    }
}
