//! A cable or pipe shorter than the straight gap between the places of its ends.

use crate::build::Part;
use crate::checks::{Check, Context};
use crate::compute::geometry::board;
use crate::compute::geometry::boxes::Box3;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::PlumbingRole;
use crate::source::Span;
use crate::units::Metres;

/// Room for measures of places that are rounded to the centimetre, two of them on each axis.
const ROUNDING: f64 = 0.02;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "run-below-gap",
        severity: Severity::Warning,
        what: "The length given for a cable or pipe is shorter than the straight gap between the boxes of the places of its two ends; of what says `on_board`, its own box.",
        why: "It cannot reach. One of the two was moved: cable, voltage drop and pull list are still for the old place.",
        example: "[place]\nbench = { at = [\"2 m\", \"0.5 m\", \"0 m\"], size = [\"0.5 m\", \"0.5 m\", \"0.4 m\"] }\nroof = { at = [\"2 m\", \"0 m\", \"1.9 m\"], size = [\"0.5 m\", \"0.5 m\", \"0.2 m\"] }\n\n[component.fan]\nkind = \"roof-fan\"\nfed_from = \"panel\"          # in the bench\nplace = \"roof\"\nrun = \"0.8 m\"",
        basis: "Geometry: the shortest way between two boxes is straight. Places as the spec gives them, rounded to 20 mm.",
    },
    run,
};

/// A length with the two parts it joins.
struct Joint<'a> {
    label: &'a str,
    owner: &'a str,
    ends: [&'a str; 2],
    length: Metres,
    span: Span,
}

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    let cables = build.circuits.values().filter_map(|c| {
        let span = c.span_of(&build.parts, "run");
        Some(Joint { label: &c.id, owner: &c.owner, ends: [&c.from, &c.to], length: c.run?, span })
    });
    let pipes = build.parts.values().filter(|p| p.kind.plumbing.is_some_and(|k| k.role == PlumbingRole::Pipe));
    let pipes = pipes.filter_map(|p| {
        let ends = [p.roles.from().first()?, p.roles.to().first()?];
        Some(Joint { label: &p.id, owner: &p.id, ends, length: p.roles.length().get()?, span: p.roles.length().span })
    });
    for joint in cables.chain(pipes) {
        let Some((places, gap)) = gap(context, joint.ends) else { continue };
        if joint.length.0 >= gap - ROUNDING {
            continue;
        }
        let show = |metres: f64| Metres(metres).show(build.prints());
        let [from, to] = places;
        let headline =
            format!("{}: {} long, and {} lie between {from} and {to}", joint.label, show(joint.length.0), show(gap));
        let mut finding = Finding::warning(CHECK.doc.name, headline)
            .about(joint.owner)
            .at(joint.span, format!("{} cannot bridge {}", show(joint.length.0), show(gap)));
        for place in places {
            if let Some(record) = build.places.get(place) {
                finding = finding.label(record.at.span, format!("{place} is here"));
            }
        }
        sink.push(
            finding
                .basis("the shortest way between two boxes is straight; places rounded to 20 mm")
                .help("measure the route again, or correct the place that moved"),
        );
    }
}

/// The two nearest places of two parts and the straight gap between their boxes; `None` where a box is not known, or a
/// part is carried about.
fn gap<'a>(context: &Context<'a>, ends: [&str; 2]) -> Option<([&'a str; 2], f64)> {
    let [from, to] = [context.part(ends[0])?, context.part(ends[1])?];
    if is_loose(from) || is_loose(to) {
        return None;
    }
    let box_of = |place: &str| context.geometry.rooms.iter().find(|r| r.place == place).map(|r| r.space);
    let boxes = |part: &'a Part<'a>| -> Option<Vec<(&'a str, Box3)>> {
        if let (Some(own), [place]) = (board::space(context.build, part), part.places.as_slice()) {
            return Some(vec![(place, own)]);
        }
        part.places.iter().map(|place| Some((place.as_str(), box_of(place)?))).collect()
    };
    let (from, to) = (boxes(from)?, boxes(to)?);
    let pairs = from.iter().flat_map(|a| to.iter().map(move |b| ([a.0, b.0], a.1.gap(&b.1))));
    pairs.min_by(|a, b| a.1.total_cmp(&b.1))
}

/// Whether a part is set up away from where it is stowed.
fn is_loose(part: &Part<'_>) -> bool {
    part.kind.fields.contains_key("lead")
}
