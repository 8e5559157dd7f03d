//! Plans level by level with every placed component, and one per stage with the components worked on.

use super::key::Entry;
use super::sheet::{self, Heading, Marked, Plan};
use super::sign::Sign;
use crate::build::{Build, Part};
use crate::compute::geometry::spots::{Level, Spot};
use crate::compute::geometry::van::Van;
use crate::compute::place_numbers::on_plan;
use crate::drawings::{Drawing, Subject};
use crate::kinds::Stage;
use std::collections::BTreeMap;

/// With no more places than this, all levels share one plan.
const FEW: usize = 10;

/// With more places than this, what is low and what is high stand on plans of their own.
const CLEAR: usize = 16;

/// Places that a description names. It stands on every sheet that the key goes on to, and nobody listens to more.
const TOLD: usize = 60;

fn marked(spots: &[&Spot<'_>]) -> Vec<Marked> {
    let mark = |s: &&Spot<'_>| Some(Marked { sign: Sign::Number(s.number), at: s.middle()?, space: s.space });
    spots.iter().filter_map(mark).collect()
}

/// "3 × Galley drawer".
fn named(part: &Part<'_>) -> String {
    if part.count > 1 { format!("{} × {}", part.count, part.name) } else { part.name.clone() }
}

/// Numbers of the places where parts stand, by the ids of the parts, and whether each is listed there.
struct Standing<'s>(BTreeMap<&'s str, Vec<(usize, bool)>>);

impl<'s> Standing<'s> {
    fn of(all: &'s [Spot<'_>]) -> Self {
        let mut places: BTreeMap<&str, Vec<(usize, bool)>> = BTreeMap::new();
        for spot in all {
            for (part, here) in &spot.parts {
                places.entry(&part.id).or_default().push((spot.number, *here));
            }
        }
        Self(places)
    }

    fn of_part(&self, part: &Part<'_>) -> &[(usize, bool)] {
        self.0.get(part.id.as_str()).map_or(&[], Vec::as_slice)
    }

    /// The place a part is listed at.
    fn listed_at(&self, part: &Part<'_>) -> Option<usize> {
        self.of_part(part).iter().find(|(_, here)| *here).map(|(number, _)| *number)
    }

    /// The other places of a part listed here.
    fn also(&self, spot: &Spot<'_>, part: &Part<'_>) -> String {
        let mut others: Vec<usize> = self.of_part(part).iter().map(|(n, _)| *n).filter(|n| *n != spot.number).collect();
        others.dedup();
        let numbers: Vec<String> = others.iter().map(usize::to_string).collect();
        if numbers.is_empty() { String::new() } else { format!(" (also {})", numbers.join(", ")) }
    }
}

fn entries(all: &[Spot<'_>], spots: &[&Spot<'_>], shown: impl Fn(&Part<'_>) -> bool) -> Vec<Entry> {
    let standing = Standing::of(all);
    let entry = |spot: &&Spot<'_>| {
        let row = |(part, here): &(&Part<'_>, bool)| {
            if *here {
                (format!("{}{}", named(part), standing.also(spot, part)), part.id.clone())
            } else {
                let number = standing.listed_at(part).map_or_else(String::new, |n| format!("see {n}"));
                (named(part), number)
            }
        };
        let rows = spot.parts.iter().filter(|(p, _)| shown(p)).map(row).collect();
        Entry { sign: Sign::Number(spot.number), title: spot.name.clone(), rows }
    };
    spots.iter().map(entry).filter(|e| !e.rows.is_empty()).collect()
}

/// What can be seen, in words: places and what stands there.
fn told(entries: &[Entry]) -> String {
    let one = |e: &Entry| {
        let number = if let Sign::Number(n) = e.sign { format!("{n} ") } else { String::new() };
        let names: Vec<&str> = e.rows.iter().map(|(name, _)| name.as_str()).collect();
        let names = if names.is_empty() { String::new() } else { format!(": {}", names.join(", ")) };
        format!("{number}{}{names}", e.title)
    };
    let mut places: Vec<String> = entries.iter().take(TOLD).map(one).collect();
    if let Some(more) = entries.len().checked_sub(TOLD).filter(|more| *more > 0) {
        places.push(format!("and {more} more places, which the key lists"));
    }
    places.join("; ")
}

