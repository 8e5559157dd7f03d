//! The walk round the van at handover: what is shown and tried at each stop, in the order one walks.

use crate::build::Part;
use crate::documents::alike::{Teller, names};
use crate::spec::{PlaceSection, Vehicle};
use indexmap::IndexMap;
use serde::Serialize;

/// A stop of the walk.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Station {
    /// Where one stands.
    pub title: &'static str,
    /// What is looked at there.
    pub rows: Vec<WalkRow>,
}

/// Components of a kind at one place.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct WalkRow {
    /// Place; "" where the row above has the same, or the stop says it.
    pub place: String,
    /// Names.
    pub what: String,
    /// What to show and try, as Markdown.
    pub tries: Vec<String>,
    /// The result to expect, as Markdown; "" where the tries say it.
    pub expect: String,
}

/// Stops in the order of the walk.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Stop {
    Front,
    Right,
    Rear,
    Left,
    Under,
    Roof,
    Inside,
    Anywhere,
}

impl Stop {
    const fn title(self) -> &'static str {
        match self {
            Self::Front => "From the left cab door round the front",
            Self::Right => "Along the right side, front to rear",
            Self::Rear => "Round the rear",
            Self::Left => "Along the left side, back to the cab door",
            Self::Under => "Under the van, front to rear",
            Self::Roof => "On the roof, from the ladder or the ground",
            Self::Inside => "Inside, from the cab to the rear",
            Self::Anywhere => "Without a place of its own",
        }
    }
}

/// Most sentences that are tried for a kind: a walk is no lesson, the manual has the rest.
const TRIES: usize = 2;

/// How far from the ends of the vehicle things count as its front or rear, metres.
const END: f64 = 0.35;

pub(super) fn stations(teller: &Teller<'_>) -> Vec<Station> {
    let build = teller.context().build;
    let mut parts: Vec<(Stop, f64, usize, &Part<'_>)> = Vec::new();
    // What nobody works is not shown: the manual tells of it.
    let worked = |p: &&Part<'_>| p.kind.owner.walk && !p.kind.owner.usage.is_empty();
    let shown = build.parts.values().filter(|p| worked(p) && !p.confidential);
    for (order, part) in shown.enumerate() {
        let place = part.places.first().and_then(|p| build.places.get(p));
        let (stop, along) = place.map_or((Stop::Anywhere, 0.0), |p| stop(&build.vehicle, p));
        parts.push((stop, along, order, part));
    }
    parts.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)).then(a.2.cmp(&b.2)));
    let mut stations = Vec::new();
    for of_stop in parts.chunk_by(|a, b| a.0 == b.0) {
        // Alike ones at the same place stand together; outside, those of the whole stop.
        let inside = of_stop[0].0 == Stop::Inside;
        let mut groups: IndexMap<(&str, &str), Vec<&Part<'_>>> = IndexMap::new();
        for (_, _, _, part) in of_stop {
            let place = part.places.first().map_or("", String::as_str);
            groups.entry((if inside { place } else { "" }, part.kind.group.as_str())).or_default().push(part);
        }
        let mut last = None;
        let rows = groups.iter().map(|((place, _), group)| {
            let again = last.replace(*place) == Some(*place);
            let place = if !inside || again || place.is_empty() { String::new() } else { build.place_name(place) };
            row(teller, group, place)
        });
        stations.push(Station { title: of_stop[0].0.title(), rows: rows.collect() });
    }
    stations
}

fn row(teller: &Teller<'_>, group: &[&Part<'_>], place: String) -> WalkRow {
    let owner = &group[0].kind.owner;
    let shown = if owner.show.is_empty() { &owner.usage } else { &owner.show };
    let texts = shown.iter().map(|t| teller.joined(group, t)).filter(|t| !t.is_empty());
    let expect = owner.normal.iter().map(|t| teller.joined(group, t)).find(|t| !t.is_empty());
    WalkRow { place, what: names(group), tries: texts.take(TRIES).collect(), expect: expect.unwrap_or_default() }
}

/// Where one stands to see a place, and how far along the walk there it is.
fn stop(vehicle: &Vehicle, place: &PlaceSection) -> (Stop, f64) {
    let at = place.at.get();
    let (x, y) = at.map_or((0.0, 0.0), |at| (at.0[0].0, at.0[1].0));
    let rear = vehicle.wheelbase.get().zip(vehicle.rear_overhang.get()).map(|(w, o)| w.0 + o.0 - END);
    match place.zone() {
        "engine-space" => (Stop::Front, x),
        "underbody" => (Stop::Under, x),
        "roof" => (Stop::Roof, x),
        "outside" if x < END => (Stop::Front, -y),
        "outside" if rear.is_some_and(|r| x > r) => (Stop::Rear, y),
        "outside" if y > 0.05 => (Stop::Left, -x),
        "outside" => (Stop::Right, x),
        _ if at.is_none() => (Stop::Inside, f64::MAX),
        _ => (Stop::Inside, x),
    }
}
