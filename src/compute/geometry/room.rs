//! Places as boxes: which overlap, which leave the vehicle, what does not fit into them, what opens into them.

use super::boxes::{self, Box3};
use crate::build::{Build, Part};
use crate::fields::Field;
use crate::spec::PlaceSection;
use crate::units::Metres;
use serde::Serialize;

/// A place with a size.
#[derive(Clone, Debug, Serialize)]
pub struct Room {
    /// Id of the place.
    pub place: String,
    /// Its zone.
    pub zone: String,
    /// Other places may reach into it.
    pub open: bool,
    /// Its box.
    pub space: Box3,
}

/// Two places that reach into each other.
#[derive(Clone, Debug, Serialize)]
pub struct Overlap {
    /// One place.
    pub a: String,
    /// The other.
    pub b: String,
    /// Depth along the vehicle, across, up; metres.
    pub depth: [f64; 3],
}

/// The aisle between two places.
#[derive(Clone, Debug, Serialize)]
pub struct Passage {
    /// Width in metres.
    pub width: f64,
    /// Place on the left.
    pub left: String,
    /// Place on the right.
    pub right: String,
}

/// Something that opens into a place.
#[derive(Clone, Debug, Serialize)]
pub struct Blocked {
    /// Component that opens.
    pub part: String,
    /// Place in its way.
    pub place: String,
    /// How far it gets before it meets the place, metres.
    pub free: f64,
    /// How far it ought to.
    pub wanted: f64,
}

/// A component larger than its place.
#[derive(Clone, Debug, Serialize)]
pub struct TooLarge {
    /// Component.
    pub part: String,
    /// Its place.
    pub place: String,
    /// Its three measures, metres.
    pub size: [f64; 3],
    /// Those of the place.
    pub space: [f64; 3],
}

/// The box of a place; `None` where its position or size is not given.
pub(super) fn space(place: &PlaceSection) -> Option<Box3> {
    let size = place.size.metres().filter(|s| s.iter().all(|d| *d > 0.0))?;
    Some(Box3::standing(place.at.metres()?, size))
}

/// The places that have a position and a size.
pub(super) fn rooms(build: &Build<'_>) -> Vec<Room> {
    let room = |(id, place): (&String, &PlaceSection)| {
        let space = space(place)?;
        Some(Room { place: id.clone(), zone: place.zone().to_owned(), open: place.open.is_set(), space })
    };
    build.places.iter().filter_map(room).collect()
}

/// Whether two places share the space they are in: the cabin's walls part it from the outside.
fn same_side(a: &Room, b: &Room) -> bool {
    (a.zone == "cabin") == (b.zone == "cabin") && (a.zone == "engine-space") == (b.zone == "engine-space")
}

/// Places that reach into each other. One within another is its part; `open` ones take others in.
pub(super) fn overlaps(rooms: &[Room]) -> Vec<Overlap> {
    let mut out = Vec::new();
    for (n, a) in rooms.iter().enumerate() {
        for b in rooms.iter().skip(n + 1) {
            if a.open || b.open || !same_side(a, b) || a.space.holds(&b.space) || b.space.holds(&a.space) {
                continue;
            }
            if let Some(depth) = a.space.overlap(&b.space) {
                out.push(Overlap { a: a.place.clone(), b: b.place.clone(), depth });
            }
        }
    }
    out
}

/// The narrowest aisle of the cabin.
pub(super) fn passage(rooms: &[Room]) -> Option<Passage> {
    let inside: Vec<&Room> = rooms.iter().filter(|r| r.zone == "cabin" && !r.open).collect();
    let spaces: Vec<Box3> = inside.iter().map(|r| r.space).collect();
    let found = boxes::aisle(&spaces)?;
    let name = |n: usize| inside.get(n).map_or_else(String::new, |r| r.place.clone());
    Some(Passage { width: found.width, left: name(found.between.0), right: name(found.between.1) })
}

