//! What is looked for in an emergency: its sign on the map, its number there, and where one reaches it.

use super::switching::boards_of;
use crate::build::{Build, Part};
use crate::kinds::{EmergencyMark, Role, SafetyRole};

/// Things of one sort in one place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Thing {
    /// Its number on the map, from 1.
    pub number: usize,
    /// Its sign.
    pub mark: EmergencyMark,
    /// Ids of the parts.
    pub parts: Vec<String>,
    /// Ids of the places where they are reached.
    pub places: Vec<String>,
    /// Where a load is shut off at a panel: ": way 5 in House panel", ": switch on Control panel".
    pub beside: String,
    /// Side of the van whose skin it is in, "" where that is not known.
    pub side: String,
}

/// All of a build, by sign and then in the order of the spec.
#[must_use]
pub fn things(build: &Build<'_>) -> Vec<Thing> {
    let mut all: Vec<Thing> = Vec::new();
    for mark in EmergencyMark::ALL.iter().copied() {
        let of_mark = build.parts.values().filter(|p| !p.confidential && mark_of(p) == Some(mark));
        for part in of_mark {
            let (places, beside) = reached(build, part, mark);
            let side = side(build, part);
            let same = |t: &&mut Thing| t.mark == mark && t.places == places && t.beside == beside && t.side == side;
            match all.iter_mut().find(same).filter(|_| !places.is_empty()) {
                Some(thing) => thing.parts.push(part.id.clone()),
                None => {
                    all.push(Thing { number: all.len() + 1, mark, parts: vec![part.id.clone()], places, beside, side });
                }
            }
            if let Some(place) = part.common.reached_at.all().first() {
                let (parts, places) = (vec![part.id.clone()], vec![place.value.clone()]);
                let number = all.len() + 1;
                all.push(Thing { number, mark, parts, places, beside: String::new(), side: String::new() });
            }
        }
    }
    all
}

/// Ids of the places where a part is worked: those of its control where it has one, else its own.
#[must_use]
pub fn worked_at(part: &Part<'_>) -> Vec<String> {
    let control: Vec<String> = part.common.control_at.all().iter().map(|p| p.value.clone()).collect();
    if control.is_empty() { part.places.clone() } else { control }
}

/// Where a part is shut off: a load without a control of its own at the control panel that holds its switch, else at
/// the panel that feeds it, on its way there.
fn reached(build: &Build<'_>, part: &Part<'_>, mark: EmergencyMark) -> (Vec<String>, String) {
    let off = matches!(mark, EmergencyMark::PowerOff | EmergencyMark::GasOff | EmergencyMark::WaterOff);
    let own = !part.common.control_at.all().is_empty();
    let switched = off && !own && part.role() == Some(Role::Load);
    if let Some(board) = boards_of(build, part).find(|p| switched && !p.confidential && !p.places.is_empty()) {
        return (board.places.clone(), format!(": switch on {}", board.name));
    }
    let feed = build.arriving(&part.id).find(|c| c.way.is_some()).filter(|_| switched);
    let panel = feed.and_then(|c| build.parts.get(&c.from)).filter(|p| !p.confidential);
    match (feed.and_then(|c| c.way), panel) {
        (Some(way), Some(panel)) => (panel.places.clone(), format!(": way {way} in {}", panel.name)),
        _ => (through(build, part).map_or_else(|| worked_at(part), |p| p.places.clone()), String::new()),
    }
}

/// The window, door or hatch that a way out leads through, where that is a part of its own.
fn through<'b>(build: &'b Build<'_>, part: &Part<'_>) -> Option<&'b Part<'b>> {
    let through = part.roles.leads_through().all().first()?;
    build.parts.get(&through.value).filter(|p| !p.places.is_empty())
}

/// The side a way out is in: its own, or that of the window, door or hatch it leads through.
fn side(build: &Build<'_>, part: &Part<'_>) -> String {
    let given = |p: &Part<'_>| p.roles.side().text().map(str::to_owned);
    given(part).or_else(|| through(build, part).and_then(given)).unwrap_or_default()
}

/// The sign of a part; windows are ways out only where they are said to be.
fn mark_of(part: &Part<'_>) -> Option<EmergencyMark> {
    let mark = part.kind.owner.emergency_map?;
    let window = part.kind.safety.as_ref().is_some_and(|s| s.role == SafetyRole::EscapeWindow);
    (!window || part.roles.escape().is_set()).then_some(mark)
}
