//! Gas struts too short, or with too little stroke, for their lid.

use crate::checks::compare::above;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::fields::Field;
use crate::units::Metres;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "strut-does-not-fit",
        severity: Severity::Warning,
        what: "The struts' stroke is below the travel of their ends, or their open length differs from the distance of the ends by over 10 mm.",
        why: "The lid stops short of its angle, or the strut bottoms out and tears its bracket off.",
        example: "[component.bed-struts]\nkind = \"lid-strut\"\nlid_mass = \"16 kg\"\nstroke = \"60 mm\"",
        basis: "Law of cosines.",
    },
    run,
};

/// Room for brackets and bushes: 10 mm.
const PLAY: f64 = 0.01;

fn run(context: &Context<'_>, sink: &mut Sink) {
    let system = context.build.prints();
    for (id, s) in &context.mechanics.struts {
        let Some(part) = context.part(id) else { continue };
        let (open, shut) = (s.lid.strut_length(s.lid.open_angle), s.lid.strut_length(0.0));
        let travel = Metres((open.0 - shut.0).abs());
        let given = |field: &Field<Metres>| field.get().filter(|_| field.given);
        let (stroke, open_length) = (part.roles.stroke(), part.roles.length_open());
        let faults = [
            (stroke, given(stroke).filter(|l| above(travel.0, l.0)), travel, "the ends travel"),
            (
                open_length,
                given(open_length).filter(|l| above((l.0 - open.0).abs(), PLAY)),
                open,
                "the ends are apart, open,",
            ),
        ];
        for (field, length, wanted, words) in faults {
            let Some(length) = length else { continue };
            sink.push(
                Finding::warning(
                    CHECK.doc.name,
                    format!(
                        "{id}: {} of {}, {words} {}",
                        field.name.replace('_', " "),
                        length.show(system),
                        wanted.show(system)
                    ),
                )
                .about(id)
                .at(field.span, format!("{} needed", wanted.show(system)))
                .basis("distance of the strut ends by the law of cosines from both arms and the angle")
                .help("another strut, or other places for its ends"),
            );
        }
    }
}
