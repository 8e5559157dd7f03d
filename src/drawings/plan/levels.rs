//! Plans level by level with every placed component, and one per stage with the components worked on.

use super::key::Entry;
use super::register::{Level, Spot};
use super::sheet::{self, Heading, Marked, Plan};
use super::sign::Sign;
use super::van::Van;
use crate::build::{Build, Part};
use crate::drawings::{Drawing, Subject};
use crate::kinds::Stage;
use std::collections::BTreeSet;

/// With no more places than this, all levels share one plan.
const FEW: usize = 10;

/// With more places than this, what is low and what is high stand on plans of their own.
const CLEAR: usize = 16;

fn marked(spots: &[&Spot<'_>]) -> Vec<Marked> {
    let mark = |s: &&Spot<'_>| Some(Marked { sign: Sign::Number(s.number), at: s.middle()?, space: s.space });
    spots.iter().filter_map(mark).collect()
}

/// "3 × Galley drawer".
fn named(part: &Part<'_>) -> String {
    if part.count > 1 { format!("{} × {}", part.count, part.name) } else { part.name.clone() }
}

/// Number of the place a part is listed at.
fn listed_at(spots: &[Spot<'_>], part: &Part<'_>) -> Option<usize> {
    spots.iter().find(|s| s.parts.iter().any(|(p, here)| *here && p.id == part.id)).map(|s| s.number)
}

/// Numbers of the other places of a part listed here.
fn also(all: &[Spot<'_>], spot: &Spot<'_>, part: &Part<'_>) -> String {
    let others = all.iter().filter(|s| s.number != spot.number && s.parts.iter().any(|(p, _)| p.id == part.id));
    let numbers: Vec<String> = others.map(|s| s.number.to_string()).collect();
    if numbers.is_empty() { String::new() } else { format!(" (also {})", numbers.join(", ")) }
}

fn entries(all: &[Spot<'_>], spots: &[&Spot<'_>], shown: impl Fn(&Part<'_>) -> bool) -> Vec<Entry> {
    let entry = |spot: &&Spot<'_>| {
        let row = |(part, here): &(&Part<'_>, bool)| {
            if *here {
                (format!("{}{}", named(part), also(all, spot, part)), part.id.clone())
            } else {
                let number = listed_at(all, part).map_or_else(String::new, |n| format!("see {n}"));
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
        format!("{number}{}: {}", e.title, names.join(", "))
    };
    entries.iter().map(one).collect::<Vec<_>>().join("; ")
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
        let skipped = build.spec.stages.get(stage.id()).is_some_and(|r| r.flag("skip"));
        let worked: BTreeSet<&str> =
            build.tasks.values().filter(|t| t.stage == *stage).filter_map(|t| t.part.as_deref()).collect();
        let here = |s: &&Spot<'_>| s.parts.iter().any(|(p, _)| worked.contains(p.id.as_str()));
        let group: Vec<&Spot<'_>> = spots.iter().filter(here).collect();
        if skipped || group.iter().all(|s| s.level == Level::Nowhere) {
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
        let entries = entries(spots, &group, |p| worked.contains(p.id.as_str()));
        let own = build.spec.stages.get(stage.id()).and_then(|r| r.text("title"));
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
