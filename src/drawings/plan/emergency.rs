//! The emergency map: what to shut off, what to put a fire out with, first aid, alarms, ways out.

use super::key::Entry;
use super::sheet::{self, Heading, Marked, Plan};
use super::sign::Sign;
use crate::build::Build;
use crate::compute::emergency::{Thing, things};
use crate::compute::geometry::exits;
use crate::compute::geometry::spots::{Level, Spot};
use crate::compute::geometry::van::Van;
use crate::drawings::{Drawing, Subject};
use crate::kinds::EmergencyMark;
use std::fmt::Write as _;

/// The map; none where nothing is marked.
pub(super) fn drawing(build: &Build<'_>, van: &Van, spots: &[Spot<'_>]) -> Vec<Drawing> {
    let things = things(build);
    let mut marked = Vec::new();
    let mut entries: Vec<Entry> = Vec::new();
    let mut told = Vec::new();
    for thing in &things {
        let here: Vec<&Spot<'_>> =
            thing.places.iter().filter_map(|id| spots.iter().find(|s| s.id == id.as_str())).collect();
        let places: Vec<String> = thing.places.iter().map(|id| build.place_name(id)).collect();
        let sign = Sign::Numbered(thing.mark, thing.number);
        marked.extend(here.iter().filter_map(|spot| {
            let at = at_skin(spot.middle()?, &thing.side, van);
            Some(Marked { sign: sign.clone(), at, space: None })
        }));
        let names: Vec<&str> = thing.parts.iter().map(|id| build.name(id)).collect();
        let names = names.join(", ");
        let place = if places.is_empty() { "no place given".to_owned() } else { places.join(", ") };
        let place = match thing.side.as_str() {
            "" => place,
            "rear" | "front" => format!("{place}: at the {}", thing.side),
            "left" | "right" => format!("{place}: on the {}", thing.side),
            other => format!("{place}: {other}"),
        };
        let mut rows = vec![(names.clone(), String::new()), (format!("→ {place}{}", thing.beside), String::new())];
        let mut said = format!("{} {}: {names} ({place})", thing.number, thing.mark.title());
        let barred = barred(build, thing);
        if !barred.is_empty() {
            let _ = write!(said, ", {barred}");
            rows.push((barred, String::new()));
        }
        told.push(said);
        entries.push(Entry { sign, title: thing.mark.title().to_owned(), rows });
    }
    if things.is_empty() {
        return Vec::new();
    }
    let heading = Heading {
        subject: Subject::Emergency,
        tail: String::new(),
        about: String::new(),
        title: "Emergency map: what to shut off, what helps, and the ways out".to_owned(),
        description: format!(
            "Plan of the van from above, front to the left, with numbered signs. {}.",
            told.join("; ")
        ),
        notes: vec![notes(&things)],
    };
    // Furniture is drawn faintly, to find one's way by.
    let furniture = spots.iter().filter(|s| s.level == Level::Lower && s.is_furniture(build));
    let around = furniture.filter_map(|s| s.space).collect();
    let plan = Plan { title: "", around, marked, outside_only: true };
    sheet::plans_with_key(van, build.prints(), &heading, &[plan], &entries)
}

/// What can stand in the way of a way out, in words; "" where nothing can.
fn barred(build: &Build<'_>, thing: &Thing) -> String {
    if thing.mark != EmergencyMark::Exit {
        return String::new();
    }
    let exits = thing.parts.iter().filter_map(|id| build.parts.get(id)).map(|p| exits::exit(build, p));
    let by: Vec<&str> = exits.flat_map(|e| e.barred_by).map(|p| p.name.as_str()).collect();
    if by.is_empty() { String::new() } else { format!("no way out while this stands there: {}", by.join(", ")) }
}

fn notes(things: &[Thing]) -> String {
    let skin = things.iter().any(|t| !t.side.is_empty());
    let panel = things.iter().any(|t| !t.beside.is_empty());
    let ways = if skin { " A way out is marked at its door, window or hatch." } else { "" };
    let loads = if panel { " What has no control of its own is shut off at the panel that feeds it." } else { "" };
    format!("A dot marks the middle of the place a thing is in.{ways}{loads}")
}

/// The point in the skin of the van beside `middle`, on that side; `middle` where the side is not known.
fn at_skin(middle: [f64; 3], side: &str, van: &Van) -> [f64; 3] {
    let body = van.body();
    let [x, y, z] = middle;
    match side {
        "front" => [body.min[0], y, z],
        "rear" => [body.max[0], y, z],
        // The left of the van lies where y is positive.
        "left" => [x, body.max[1], z],
        "right" => [x, body.min[1], z],
        _ => middle,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_door_lies_in_the_skin() {
        let van = Van {
            wheelbase: 3.5,
            front: 1.0,
            rear: 5.0,
            width: 2.0,
            height: 2.7,
            track: 1.7,
            tyre: 0.35,
            floor: 0.6,
            under: [0.2; 3],
            usual: Vec::new(),
        };
        assert_eq!(at_skin([2.0, 0.1, 0.5], "rear", &van), [5.0, 0.1, 0.5]);
        assert_eq!(at_skin([2.0, 0.1, 0.5], "right", &van), [2.0, -1.0, 0.5]);
        assert_eq!(at_skin([2.0, 0.1, 0.5], "roof", &van), [2.0, 0.1, 0.5]);
    }
}
