//! Rounds: pieces of upkeep that come equally often for the same person, put on one list.

use super::jobs::{Job, job_id};
use super::{OWNER, SERVICE};
use crate::compute::time::{Cadence, CalendarInterval, Season};
use crate::documents::alike::time_words;
use crate::documents::calendar_feed::DueGroup;
use crate::render::slug;
use serde::Serialize;
use std::collections::BTreeMap;

/// A round.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Round {
    /// Id of its heading.
    pub id: String,
    /// "Every 6 months", "Every 12 months, service".
    pub title: String,
    /// "Owner" or "Service".
    pub by: &'static str,
    /// Working time of all.
    pub time: String,
    /// Working time of what is essential among it; "" where nothing or all of it is.
    pub essential: String,
    /// Where all of it is told in its order, from the calendar; "" where each has steps of its own.
    pub told: String,
    /// Too often for the list by date, or bound to no date.
    pub undated: bool,
    /// What is on its list.
    pub jobs: Vec<Job>,
}

/// Place of a round in the document: what sort of round, days between two, service last, its words.
type Rank = (u8, u32, bool, String);

/// All rounds.
pub(super) struct Rounds {
    list: Vec<Round>,
    /// From the id of a piece of upkeep to the place of its round in the list.
    of_job: BTreeMap<String, usize>,
}

impl Rounds {
    /// The rounds of `jobs`. One piece of upkeep alone is a round only where the list by date does not show it.
    pub(super) fn of<'j>(jobs: impl Iterator<Item = &'j Job>) -> Self {
        let mut found: BTreeMap<Rank, Vec<&Job>> = BTreeMap::new();
        for job in jobs {
            let Some((sort, days)) = job.cadence.as_ref().and_then(rank) else { continue };
            found.entry((sort, days, job.by == SERVICE, job.often.clone())).or_default().push(job);
        }
        let mut rounds = Self { list: Vec::new(), of_job: BTreeMap::new() };
        for ((sort, days, service, often), mut jobs) in found {
            let undated = sort == TRIP || (sort == EVERY && days < 28);
            if jobs.len() < 2 && !undated {
                continue;
            }
            let title = if service { format!("{often}, service") } else { often };
            let place = rounds.list.len();
            // What must be done stands first; a season keeps the order of its procedure where that is told.
            jobs.sort_by_key(|job| !job.essential);
            let must: u64 = jobs.iter().filter(|job| job.essential).map(|job| job.minutes).sum();
            let mixed = !service && jobs.iter().any(|job| job.essential) && !jobs.iter().all(|job| job.essential);
            let link = jobs.first().map_or("", |job| job.link.as_str());
            let told = jobs.len() > 1 && !link.starts_with('#') && jobs.iter().all(|job| job.link == link);
            rounds.of_job.extend(jobs.iter().map(|j| (j.id.clone(), place)));
            rounds.list.push(Round {
                id: format!("round-{}", slug(&title)),
                by: if service { SERVICE } else { OWNER },
                time: time_words(jobs.iter().map(|j| j.minutes).sum()),
                essential: if mixed { time_words(must) } else { String::new() },
                told: if told { link.to_owned() } else { String::new() },
                undated,
                jobs: jobs.into_iter().map(on_list).collect(),
                title,
            });
        }
        rounds
    }

    /// The round that a due belongs to.
    pub(super) fn of_group(&self, group: &DueGroup<'_>) -> Option<&Round> {
        let part = group.parts.first()?;
        let place = self.of_job.get(&job_id(part.kind, group.template?))?;
        self.list.get(*place)
    }

    /// All of them in order.
    pub(super) fn into_list(self) -> Vec<Round> {
        self.list
    }
}

/// A piece of upkeep as its round lists it: the use that may bring it earlier stands once, in its title or after it.
fn on_list(job: &Job) -> Job {
    let told = job.title.contains(&job.or_use);
    Job { or_use: if told { String::new() } else { job.or_use.clone() }, ..job.clone() }
}

const EVERY: u8 = 1;
const TRIP: u8 = 3;

/// Sort and length of what comes again; `None` for ends of life and upkeep by use alone, which have lists of their own.
fn rank(cadence: &Cadence) -> Option<(u8, u32)> {
    match cadence {
        Cadence::Once(i) => Some((0, about_days(*i))),
        Cadence::Every(i) => Some((EVERY, about_days(*i))),
        Cadence::Season(Season::BeforeTrip) => Some((TRIP, 0)),
        Cadence::Season(Season::Spring) => Some((2, 0)),
        Cadence::Season(Season::Autumn) => Some((2, 1)),
        Cadence::Season(Season::BeforeFirstFrost) => Some((2, 2)),
        Cadence::Replace(_) | Cadence::Use => None,
    }
}

/// Length of an interval to sort by.
fn about_days(interval: CalendarInterval) -> u32 {
    let days = |amount: u16, each: u32| u32::from(amount) * each;
    days(interval.years, 365) + days(interval.months, 30) + days(interval.weeks, 7) + days(interval.days, 1)
}
