//! Components that the spec puts nowhere.

use crate::build::Part;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "component-without-place",
        severity: Severity::Warning,
        what: "A component that is wired, or that has a mass, has no place.",
        why: "Technicians must guess where it goes, the owner can't find it, and its mass counts on no axle.",
        example: "[component.fridge]\nkind = \"fridge\"\nmass = \"31 kg\"           # and no place",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let wants_place = |p: &&Part<'_>| p.electric().is_some() || p.common.mass.given;
    let lost: Vec<_> = context.build.parts.values().filter(wants_place).filter(|p| p.places.is_empty()).collect();
    let Some((first, others)) = lost.split_first() else { return };
    let headline = match others.len() {
        0 => format!("{} has no place", first.id),
        n => format!("{} components have no place", n + 1),
    };
    let mut finding = Finding::warning(CHECK.doc.name, headline).about(&first.id).at(first.span, "has no place");
    for part in others {
        finding = finding.label(part.span, "nor has this");
    }
    let help = match context.build.places.keys().next() {
        Some(place) => format!("give each a `place`, such as \"{place}\""),
        None => "describe the places in [place.<id>] and give each component its `place`".to_owned(),
    };
    sink.push(finding.basis("packets, storage map and weight figures go by place").help(help));
}
