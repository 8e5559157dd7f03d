//! The maintenance calendar: what is due when, by date, by use, by system, and how each piece of upkeep is done.
//!
//! Work that comes round equally often for the same person is one round: a line in the list by date, and one list to
//! tick off. All of it counts from the handover, so that a round always falls on one day.

mod glance;
mod jobs;
mod rounds;

use super::alike::{Teller, date_words, time_words};
use super::calendar_feed::{DueGroup, groups};
use super::{BuildView, Context};
use crate::build::{Build, Part, Upkeep};
use crate::compute::time::{CalendarInterval, DueDates, DueKind};
use crate::compute::upkeep;
use crate::kinds::System;
use glance::Glance;
use indexmap::IndexMap;
use jiff::civil::Date;
use jobs::Job;
pub(crate) use jobs::SystemJobs;
pub(crate) use rounds::Round;
use rounds::Rounds;
use serde::Serialize;
use std::collections::BTreeMap;

/// Who does it: the owner, or a workshop.
const OWNER: &str = "Owner";
const SERVICE: &str = "Service";

/// Years that the list by date covers; the calendar of the phone goes further.
const LISTED_YEARS: u16 = 2;

/// What the template prints.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct View {
    /// Head.
    pub build: BuildView,
    /// Handover day in words; "" where there is none, and then there are no dates.
    pub handover: String,
    /// Last day of the list by date, in words.
    pub last: String,
    /// Last day of repeated upkeep in the calendar of the phone, in words.
    pub feed_last: String,
    /// Gas is aboard.
    pub gas: bool,
    /// Twelve months from the handover.
    pub glance: Option<Glance>,
    /// By date, the first years.
    pub years: Vec<Year>,
    /// Rounds: short ones first, then by length, seasons, trips.
    pub rounds: Vec<Round>,
    /// By distance or running hours, alone or besides a date; single first checks are left out.
    pub by_use: Vec<Job>,
    /// Lives that end.
    pub replace: Vec<End>,
    /// Warranties that end.
    pub warranties: Vec<End>,
    /// Some work is that of a workshop.
    pub serviced: bool,
    /// What the owner does, by system, with its steps; the seasons stand in the manual.
    pub systems: Vec<SystemJobs>,
}

/// A year.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Year {
    /// "2027".
    pub title: String,
    /// One row for each round or piece of upkeep and day.
    pub rows: Vec<DueRow>,
}

/// Something due.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct DueRow {
    /// "14 June".
    pub day: String,
    /// What, as Markdown.
    pub title: String,
    /// Where its list or steps are; "" where there are none.
    pub link: String,
    /// "Owner" or "Service"; "" for an end of warranty.
    pub by: &'static str,
    /// "45 min".
    pub time: String,
    /// "10000 km or 500 h", if use may bring it earlier.
    pub or_use: String,
}

/// The end of a life or a warranty.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct End {
    /// "14 May 2034", or why there is none.
    pub date: String,
    /// What, as Markdown.
    pub title: String,
    /// Names of the parts.
    pub parts: String,
    /// Where.
    pub places: String,
    /// Where its steps are; "" where there are none.
    pub job: String,
}

/// The view.
#[must_use]
pub(crate) fn view(context: &Context<'_>) -> View {
    let teller = Teller::new(context);
    let build = context.build;
    let handover = build.about.handover.get();
    let systems = jobs::by_system(&teller);
    let all = || systems.iter().flat_map(|s| &s.jobs);
    let dues = context.due_dates.map_or(&[][..], |p| p.dated.as_slice());
    let groups = groups(&teller, dues);
    let ends = |kind: DueKind| groups.iter().filter(|g| g.kind() == kind).map(|g| end(&teller, g)).collect::<Vec<_>>();
    let rounds = Rounds::of(all());
    let last = handover.and_then(|h| CalendarInterval::of_years(LISTED_YEARS).nth(h, 1));
    View {
        build: BuildView::of(build),
        handover: handover.map_or_else(String::new, date_words),
        last: last.map_or_else(String::new, date_words),
        feed_last: context.due_dates.and_then(last_repeated).unwrap_or_default(),
        gas: build.parts.values().any(|p| p.kind.system == System::Lpg),
        glance: handover.and_then(|h| glance::glance(&groups, h)),
        years: last.map_or_else(Vec::new, |last| years(build, &rounds, &groups, last)),
        rounds: rounds.into_list(),
        by_use: all().filter(|j| !j.or_use.is_empty() && !j.once).cloned().collect(),
        replace: ends(DueKind::Replace).into_iter().chain(of_unknown_age(&teller)).collect(),
        warranties: ends(DueKind::WarrantyEnds),
        serviced: all().any(|j| j.by == SERVICE),
        systems: of(systems, |j| j.link.starts_with('#')),
    }
}

