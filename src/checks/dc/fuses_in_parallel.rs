//! Two fused conductors that arrive on one post.

use crate::build::{Build, Conductor, Spot};
use crate::checks::{Check, Context};
use crate::compute::network::{DeviceAt, Electrical};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::{Carries, Network};
use indexmap::IndexMap;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "fuses-in-parallel",
        severity: Severity::Error,
        what: "Two conductors that different fuses protect bring current to one post: two circuits that name the same switch, or a circuit and the fused lead of a coil.",
        why: "What lies behind gets the current of both fuses, so a fault burns the thinner conductor, and one fuse out leaves all of it live.",
        example: "[component]\npad-1 = { kind = \"tank-pad\", fed_from = \"panel\", way = 1, switched_at = \"board.pads\" }\npad-2 = { kind = \"tank-pad\", fed_from = \"panel\", way = 2, switched_at = \"board.pads\" }",
        basis: "33 CFR 183.455: one device at the source of each conductor, which it protects; Kirchhoff's current law.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    let mut posts: IndexMap<Spot<'_>, Vec<(&Conductor, &str)>> = IndexMap::new();
    for conductor in build.wiring.conductors.values().filter(|c| brings(build, c)) {
        let Some(by) = protector(build, &context.electrical, conductor) else { continue };
        let there = posts.entry(conductor.to.spot()).or_default();
        if !there.iter().any(|(_, other)| *other == by) {
            there.push((conductor, by));
        }
    }
    for there in posts.values() {
        let [(first, _), (second, _), ..] = there.as_slice() else { continue };
        // What is fed twice by its own doing is `load-fed-twice`.
        if there.iter().all(|(conductor, _)| conductor.owner == conductor.to.part) {
            continue;
        }
        let on = second.to.show(build);
        sink.push(
            Finding::error(
                CHECK.doc.name,
                format!("{}: {} fuses in parallel on {on}, with {}", second.owner, there.len(), first.owner),
            )
            .about(&second.owner)
            .at(second.span, "arrives there behind a fuse of its own")
            .label(first.span, "so does this")
            .basis("the conductors behind carry what both fuses let through")
            .help("a switch for each, or one fused way that feeds both"),
        );
    }
}

/// Whether a conductor brings current that its own fuse limits to a post that is no bar: what chargers give, what strings of
/// modules give and what a transfer chooses from meet by intent, and have verdicts of their own.
fn brings(build: &Build<'_>, conductor: &Conductor) -> bool {
    use Carries::{Control, Line, LineTwo, Positive, SwitchedPositive};
    let circuit = conductor.circuit.as_ref().and_then(|id| build.circuits.get(id));
    let is_supply = circuit.is_none_or(|c| c.owner == c.to && c.network != Network::Pv);
    let is_bar = build.parts.get(&conductor.to.part).is_none_or(|part| part.roles.bus.is_some())
        || conductor.to.is_collecting_bar();
    matches!(conductor.carries, Positive | SwitchedPositive | Line | LineTwo | Control) && is_supply && !is_bar
}

/// What protects a conductor: the circuit, part or lead that has the fuse; `None` where it has none that is known.
fn protector<'a>(build: &'a Build<'_>, electrical: &'a Electrical, conductor: &'a Conductor) -> Option<&'a str> {
    if conductor.fuse.is_some() {
        return Some(&conductor.id);
    }
    let circuit = build.circuits.get(conductor.circuit.as_ref()?)?;
    match &electrical.circuits.get(&circuit.id)?.device.at {
        DeviceAt::Way | DeviceAt::InLine => Some(&circuit.id),
        DeviceAt::Component(id) | DeviceAt::Upstream(id) => Some(id),
        _ => None,
    }
}
