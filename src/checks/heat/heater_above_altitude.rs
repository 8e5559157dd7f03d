//! A heater above the height it burns well at.

use crate::checks::{Check, Context};
use crate::compute::heat::parts_of;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::ThermalRole;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "heater-above-altitude",
        severity: Severity::Warning,
        what: "A climate lies higher than the heater's `altitude_limit`.",
        why: "In thin air the burner soots, smokes and stops; carbon monoxide rises.",
        example: "[component.heater]\nkind = \"air-heater\"\naltitude_limit = \"1500 m\"         # and a winter at 1900 m",
        basis: "The figure of the heater's maker.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for heater in parts_of(context.build, ThermalRole::Heater) {
        let Some(limit) = heater.roles.altitude_limit().get() else { continue };
        let climates = context.build.climates.iter().filter_map(|(id, c)| Some((id, c, c.altitude.get()?)));
        let highest = climates.reduce(|a, b| if b.2.0 > a.2.0 { b } else { a });
        let Some((id, climate, altitude)) = highest.filter(|h| crate::checks::compare::above(h.2.0, limit.0)) else {
            continue;
        };
        let show = |m: crate::units::Metres| m.show(context.build.prints());
        let most = |m: crate::units::Metres| m.bound(crate::units::Bound::Most, context.build.prints());
        sink.push(
            Finding::warning(
                CHECK.doc.name,
                format!("{} may run up to {}, {id} lies at {}", heater.id, most(limit), show(altitude)),
            )
            .about(&heater.id)
            .at(heater.roles.altitude_limit().span, most(limit))
            .label(climate.altitude.span, show(altitude))
            .basis("limit named by the heater's maker")
            .help("a heater with a setting or kit for this altitude; give its `altitude_limit`"),
        );
    }
}
