//! Storage map: what may be kept where, and how much.

use super::plan::key::Entry;
use super::plan::sheet::{self, Heading, Marked, Plan};
use super::plan::sign::Sign;
use super::{Context, Drawing, Subject};
use crate::build::Part;
use crate::compute::geometry::spots::{Level, Spot, spots};
use crate::compute::geometry::van::Van;
use crate::fields::Field;
use crate::kinds::Rated;
use crate::units::{Bound, Kilograms};

/// The map; none where nothing is rated for what it holds.
pub(super) fn drawing(context: &Context<'_>) -> Vec<Drawing> {
    let build = context.build;
    let Some(van) = Van::of(build) else { return Vec::new() };
    let spots = spots(build, &van);
    let holds = |p: &Part<'_>| p.kind.load.as_ref().is_some_and(|l| l.rating.is_some());
    let used: Vec<&Spot<'_>> = spots.iter().filter(|s| s.parts.iter().any(|(p, _)| holds(p))).collect();
    let marked = |level: fn(Level) -> bool| {
        let of = used.iter().filter(|s| level(s.level));
        let mark = |s: &&Spot<'_>| Some(Marked { sign: Sign::Number(s.number), at: s.middle()?, space: s.space });
        of.filter_map(mark).collect::<Vec<_>>()
    };
    let low = marked(|l| matches!(l, Level::Lower | Level::Under));
    let high = marked(|l| matches!(l, Level::Upper | Level::Roof));
    if low.is_empty() && high.is_empty() {
        return Vec::new();
    }
    let entry = |s: &&Spot<'_>| {
        let parts = s.parts.iter().filter(|(p, here)| *here && holds(p));
        let rows = parts.flat_map(|(p, _)| told(context, p)).collect();
        Entry { sign: Sign::Number(s.number), title: s.name.clone(), rows }
    };
    let entries: Vec<Entry> = used.iter().map(entry).filter(|e| !e.rows.is_empty()).collect();
    let words: Vec<String> = entries
        .iter()
        .map(|e| {
            let rows: Vec<String> = e.rows.iter().map(|(a, b)| format!("{a} {b}").trim().to_owned()).collect();
            format!("{}: {}", e.title, rows.join(", "))
        })
        .collect();
    let heading = Heading {
        subject: Subject::Storage,
        tail: String::new(),
        about: String::new(),
        title: "Storage map: what may be kept where".to_owned(),
        description: format!("Plan of the van from above, front to the left, with its stores. {}.", words.join("; ")),
        notes: vec![
            "“At most” is the largest mass of each, its own mass not counted. Keep what is heavy low and near the axles; close every latch before you drive.".to_owned(),
        ],
    };
    let around = |level: Level| {
        let furniture = spots.iter().filter(|s| s.level == level && s.is_furniture(build));
        furniture.filter_map(|s| s.space).collect::<Vec<_>>()
    };
    let one = low.is_empty() || high.is_empty();
    let title = |t: &'static str| if one { "" } else { t };
    let plans = [
        Plan { title: title("On the floor and below"), around: around(Level::Lower), marked: low, outside_only: false },
        Plan { title: title("Above and on the roof"), around: around(Level::Upper), marked: high, outside_only: false },
    ];
    sheet::plans_with_key(&van, build.prints(), &heading, &plans, &entries)
}

/// A store: its name and limit, what it is for, how it closes.
fn told(context: &Context<'_>, part: &Part<'_>) -> Vec<(String, String)> {
    let prints = context.build.prints();
    let Some(rating) = part.masses.as_ref().and_then(|m| m.rating.as_ref()) else { return Vec::new() };
    let each = if part.count > 1 || rating.each_side { " each" } else { "" };
    let shown = |m: Kilograms| format!("at most {}{each}", m.bound(Bound::Most, prints));
    let parked = rating.parked.as_ref().and_then(Field::get);
    let limit = context.weight.driving(&part.id).map(|d| d.limit / part.times());
    let limit = limit.or_else(|| rating.limit.get());
    let most =
        limit.map_or_else(String::new, |m| format!("{}{}", shown(m), if parked.is_some() { ", driving" } else { "" }));
    let name = if part.count > 1 { format!("{} × {}", part.count, part.name) } else { part.name.clone() };
    let mut rows = vec![(name, most)];
    if let Some(parked) = parked {
        rows.push(("– parked, people included".to_owned(), shown(parked)));
    }
    let contents = part.masses.as_ref().and_then(|m| m.contents.text()).map(str::trim).filter(|t| !t.is_empty());
    if let Some(contents) = contents.filter(|_| rating.of == Rated::Storage || rating.of == Rated::Tray) {
        rows.push((format!("– {contents}"), String::new()));
    }
    rows
}
