//! Ways out, and what can stand in their way: what the spec names, and what is fixed outside in front of them.

use super::boxes::Box3;
use super::room::space;
use crate::build::{Build, Part};
use crate::kinds::SafetyRole;

/// A way out.
#[derive(Clone, Debug)]
pub(crate) struct Exit<'a> {
    /// The escape route, or the window that is one.
    pub part: &'a Part<'a>,
    /// What can stand in its way, in the order of the spec.
    pub barred_by: Vec<&'a Part<'a>>,
    /// Those of them that the spec itself does not name.
    pub untold: Vec<&'a Part<'a>>,
}

/// Side of the van that a way out leads to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Side {
    Rear,
    Left,
    Right,
    Front,
    Roof,
}

/// Free room that a way out needs outside, metres; common practice.
const ROOM: f64 = 0.8;

/// A place this near to the skin leads out there, metres.
const NEAR: f64 = 0.35;

fn is_route(part: &Part<'_>) -> bool {
    part.kind.safety.as_ref().is_some_and(|s| s.role == SafetyRole::EscapeRoute)
}

/// Whether a window is marked as a way out.
fn is_window(part: &Part<'_>) -> bool {
    part.kind.safety.as_ref().is_some_and(|s| s.role == SafetyRole::EscapeWindow) && part.roles.escape().is_set()
}

/// Whether a part is a way out, by itself or by the route that leads through it.
#[must_use]
pub(crate) fn is_exit(part: &Part<'_>) -> bool {
    is_route(part) || is_window(part)
}

/// All ways out: escape routes, and windows marked so that no route leads through.
#[must_use]
pub(crate) fn exits<'a>(build: &'a Build<'a>) -> Vec<Exit<'a>> {
    let routes = || build.parts.values().filter(|p| is_route(p));
    let through = |id: &str| routes().any(|r| r.roles.leads_through().names(id));
    let windows = build.parts.values().filter(|p| is_window(p)).filter(|w| !through(&w.id));
    routes().chain(windows).map(|part| exit(build, part)).collect()
}

impl Exit<'_> {
    /// Whether nothing bars it, and who sleeps or sits on `part` gets to it by themselves.
    #[must_use]
    pub(crate) fn frees(&self, part: &str) -> bool {
        let serves = self.part.roles.serves();
        self.barred_by.is_empty() && (serves.all().is_empty() || serves.names(part))
    }
}

/// The way out `part`.
#[must_use]
pub(crate) fn exit<'a>(build: &'a Build<'a>, part: &'a Part<'a>) -> Exit<'a> {
    let (blocked_by, clear_of) = (part.roles.blocked_by(), part.roles.clear_of());
    let side = side(build, part);
    let stands = |p: &&Part<'_>| p.id != part.id && side.is_some_and(|s| bars(build, p, s, || room_of(build, part, s)));
    let barred_by: Vec<_> =
        build.parts.values().filter(|p| blocked_by.names(&p.id) || stands(p) && !clear_of.names(&p.id)).collect();
    let untold = barred_by.iter().copied().filter(|p| !blocked_by.names(&p.id)).collect();
    Exit { part, barred_by, untold }
}

/// What stands outside before a place at the skin of the van, so that nobody gets at it from there.
#[must_use]
pub(crate) fn before<'a>(build: &'a Build<'a>, place: &str) -> Vec<&'a Part<'a>> {
    let room = || {
        let own = space(build.places.get(place)?)?;
        let side = nearest(build, &own)?;
        Some((side, room_outside(build, own, 0.0, side)?))
    };
    let Some((side, room)) = room() else { return Vec::new() };
    build.parts.values().filter(|p| bars(build, p, side, || Some(room))).collect()
}

/// Where it leads: as given, as the window it leads through says, else the skin its place is nearest to.
fn side(build: &Build<'_>, part: &Part<'_>) -> Option<Side> {
    let word = |p: &Part<'_>| match p.roles.side().text()? {
        "rear" => Some(Side::Rear),
        "left" => Some(Side::Left),
        "right" => Some(Side::Right),
        "front" | "cab" => Some(Side::Front),
        "roof" => Some(Side::Roof),
        _ => None,
    };
    let through = part.roles.leads_through().first().and_then(|id| build.parts.get(id));
    let told = word(part).or_else(|| word(through?));
    told.or_else(|| nearest(build, &own_space(build, part)?))
}

/// The skin that a place lies at: the rear end, or one side alone.
fn nearest(build: &Build<'_>, place: &Box3) -> Option<Side> {
    let half = build.vehicle.width.get()?.0 / 2.0;
    let (left, right) = (half - place.max[1] < NEAR, half + place.min[1] < NEAR);
    match (left, right) {
        (true, false) => return Some(Side::Left),
        (false, true) => return Some(Side::Right),
        _ => {}
    }
    let rear = rear_end(build)?;
    (rear - place.max[0] < NEAR).then_some(Side::Rear)
}

fn rear_end(build: &Build<'_>) -> Option<f64> {
    let vehicle = &build.vehicle;
    Some(vehicle.wheelbase.get()?.0 + vehicle.rear_overhang.get()?.0)
}

fn own_space(build: &Build<'_>, part: &Part<'_>) -> Option<Box3> {
    part.places.iter().find_map(|id| space(build.places.get(id)?))
}

/// Whether `part` stands in front of a way out on that side, in the room that it needs outside.
fn bars(build: &Build<'_>, part: &Part<'_>, side: Side, room: impl FnOnce() -> Option<Box3>) -> bool {
    let Some(reach) = &part.reach else { return false };
    if let (Side::Rear, Some(bars)) = (side, reach.bars_rear) {
        return bars;
    }
    let Some(outside) = room() else { return false };
    let stands = |id: &String| {
        let place = build.places.get(id)?;
        let fits = match side {
            Side::Roof => place.zone() == "roof",
            _ => place.zone() == "outside",
        };
        space(place).filter(|_| fits)?.overlap(&outside)
    };
    part.places.iter().any(|id| stands(id).is_some())
}

/// The room outside that a way out needs to open and to be left by.
fn room_of(build: &Build<'_>, exit: &Part<'_>, side: Side) -> Option<Box3> {
    let tall = exit.roles.height().get().or_else(|| exit.roles.opening_height().get())?.0;
    room_outside(build, own_space(build, exit)?, tall, side)
}

/// The room outside of a place that is so tall, or as tall as the place is.
fn room_outside(build: &Build<'_>, mut room: Box3, tall: f64, side: Side) -> Option<Box3> {
    let half = build.vehicle.width.get().map(|w| w.0 / 2.0);
    if side != Side::Roof {
        room.max[2] = room.max[2].max(room.min[2] + tall);
    }
    match side {
        Side::Rear => (room.min[0], room.max[0]) = (rear_end(build)?, rear_end(build)? + ROOM),
        Side::Left => (room.min[1], room.max[1]) = (half? - 0.1, half? + ROOM),
        Side::Right => (room.min[1], room.max[1]) = (-half? - ROOM, -half? + 0.1),
        Side::Front => return None,
        Side::Roof => room.max[2] += ROOM,
    }
    Some(room)
}
