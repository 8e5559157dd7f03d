//! The emergency map: what to shut off, what to put a fire out with, first aid, alarms, ways out.

use super::key::Entry;
use super::register::{Level, Spot};
use super::sheet::{self, Heading, Marked, Plan};
use super::sign::Sign;
use super::van::Van;
use crate::build::{Build, Part};
use crate::drawings::{Drawing, Subject};
use crate::kinds::{EmergencyMark, Role, SafetyRole};

/// Something on the map: its sign, what it is, where it is, and the place.
struct Thing<'a> {
    mark: EmergencyMark,
    name: String,
    beside: String,
    spot: &'a Spot<'a>,
}

/// The map; none where nothing is marked.
pub(super) fn drawing(build: &Build<'_>, van: &Van, spots: &[Spot<'_>]) -> Vec<Drawing> {
    let things = things(build, spots);
    if things.is_empty() {
        return Vec::new();
    }
    let mut marked = Vec::new();
    let mut entries: Vec<Entry> = Vec::new();
    for mark in EmergencyMark::ALL {
        let of: Vec<&Thing<'_>> = things.iter().filter(|t| t.mark == *mark).collect();
        if of.is_empty() {
            continue;
        }
        let mut here: Vec<&str> = Vec::new();
        for thing in &of {
            // One sign for all of a sort in one place.
            if here.contains(&thing.spot.id) {
                continue;
            }
            here.push(thing.spot.id);
            if let Some(at) = thing.spot.middle() {
                marked.push(Marked { sign: Sign::Mark(*mark), at, space: thing.spot.space });
            }
        }
        let rows = of.iter().flat_map(|t| {
            let place = format!("{}{}", t.spot.name, t.beside);
            [(t.name.clone(), String::new()), (format!("→ {place}"), String::new())]
        });
        entries.push(Entry { sign: Sign::Mark(*mark), title: mark.title().to_owned(), rows: rows.collect() });
    }
    let told: Vec<String> =
        things.iter().map(|t| format!("{}: {} ({})", t.mark.title(), t.name, t.spot.name)).collect();
    let heading = Heading {
        subject: Subject::Emergency,
        tail: String::new(),
        about: String::new(),
        title: "Emergency map: what to shut off, what helps, and the ways out".to_owned(),
        description: format!("Plan of the van from above, front to the left, with signs. {}.", told.join("; ")),
        notes: vec![format!(
            "A dot marks the middle of the place a thing is in.{}",
            if things.iter().any(|t| !t.beside.is_empty()) {
                " A pump is shut off at the panel that feeds it."
            } else {
                ""
            }
        )],
    };
    // Furniture is drawn faintly, to find one's way by.
    let furniture = spots.iter().filter(|s| s.level == Level::Lower && s.is_furniture(build));
    let around = furniture.filter_map(|s| s.space).collect();
    for m in &mut marked {
        m.space = None;
    }
    let plan = Plan { title: "", around, marked, outside_only: true };
    sheet::plans_with_key(van, build.prints(), &heading, &[plan], &entries)
}

fn things<'a>(build: &Build<'_>, spots: &'a [Spot<'a>]) -> Vec<Thing<'a>> {
    let mut out = Vec::new();
    for part in build.parts.values().filter(|p| !build.is_secret(p)) {
        let Some(mark) = mark_of(part) else { continue };
        // A load is shut off where it is switched.
        let off = matches!(mark, EmergencyMark::PowerOff | EmergencyMark::GasOff | EmergencyMark::WaterOff);
        let switched = off && part.role() == Some(Role::Load);
        let feed = build.arriving(&part.id).find(|c| c.way.is_some()).filter(|_| switched);
        let panel = feed.and_then(|c| build.parts.get(&c.from)).filter(|p| !build.is_secret(p));
        let places = panel.map_or(&part.places, |p| &p.places);
        let beside = match (feed.and_then(|c| c.way), panel) {
            (Some(way), Some(panel)) => format!(": way {way} in {}", panel.name),
            _ => String::new(),
        };
        for spot in places.iter().filter_map(|id| spots.iter().find(|s| s.id == id)) {
            out.push(Thing { mark, name: part.name.clone(), beside: beside.clone(), spot });
        }
    }
    out
}

/// The sign of a part; windows are ways out only where they are said to be.
fn mark_of(part: &Part<'_>) -> Option<EmergencyMark> {
    let mark = part.kind.owner.emergency_map?;
    let window = part.kind.safety.as_ref().is_some_and(|s| s.role == SafetyRole::EscapeWindow);
    (!window || part.record.flag("escape")).then_some(mark)
}