/// What a workshop does, by system, with its steps.
#[must_use]
pub(crate) fn serviced(context: &Context<'_>) -> Vec<SystemJobs> {
    of(jobs::by_system(&Teller::new(context)), |j| j.by == SERVICE)
}

/// The jobs that are `asked` for.
fn of(mut systems: Vec<SystemJobs>, asked: impl Fn(&Job) -> bool) -> Vec<SystemJobs> {
    for system in &mut systems {
        system.jobs.retain(&asked);
    }
    systems.retain(|s| !s.jobs.is_empty());
    // Steps that are those of an earlier piece stand there.
    let mut told = BTreeMap::new();
    for job in systems.iter_mut().flat_map(|s| &mut s.jobs).filter(|j| j.steps.iter().any(|s| s.steps.len() > 1)) {
        let first = told.entry(job.steps.clone()).or_insert_with(|| [job.id.clone(), job.title.clone()]);
        if first[0] != job.id {
            job.like = Some(first.clone());
            job.steps.clear();
        }
    }
    systems
}

/// The rounds of a build, for other documents.
#[must_use]
pub(crate) fn rounds(teller: &Teller<'_>) -> Vec<Round> {
    let systems = jobs::by_system(teller);
    Rounds::of(systems.iter().flat_map(|s| &s.jobs)).into_list()
}

/// Day of the last repeated upkeep.
fn last_repeated(plan: &DueDates) -> Option<String> {
    let repeated = plan.dated.iter().filter(|d| matches!(d.kind, DueKind::Routine | DueKind::Seasonal));
    repeated.map(|d| d.date).max().map(date_words)
}

/// Dues up to `last` by year. What belongs to a round is one row on its day.
fn years(build: &Build<'_>, rounds: &Rounds, groups: &[DueGroup<'_>], last: Date) -> Vec<Year> {
    let mut years: Vec<Year> = Vec::new();
    let mut seen: Vec<(Date, &str)> = Vec::new();
    for group in groups.iter().filter(|g| !g.is_frequent() && g.date <= last) {
        let date = group.date;
        let row = match rounds.of_group(group) {
            Some(round) if seen.contains(&(date, round.id.as_str())) => continue,
            Some(round) => {
                seen.push((date, round.id.as_str()));
                round_row(round, date)
            }
            None => row(build, group),
        };
        let title = date.year().to_string();
        match years.last_mut() {
            Some(year) if year.title == title => year.rows.push(row),
            _ => years.push(Year { title, rows: vec![row] }),
        }
    }
    years
}

fn round_row(round: &Round, date: Date) -> DueRow {
    DueRow {
        day: date.strftime("%-d %B").to_string(),
        title: format!("{}: {} tasks", round.title, round.jobs.len()),
        link: format!("#{}", round.id),
        by: round.by,
        time: round.time.clone(),
        or_use: String::new(),
    }
}

fn row(build: &Build<'_>, group: &DueGroup<'_>) -> DueRow {
    let first = group.dues.first();
    DueRow {
        day: group.date.strftime("%-d %B").to_string(),
        title: group.title.clone(),
        link: group.template.map_or_else(String::new, |t| jobs::link(group.parts[0].kind, t)),
        by: if group.template.is_none() { "" } else { who(first.map_or("", |d| d.by.as_str())) },
        time: if group.minutes() == 0 { String::new() } else { time_words(group.minutes()) },
        or_use: group.or_use(build),
    }
}

fn end(teller: &Teller<'_>, group: &DueGroup<'_>) -> End {
    End {
        date: date_words(group.date),
        title: group.title.clone(),
        parts: super::alike::names(&group.parts),
        places: teller.places(&group.parts),
        job: group.template.map_or_else(String::new, |t| jobs::link(group.parts[0].kind, t)),
    }
}

/// Ends of lives that no date is known of, those of one kind together.
fn of_unknown_age(teller: &Teller<'_>) -> Vec<End> {
    let context = teller.context();
    let mut alike: IndexMap<String, (&Upkeep<'_>, Vec<&Part<'_>>)> = IndexMap::new();
    for item in context.due_dates.iter().flat_map(|plan| &plan.age_unknown) {
        let Some(upkeep) = context.build.upkeep.get(&format!("{}.{}", item.component, item.upkeep)) else { continue };
        let Some(part) = context.build.parts.get(&item.component) else { continue };
        alike.entry(jobs::link(part.kind, &upkeep.template)).or_insert_with(|| (upkeep, Vec::new())).1.push(part);
    }
    let end = |(job, (upkeep, parts)): (String, (&Upkeep<'_>, Vec<&Part<'_>>))| End {
        date: "its age is not known: read the date on it".to_owned(),
        title: teller.joined(&parts, &upkeep::title(context.build, upkeep)),
        parts: super::alike::names(&parts),
        places: teller.places(&parts),
        job,
    };
    alike.into_iter().map(end).collect()
}

/// Who does it.
fn who(by: &str) -> &'static str {
    if by == "service" { SERVICE } else { OWNER }
}
