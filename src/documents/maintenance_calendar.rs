//! The maintenance calendar: what is due when, by date, by system, by use, and how each piece of upkeep is done.

mod glance;
mod jobs;

pub use super::calendar_feed::calendar;

use super::alike::{Teller, date_words, time_words};
use super::calendar_feed::{DueGroup, groups, is_monthly};
use super::{BuildView, Context};
use crate::build::Build;
use crate::compute::time::{DueKind, Plan};
use glance::Glance;
use jiff::civil::Date;
use jobs::{Job, Round, SystemJobs};
use serde::Serialize;

/// What the template prints.
#[derive(Clone, Debug, Serialize)]
pub struct View {
    /// Head.
    pub build: BuildView,
    /// Handover day in words; "" where there is none, and then there are no dates.
    pub handover: String,
    /// Last day listed for repeated upkeep.
    pub last: String,
    /// Twelve months from the handover.
    pub glance: Option<Glance>,
    /// Short rounds, oftener than every four weeks.
    pub rounds: Vec<Job>,
    /// The monthly round of the owner.
    pub monthly: Vec<Job>,
    /// Its working time.
    pub monthly_time: String,
    /// By date.
    pub years: Vec<Year>,
    /// Before every long trip.
    pub before_trip: Vec<Job>,
    /// By distance or running hours, alone or besides a date.
    pub by_use: Vec<Job>,
    /// Lives that end.
    pub replace: Vec<End>,
    /// Warranties that end.
    pub warranties: Vec<End>,
    /// All upkeep by system.
    pub systems: Vec<SystemJobs>,
}

/// A year.
#[derive(Clone, Debug, Serialize)]
pub struct Year {
    /// "2027".
    pub title: String,
    /// Months with something due.
    pub months: Vec<Month>,
}

/// A month.
#[derive(Clone, Debug, Serialize)]
pub struct Month {
    /// "June 2027".
    pub title: String,
    /// "month-2027-06".
    pub id: String,
    /// One row for each piece of upkeep and day.
    pub rows: Vec<DueRow>,
}

/// Something due.
#[derive(Clone, Debug, Serialize)]
pub struct DueRow {
    /// "14 June"; "" where the row above has the same day.
    pub day: String,
    /// What, as Markdown.
    pub title: String,
    /// Id of its steps; "" where there are none.
    pub job: String,
    /// "Owner" or "Service"; "" for an end of warranty.
    pub by: &'static str,
    /// "45 min".
    pub time: String,
    /// "10000 km or 500 h", if use may bring it earlier.
    pub or_use: String,
}

/// The end of a life or a warranty.
#[derive(Clone, Debug, Serialize)]
pub struct End {
    /// "14 May 2034".
    pub date: String,
    /// What, as Markdown.
    pub title: String,
    /// Names of the parts.
    pub parts: String,
    /// Where.
    pub places: String,
    /// Id of its steps; "" where there are none.
    pub job: String,
}

/// The view.
#[must_use]
pub fn view(context: &Context<'_>) -> View {
    let teller = Teller::new(context);
    let build = context.build;
    let systems = jobs::by_system(&teller);
    let all = || systems.iter().flat_map(|s| &s.jobs);
    let dues = context.plan.map_or(&[][..], |p| p.dated.as_slice());
    let groups = groups(&teller, dues);
    let ends = |kind: DueKind| groups.iter().filter(|g| g.kind() == kind).map(|g| end(&teller, g)).collect();
    let of = |round: Round| all().filter(|j| j.round == round).cloned().collect::<Vec<Job>>();
    let monthly = of(Round::Monthly);
    View {
        build: BuildView::of(build),
        handover: build.spec.build.date("handover").map_or_else(String::new, date_words),
        last: context.plan.and_then(last_repeated).unwrap_or_default(),
        glance: build.spec.build.date("handover").and_then(|h| glance::glance(&groups, h)),
        rounds: of(Round::Short),
        monthly_time: time_words(monthly.iter().map(|j| j.minutes).sum()),
        monthly,
        years: years(build, &groups),
        before_trip: of(Round::Trip),
        by_use: all().filter(|j| !j.or_use.is_empty()).cloned().collect(),
        replace: ends(DueKind::Replace),
        warranties: ends(DueKind::WarrantyEnds),
        systems,
    }
}

/// Day of the last repeated upkeep.
fn last_repeated(plan: &Plan) -> Option<String> {
    let repeated = plan.dated.iter().filter(|d| matches!(d.kind, DueKind::Routine | DueKind::Seasonal));
    repeated.map(|d| d.date).max().map(date_words)
}

/// Dues by year and month. The monthly round is one row a month, on its first day.
fn years(build: &Build<'_>, groups: &[DueGroup<'_>]) -> Vec<Year> {
    let mut years: Vec<Year> = Vec::new();
    let mut day = None;
    let mut round = None;
    for group in groups.iter().filter(|g| !g.is_frequent()) {
        let monthly = group.template.is_some_and(is_monthly);
        if monthly && round == Some(group.date) {
            continue;
        }
        let date = group.date;
        let title = date.year().to_string();
        if years.last().is_none_or(|y| y.title != title) {
            years.push(Year { title, months: Vec::new() });
        }
        let Some(year) = years.last_mut() else { continue };
        let id = date.strftime("month-%Y-%m").to_string();
        if year.months.last().is_none_or(|m| m.id != id) {
            year.months.push(Month { title: date.strftime("%B %Y").to_string(), id, rows: Vec::new() });
        }
        let Some(month) = year.months.last_mut() else { continue };
        let text = if day == Some(date) { String::new() } else { date.strftime("%-d %B").to_string() };
        day = Some(date);
        if monthly {
            round = Some(date);
            month.rows.push(round_row(groups, date, text));
        } else {
            month.rows.push(row(build, group, text));
        }
    }
    years
}

/// The monthly round of a day.
fn round_row(groups: &[DueGroup<'_>], date: Date, day: String) -> DueRow {
    let here = groups.iter().filter(|g| g.date == date && g.template.is_some_and(is_monthly));
    let (count, minutes) = here.fold((0_usize, 0), |(n, m), g| (n + 1, m + g.minutes()));
    DueRow {
        day,
        title: format!("Monthly round, {count} {}", if count == 1 { "task" } else { "tasks" }),
        job: "monthly".to_owned(),
        by: "Owner",
        time: time_words(minutes),
        or_use: String::new(),
    }
}

fn row(build: &Build<'_>, group: &DueGroup<'_>, day: String) -> DueRow {
    let first = group.dues.first();
    DueRow {
        day,
        title: group.title.clone(),
        job: group.template.map_or_else(String::new, |t| jobs::job_id(group.parts[0].kind, t)),
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
        job: group.template.map_or_else(String::new, |t| jobs::job_id(group.parts[0].kind, t)),
    }
}

/// Who does it.
fn who(by: &str) -> &'static str {
    if by == "service" { "Service" } else { "Owner" }
}
