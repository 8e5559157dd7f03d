//! Water pressure above what a heater may have.

use crate::checks::{Check, Context};
use crate::compute::water::of_role;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::PlumbingRole;
use crate::units::{Bound, Dimension, print, print_bound};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "pressure-above-heater",
        severity: Severity::Warning,
        what: "The pump's cut-out, or the regulator of the mains inlet, is above the pressure the water heater may have, or at or above its relief valve.",
        why: "The relief valve drips without end, or the tank of the heater splits.",
        example: "[component.pump]\nkind = \"water-pump\"\ncut_out = \"4.8 bar\"                # and a heater for 4.5 bar",
        basis: "The figures of the makers.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    let pumps = of_role(build, PlumbingRole::Pump).map(|p| (p, p.roles.cut_out()));
    let inlets = of_role(build, PlumbingRole::CityInlet).map(|p| (p, p.roles.regulated_pressure()));
    let sources: Vec<_> = pumps.chain(inlets).collect();
    for heater in of_role(build, PlumbingRole::Heater) {
        let fields = [heater.roles.max_pressure(), heater.roles.relief_pressure()].into_iter();
        let limits = fields.filter_map(|f| Some((f, f.get()?.0)));
        let Some((field, limit)) = limits.reduce(|a, b| if b.1 < a.1 { b } else { a }) else { continue };
        for (source, of) in &sources {
            let given = of.get().map(|p| p.0).filter(|p| crate::checks::compare::above(*p, limit));
            let Some(given) = given else { continue };
            let show = |kpa: f64| print(Dimension::Pressure, kpa, build.prints());
            let most = |kpa: f64| print_bound(Dimension::Pressure, kpa, build.prints(), Bound::Most);
            sink.push(
                Finding::warning(
                    CHECK.doc.name,
                    format!("{} gives {}, {} may have {}", source.id, show(given), heater.id, most(limit)),
                )
                .about(&heater.id)
                .at(of.span, show(given))
                .label(field.span, format!("{} {}", field.name, most(limit)))
                .basis("pressures named by the makers")
                .help("a pump or regulator for less pressure, or a pressure reducer before the heater"),
            );
        }
    }
}
