//! Gas struts that no force can be given for.

use crate::checks::{Check, Context};
use crate::compute::mechanics::strut::NoForce;
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "strut-not-computed",
        severity: Severity::Warning,
        what: "The measures of a lid give no force of its struts: one is nothing, the open strut's line passes the hinge or lies beyond it, or the open lid leans past upright.",
        why: "Nobody has judged whether the lid stays up over a head.",
        example: "[component.bed-struts]\nkind = \"lid-strut\"\nlid_mass = \"16 kg\"\nbody_angle = \"120 °\"   # and open_angle 80 °",
        basis: "Balance of moments about the hinge; law of cosines.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (id, why) in &context.mechanics.no_force {
        let Some(part) = context.part(id) else { continue };
        let measure = |name: &str| part.roles.strut.as_ref().and_then(|s| s.measure(name));
        let shown = |name: &str| measure(name).map_or_else(|| "not given".to_owned(), |(written, _)| written);
        let (field, headline, help) = match why {
            NoForce::NoMeasure(field) => (
                *field,
                format!("{id}: no force of the struts: `{field}` is {}", shown(field)),
                format!("measure `{field}` and give it"),
            ),
            NoForce::DeadCentre => (
                "body_angle",
                format!(
                    "{id}: no force of the struts: open, their line passes the hinge or lies beyond it ({} and {} are not between 0° and 180° together)",
                    shown("body_angle"),
                    shown("open_angle")
                ),
                "move the strut's end on the frame, or let the lid open less: `body_angle` and `open_angle` together well below 180 °".to_owned(),
            ),
            NoForce::FallsOpen => (
                "lid_at_rest",
                format!("{id}: no force of the struts: open, the lid leans past upright and stays by its own weight"),
                "if it is hinged at its upper edge say hinge = \"top\"; struts that only help to lift or brake it are the maker's to choose".to_owned(),
            ),
        };
        sink.push(
            Finding::warning(CHECK.doc.name, headline)
                .about(id)
                .at(measure(field).map_or(part.span, |(_, span)| span), shown(field))
                .basis("n · F · e = (m + m_l) · g · s · cos θ about the hinge, e by the law of cosines")
                .help(help),
        );
    }
}
