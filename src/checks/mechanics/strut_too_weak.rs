//! Gas struts that do not hold their lid.

use crate::checks::compare::above;
use crate::checks::{Check, Context};
use crate::compute::mechanics::strut::{STATED_AT, share_at};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::{Bound, Celsius, Dimension, Ratio, print, print_bound};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "strut-too-weak",
        severity: Severity::Warning,
        what: "The struts' force, at the lowest temperature of the seasons (a cabin nobody heats) or at 20 °C, is below what holds the open lid with what lies on it, or leaves less than a tenth for age and friction.",
        why: "The lid comes down on hands and heads, first on a cold morning.",
        example: "[component.bed-struts]\nkind = \"lid-strut\"\nlid_mass = \"22 kg\"\nforce = \"100 N\"",
        basis: "Balance of moments about the hinge; ideal gas, 0.34 % of the force for each kelvin (makers publish 0.3 to 0.4 %); reserve of a tenth: makers publish 1.10 to 1.20.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let system = context.build.prints();
    let newtons = |f: f64| print(Dimension::Force, f, system);
    for (id, s) in &context.mechanics.struts {
        let (Some(part), Some(force)) = (context.part(id), s.given) else { continue };
        if !above(s.sized, force) {
            continue;
        }
        let cold = s.cold.unwrap_or(STATED_AT);
        let temperature = Celsius(cold).show(system);
        let left = s.in_the_cold(force);
        let falls = if above(s.holding, left) { "does not hold" } else { "holds without the reserve" };
        let load = if s.load.0 > 0.0 {
            format!("lid with {} on it", s.load.show(system))
        } else {
            "lid, nothing on it".to_owned()
        };
        sink.push(
            Finding::warning(
                CHECK.doc.name,
                format!(
                    "{id}: {} a strut, {} of it at {temperature}, {falls} the open lid: {} needed",
                    newtons(force),
                    newtons(left),
                    print_bound(Dimension::Force, s.sized, system, Bound::Least)
                ),
            )
            .about(id)
            .at(part.roles.force().span, format!("{} just hold it: {load}", newtons(s.holding)))
            .basis("n · F · e = (m + m_l) · g · s · cos θ about the hinge, and a tenth for age and friction")
            .basis(format!(
                "ideal gas: at {temperature}, the cabin unheated, a strut has {} of its force at 20 °C; makers publish 3 to 4 % less for 10 K",
                Ratio(share_at(cold)).show(system)
            ))
            .help(format!(
                "struts of {} or more at 20 °C, or leave `force` out: it is sized",
                print_bound(Dimension::Force, s.sized, system, Bound::Least)
            )),
        );
    }
}