/// The plans of all levels.
pub(super) fn plans(build: &Build<'_>, van: &Van, spots: &[Spot<'_>]) -> Vec<Drawing> {
    let placed = spots.iter().filter(|s| s.level != Level::Nowhere).count();
    let groups: Vec<(String, &str, Vec<&Spot<'_>>)> = if placed <= FEW {
        vec![("the whole van".to_owned(), "whole", spots.iter().collect())]
    } else {
        let of = |level: Level| spots.iter().filter(|s| s.level == level).collect::<Vec<_>>();
        Level::ALL.iter().map(|l| (l.title().to_owned(), tail(*l), of(*l))).collect()
    };
    let mut out = Vec::new();
    for (title, tail, group) in groups.into_iter().filter(|(_, _, g)| !g.is_empty()) {
        let entries = entries(spots, &group, |_| true);
        let mut notes: Vec<String> = sheet::usual(van).into_iter().collect();
        if group.iter().any(|s| s.level == Level::Nowhere) {
            notes.push("Places without coordinates near the van stand in the key alone.".to_owned());
        }
        let heading = Heading {
            subject: Subject::Plan,
            tail: tail.to_owned(),
            about: tail.to_owned(),
            title: format!("Plan: {title}"),
            description: format!("Plan of the van from above, front to the left: {title}. {}.", told(&entries)),
            notes,
        };
        let plan = Plan { marked: marked(&group), ..Plan::default() };
        out.extend(sheet::plans_with_key(van, build.prints(), &heading, &[plan], &entries));
    }
    out
}

const fn tail(level: Level) -> &'static str {
    match level {
        Level::Lower => "1-lower",
        Level::Upper => "2-upper",
        Level::Roof => "3-roof",
        Level::Under => "4-under",
        Level::Nowhere => "5-nowhere",
    }
}

/// A plan for each stage that has work on placed components.
pub(super) fn stages(build: &Build<'_>, van: &Van, spots: &[Spot<'_>]) -> Vec<Drawing> {
    let mut out = Vec::new();
    for stage in Stage::ALL {
        let group = on_plan(build, spots, *stage);
        if group.is_empty() {
            continue;
        }
        let of = |low: bool| {
            let on = |s: &&&Spot<'_>| matches!(s.level, Level::Lower | Level::Under) == low;
            let spots: Vec<&Spot<'_>> = group.iter().filter(on).copied().collect();
            let title = if low { "On the floor and below" } else { "Above and on the roof" };
            Plan { title, marked: marked(&spots), ..Plan::default() }
        };
        let plans = if group.len() > CLEAR {
            vec![of(true), of(false)]
        } else {
            vec![Plan { marked: marked(&group), ..Plan::default() }]
        };
        // What is worked on stands place by place in the packet's pick list and in its tasks.
        let named = |s: &&Spot<'_>| Entry { sign: Sign::Number(s.number), title: s.name.clone(), rows: Vec::new() };
        let entries: Vec<Entry> = group.iter().map(named).collect();
        let own = build.stages.get(stage.id()).and_then(|r| r.title.text());
        let title = own.unwrap_or(stage.title());
        let heading = Heading {
            subject: Subject::Stage,
            tail: stage.id().to_owned(),
            about: stage.id().to_owned(),
            title: format!("Where the work is: {title}"),
            description: format!("Plan of the van from above, front to the left. {}.", told(&entries)),
            notes: sheet::usual(van).into_iter().collect(),
        };
        out.extend(sheet::plans_with_key(van, build.prints(), &heading, &plans, &entries));
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The description stands on each sheet of a key: were it as long as the key, drawings would grow with its square.
    #[test]
    fn a_description_names_so_many_places_and_counts_the_others() {
        let entry = |n: usize| Entry {
            sign: Sign::Number(n),
            title: format!("Bay {n}"),
            rows: vec![(format!("Lamp {n}"), String::new())],
        };
        let of = |count: usize| told(&(1..=count).map(entry).collect::<Vec<_>>());
        assert!(of(TOLD).ends_with("; 60 Bay 60: Lamp 60"));
        assert!(of(TOLD + 7).ends_with("; 60 Bay 60: Lamp 60; and 7 more places, which the key lists"));
    }
}