/// Components whose own three measures do not go into their place, whichever way they are turned.
pub(super) fn too_large(build: &Build<'_>, rooms: &[Room]) -> Vec<TooLarge> {
    let mut out = Vec::new();
    for part in build.parts.values() {
        let Some(size) = own_size(part) else { continue };
        for room in part.places.iter().filter_map(|p| rooms.iter().find(|r| &r.place == p)) {
            let sorted = |mut s: [f64; 3]| {
                s.sort_by(f64::total_cmp);
                s
            };
            let (own, space) = (sorted(size), sorted(room.space.size()));
            if own.iter().zip(space).any(|(o, s)| *o > s + boxes::JOINT + 1e-9) {
                out.push(TooLarge { part: part.id.clone(), place: room.place.clone(), size, space: room.space.size() });
            }
        }
    }
    out
}

/// New parts that go into a bay of known size and whose own size nobody gives.
pub(super) fn unmeasured(build: &Build<'_>, rooms: &[Room]) -> Vec<String> {
    let asked = |p: &&Part<'_>| p.reach.as_ref().is_some_and(|r| r.built_in) && !p.was_there() && own_size(p).is_none();
    let in_a_bay = |p: &&Part<'_>| p.places.iter().any(|id| rooms.iter().any(|r| &r.place == id && !r.open));
    build.parts.values().filter(asked).filter(in_a_bay).map(|p| p.id.clone()).collect()
}

/// The three measures of a part, where the spec itself gives them: usual values say nothing of this one.
fn own_size(part: &Part<'_>) -> Option<[f64; 3]> {
    if let Some(size) = part.common.size.metres() {
        return Some(size);
    }
    let [a, b, c] = part.reach.as_ref()?.size.as_slice() else { return None };
    let one = |field: &Field<Metres>| field.get().filter(|_| field.given).map(|m| m.0);
    Some([one(a)?, one(b)?, one(c)?])
}

/// Drawers, trays and awnings that open into a place.
pub(super) fn blocked(build: &Build<'_>, rooms: &[Room]) -> Vec<Blocked> {
    let mut out = Vec::new();
    for part in build.parts.values() {
        let Some(sweep) = part.reach.as_ref().and_then(|r| r.opens.as_ref()) else { continue };
        let Some(by) = sweep.by.get().map(|m| m.0).filter(|b| *b > 0.0) else { continue };
        let direction = sweep.direction.text();
        for own in part.places.iter().filter_map(|p| rooms.iter().find(|r| &r.place == p)) {
            let middle = f64::midpoint(own.space.min[1], own.space.max[1]);
            let side = if middle >= 0.0 { 1.0 } else { -1.0 };
            let (axis, sign) = match direction {
                Some("forward") => (0, -1.0),
                Some("rearward") => (0, 1.0),
                Some("left") => (1, 1.0),
                Some("right") => (1, -1.0),
                Some("inward") => (1, -side),
                Some("outward") => (1, side),
                _ if sweep.outside => (1, side),
                _ => continue,
            };
            // A slide meets what stands on its way; what hangs on a door swings away with it.
            let meets = |r: &&Room| {
                r.place != own.place
                    && !r.open
                    && same_side(own, r)
                    && !r.space.holds(&own.space)
                    && !own.space.holds(&r.space)
                    && own.space.overlap(&r.space).is_none()
                    && own.space.drawn(axis, sign, by).overlap(&r.space).is_some()
            };
            let free = |r: &Room| {
                let gap = if sign > 0.0 {
                    r.space.min[axis] - own.space.max[axis]
                } else {
                    own.space.min[axis] - r.space.max[axis]
                };
                gap.max(0.0)
            };
            let nearest = rooms.iter().filter(meets).min_by(|a, b| free(a).total_cmp(&free(b)));
            if let Some(room) = nearest {
                out.push(Blocked { part: part.id.clone(), place: room.place.clone(), free: free(room), wanted: by });
            }
        }
    }
    out
}
