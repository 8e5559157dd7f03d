//! What stands out of the vehicle: highest point, overall length and width, lowest points before, between and behind.

use super::Point;
use crate::build::{Build, Part};
use crate::fields::Record;
use crate::kinds::Envelope;
use crate::units::Metres;
use serde::Serialize;

/// A measure of the card and the component that decides it; "" for the vehicle itself.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Extent {
    /// Measure.
    pub value: Metres,
    /// Component that reaches furthest.
    pub by: String,
}

/// The card for the dashboard.
#[derive(Clone, Debug, Default, Serialize)]
pub struct Card {
    /// Height with everything on the roof.
    pub height: Option<Extent>,
    /// Height with the carriers empty.
    pub height_empty: Option<Extent>,
    /// Length with everything on the carriers.
    pub length: Option<Extent>,
    /// Length with the carriers folded.
    pub length_empty: Option<Extent>,
    /// Width without mirrors.
    pub width: Option<Extent>,
}

/// Zone of a place; the declared default is the cabin.
pub(super) fn zone(place: &Record) -> &str {
    place.text("zone").unwrap_or("cabin")
}

/// Places of a part that the spec knows.
pub(super) fn places<'a>(build: &'a Build<'_>, part: &'a Part<'_>) -> impl Iterator<Item = &'a Record> {
    part.places.iter().filter_map(|p| build.spec.places.get(p))
}

fn length(part: &Part<'_>, field: Option<&String>) -> Option<Metres> {
    part.record.metres(field?)
}

/// How much the suspension raises the body.
pub fn lift(build: &Build<'_>) -> Metres {
    let lifts = build.parts.values().filter_map(|p| length(p, p.kind.envelope.as_ref()?.lift.as_ref()));
    lifts.fold(Metres(0.0), Metres::max)
}

/// The furthest of some reaches beyond the vehicle.
fn furthest<'a>(reaches: impl Iterator<Item = (&'a Part<'a>, Metres)>) -> (Metres, String) {
    let none = (Metres(0.0), String::new());
    reaches.fold(none, |best, (part, reach)| if reach.0 > best.0.0 { (reach, part.id.clone()) } else { best })
}

fn outside<'a>(build: &'a Build<'a>, part: &'a Part<'a>, zones: &[&str]) -> bool {
    places(build, part).any(|p| zones.contains(&zone(p)))
}

pub(super) fn card(build: &Build<'_>) -> Card {
    let vehicle = &build.spec.vehicle;
    let parts = || build.parts.values().filter_map(|p| Some((p, p.kind.envelope.as_ref()?)));
    let above = |empty: bool| {
        let reach = move |(p, e): (&'_ Part<'_>, &Envelope)| {
            let loaded = length(p, e.above_roof.as_ref())?;
            if empty { length(p, e.above_roof_empty.as_ref()).or(Some(loaded)) } else { Some(loaded) }
        };
        let on_roof = parts().filter(|(p, _)| outside(build, p, &["roof", "outside"]));
        furthest(on_roof.filter_map(|(p, e)| Some((p, reach((p, e))?))))
    };
    let behind = |empty: bool| {
        let reach = move |p: &Part<'_>, e: &Envelope| {
            let loaded = length(p, e.behind.as_ref())?;
            if empty { length(p, e.behind_empty.as_ref()).or(Some(loaded)) } else { Some(loaded) }
        };
        let there = parts().filter(|(p, _)| outside(build, p, &["roof", "outside"]));
        furthest(there.filter_map(|(p, e)| Some((p, reach(p, e)?))))
    };
    let ahead = furthest(
        parts()
            .filter(|(p, _)| outside(build, p, &["roof", "outside"]))
            .filter_map(|(p, e)| Some((p, length(p, e.ahead.as_ref())?))),
    );
    let beside = |sign: f64| {
        let there =
            parts().filter(|(p, _)| places(build, p).any(|place| zone(place) != "cabin" && on_side(place, sign)));
        furthest(there.filter_map(|(p, e)| Some((p, length(p, e.beside.as_ref())?))))
    };
    let height = vehicle.metres("height").map(|h| h + lift(build));
    let tall = |empty| {
        height.map(|h| {
            let (reach, by) = above(empty);
            Extent { value: h + reach, by }
        })
    };
    let long = |empty: bool| {
        vehicle.metres("length").map(|l| {
            let (reach, by) = behind(empty);
            Extent { value: l + reach + ahead.0, by: if by.is_empty() { ahead.1.clone() } else { by } }
        })
    };
    let (left, right) = (beside(1.0), beside(-1.0));
    let width = vehicle.metres("width").map(|w| {
        let by = if left.0.0 >= right.0.0 { left.1 } else { right.1 };
        Extent { value: w + left.0 + right.0, by }
    });
    Card { height: tall(false), height_empty: tall(true), length: long(false), length_empty: long(true), width }
}

/// Whether a place lies on the side of `sign`, or across the middle.
fn on_side(place: &Record, sign: f64) -> bool {
    place.quantities("at").get(1).is_some_and(|y| y.value.value.abs() < 0.01 || y.value.value * sign > 0.0)
}

/// The lowest points: the vehicle's own, and those of components that say how low they reach or where they hang.
pub(super) fn low_points(build: &Build<'_>) -> Vec<Point> {
    let v = &build.spec.vehicle;
    let lift = lift(build);
    let mut points = Vec::new();
    let wheelbase = v.metres("wheelbase");
    let rear_end = wheelbase.zip(v.metres("rear_overhang")).map(|(w, o)| w + o);
    let front_end = v.metres("front_overhang").map(|o| Metres(-o.0));
    for (x, height) in [
        (front_end, v.metres("front_clearance")),
        (rear_end, v.metres("rear_clearance")),
        (wheelbase.map(|w| w / 2.0), v.metres("ground_clearance")),
    ] {
        if let (Some(x), Some(height)) = (x, height) {
            points.push(Point { part: String::new(), x, height: height + lift });
        }
    }
    for part in build.parts.values() {
        let Some(envelope) = &part.kind.envelope else { continue };
        if envelope.ground.is_none() && envelope.behind.is_none() && envelope.ahead.is_none() {
            continue;
        }
        for place in places(build, part).filter(|p| ["outside", "underbody"].contains(&zone(p))) {
            let at = place.quantities("at");
            let floor = v.metres("floor_height").map(|f| f + lift);
            let hung = floor.zip(at.get(2)).map(|(f, z)| f + Metres(z.value.value));
            let Some(height) = length(part, envelope.ground.as_ref()).or(hung) else { continue };
            let half = place.quantities("size").first().map_or(0.0, |l| l.value.value / 2.0);
            let corners = at.first().map(|x| [x.value.value - half, x.value.value + half]);
            let zone_outside = zone(place) == "outside";
            let behind = length(part, envelope.behind.as_ref()).filter(|b| zone_outside && b.0 > 0.0).zip(rear_end);
            let ahead = length(part, envelope.ahead.as_ref()).filter(|a| zone_outside && a.0 > 0.0).zip(front_end);
            let xs = match (ahead, behind) {
                (Some((reach, end)), _) => vec![end - reach],
                (None, Some((reach, end))) => vec![end + reach],
                (None, None) => corners.map_or_else(Vec::new, |c| c.to_vec()).into_iter().map(Metres).collect(),
            };
            points.extend(xs.into_iter().map(|x| Point { part: part.id.clone(), x, height }));
        }
    }
    points
}
