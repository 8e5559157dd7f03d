//! Gas struts that one cannot close.

use crate::checks::compare::above;
use crate::checks::{Check, Context};
use crate::compute::mechanics::CLOSING_LIMIT;
use crate::compute::mechanics::strut::STATED_AT;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::{Celsius, Dimension, print};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "strut-too-strong",
        severity: Severity::Warning,
        what: "To close the lid takes more than 100 N at its edge, at 20 °C or at the highest temperature of the seasons.",
        why: "People hang on the lid to close it, bend it, and are thrown off when it flies open.",
        example: "[component.bed-struts]\nkind = \"lid-strut\"\nlid_mass = \"10 kg\"\nforce = \"900 N\"",
        basis: "Balance of moments about the hinge, ideal gas; 100 N is common practice, no source.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let system = context.build.prints();
    let newtons = |f: f64| print(Dimension::Force, f, system);
    for (id, s) in &context.mechanics.struts {
        let hottest = s.closing_hot.zip(s.hot).filter(|(f, _)| s.closing.is_none_or(|at_20| *f > at_20));
        let (Some(part), Some((closing, at))) = (context.part(id), hottest.or_else(|| Some((s.closing?, STATED_AT))))
        else {
            continue;
        };
        if !above(closing, CLOSING_LIMIT) {
            continue;
        }
        let whose = if s.given.is_some() { "given" } else { "sized to hold the open lid in the cold" };
        let at = Celsius(at).show(system);
        sink.push(
            Finding::warning(CHECK.doc.name, format!("{id}: {} at the edge to close the lid at {at}", newtons(closing)))
                .about(id)
                .at(part.roles.force().span, format!("{} a strut, {whose}", newtons(s.given.unwrap_or(s.sized))))
                .basis("at most 100 N: common practice, no source")
                .basis("ideal gas: a strut gains 0.34 % of its force at 20 °C for each kelvin")
                .help("weaker struts, fix their ends nearer to the hinge, or choose an angle between the arms that does not end near 180 °"),
        );
    }
}
