//! What stands out of the vehicle: highest point, overall length and width, lowest points before, between and behind.

use super::Point;
use crate::build::{Build, Part, Reach};
use crate::kinds::Through;
use crate::spec::PlaceSection;
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

/// Places of a part that the spec knows.
pub(super) fn places<'a>(build: &'a Build<'_>, part: &'a Part<'_>) -> impl Iterator<Item = &'a PlaceSection> {
    part.places.iter().filter_map(|p| build.places.get(p))
}

/// How much the suspension raises the body.
pub(crate) fn lift(build: &Build<'_>) -> Metres {
    let lifts = build.parts.values().filter_map(|p| p.reach.as_ref()?.lift.get());
    lifts.fold(Metres(0.0), Metres::max)
}

/// The furthest of some reaches beyond the vehicle.
fn furthest<'a>(reaches: impl Iterator<Item = (&'a Part<'a>, Metres)>) -> (Metres, String) {
    let none = (Metres(0.0), String::new());
    reaches.fold(none, |best, (part, reach)| if reach.0 > best.0.0 { (reach, part.id.clone()) } else { best })
}

fn outside<'a>(build: &'a Build<'a>, part: &'a Part<'a>, zones: &[&str]) -> bool {
    places(build, part).any(|p| zones.contains(&p.zone()))
}

/// Whether a task of its kind cuts the roof for it.
fn pierces_roof(part: &Part<'_>) -> bool {
    part.kind.tasks.iter().flat_map(|t| &t.cut_outs).any(|cut| cut.through == Some(Through::Roof))
}

pub(super) fn card(build: &Build<'_>) -> Card {
    let vehicle = &build.vehicle;
    let parts = || build.parts.values().filter_map(|p| Some((p, p.reach.as_ref()?)));
    let above = |empty: bool| {
        let reach = move |e: &Reach| {
            let loaded = e.above_roof.get()?;
            if empty { e.above_roof_empty.get().or(Some(loaded)) } else { Some(loaded) }
        };
        // What stands on the roof, and what goes out through it from inside: a flue.
        let out = |p: &Part<'_>| outside(build, p, &["roof", "outside"]) || pierces_roof(p);
        furthest(parts().filter(|(p, _)| out(p)).filter_map(|(p, e)| Some((p, reach(e)?))))
    };
    let behind = |empty: bool| {
        let reach = move |e: &Reach| {
            let loaded = e.behind.get()?;
            if empty { e.behind_empty.get().or(Some(loaded)) } else { Some(loaded) }
        };
        let there = parts().filter(|(p, _)| outside(build, p, &["roof", "outside"]));
        furthest(there.filter_map(|(p, e)| Some((p, reach(e)?))))
    };
    let ahead = furthest(
        parts().filter(|(p, _)| outside(build, p, &["roof", "outside"])).filter_map(|(p, e)| Some((p, e.ahead.get()?))),
    );
    let beside = |sign: f64| {
        let there =
            parts().filter(|(p, _)| places(build, p).any(|place| place.zone() != "cabin" && on_side(place, sign)));
        furthest(there.filter_map(|(p, e)| Some((p, e.beside.get()?))))
    };
    let height = vehicle.height.get().map(|h| h + lift(build));
    let tall = |empty| {
        height.map(|h| {
            let (reach, by) = above(empty);
            Extent { value: h + reach, by }
        })
    };
    let long = |empty: bool| {
        vehicle.length.get().map(|l| {
            let (reach, by) = behind(empty);
            Extent { value: l + reach + ahead.0, by: if by.is_empty() { ahead.1.clone() } else { by } }
        })
    };
    let (left, right) = (beside(1.0), beside(-1.0));
    let width = vehicle.width.get().map(|w| {
        let by = if left.0.0 >= right.0.0 { left.1 } else { right.1 };
        Extent { value: w + left.0 + right.0, by }
    });
    Card { height: tall(false), height_empty: tall(true), length: long(false), length_empty: long(true), width }
}

/// Whether a place lies on the side of `sign`, or across the middle.
fn on_side(place: &PlaceSection, sign: f64) -> bool {
    place.at.get().is_some_and(|at| at.0[1].0.abs() < 0.01 || at.0[1].0 * sign > 0.0)
}

/// The lowest points: the vehicle's own, and those of components that say how low they reach or where they hang.
pub(super) fn low_points(build: &Build<'_>) -> Vec<Point> {
    let v = &build.vehicle;
    let lift = lift(build);
    let mut points = Vec::new();
    let wheelbase = v.wheelbase.get();
    let rear_end = wheelbase.zip(v.rear_overhang.get()).map(|(w, o)| w + o);
    let front_end = v.front_overhang.get().map(|o| Metres(-o.0));
    for (x, height) in [
        (front_end, v.front_clearance.get()),
        (rear_end, v.rear_clearance.get()),
        (wheelbase.map(|w| w / 2.0), v.ground_clearance.get()),
    ] {
        if let (Some(x), Some(height)) = (x, height) {
            points.push(Point { part: String::new(), x, height: height + lift });
        }
    }
    for part in build.parts.values() {
        let Some(envelope) = &part.reach else { continue };
        if !envelope.hangs_low {
            continue;
        }
        for place in places(build, part).filter(|p| ["outside", "underbody"].contains(&p.zone())) {
            let at = place.at.get().map(|at| at.0);
            let floor = v.floor_height.get().map(|f| f + lift);
            let hung = floor.zip(at).map(|(f, at)| f + at[2]);
            let Some(height) = envelope.ground.get().or(hung) else { continue };
            let corners = at.zip(place.half(0)).map(|(at, half)| [at[0] - half, at[0] + half]);
            let zone_outside = place.zone() == "outside";
            let behind = envelope.behind.get().filter(|b| zone_outside && b.0 > 0.0).zip(rear_end);
            let ahead = envelope.ahead.get().filter(|a| zone_outside && a.0 > 0.0).zip(front_end);
            let xs = match (ahead, behind) {
                (Some((reach, end)), _) => vec![end - reach],
                (None, Some((reach, end))) => vec![end + reach],
                (None, None) => corners.map_or_else(Vec::new, |c| c.to_vec()),
            };
            points.extend(xs.into_iter().map(|x| Point { part: part.id.clone(), x, height }));
        }
    }
    points
}
