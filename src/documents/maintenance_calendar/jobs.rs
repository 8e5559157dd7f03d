//! Each piece of upkeep once: its steps, its cautions, the parts it is about.

use super::{SERVICE, who};
use crate::build::Part;
use crate::compute::time::{Cadence, DueKind};
use crate::compute::upkeep;
use crate::documents::alike::{Teller, Told, date_words, time_words};
use crate::documents::calendar_feed::{group_of, use_limit};
use crate::documents::shared::season_anchor;
use crate::documents::{CautionView, stems};
use crate::kinds::{Kind, System, UpkeepTemplate};
use crate::letters::capital;
use indexmap::IndexMap;
use serde::Serialize;
use std::collections::BTreeSet;

/// Upkeep of a system.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct SystemJobs {
    /// Id of the system.
    pub id: &'static str,
    /// Its title.
    pub title: &'static str,
    /// Its upkeep, in the order of the spec.
    pub jobs: Vec<Job>,
}

/// A piece of upkeep, for all parts of a kind.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Job {
    /// Id of its heading.
    pub id: String,
    /// Where its steps are, from the calendar.
    pub link: String,
    /// What, as Markdown.
    pub title: String,
    /// "Every 6 months".
    pub often: String,
    /// "10000 km or 500 h", alone or if it comes before the date; else "".
    pub or_use: String,
    /// "Owner" or "Service".
    pub by: &'static str,
    /// Safety, warranty or law ask for it.
    pub essential: bool,
    /// "45 min", for all parts.
    pub time: String,
    /// First day due, in words; "" where it has none.
    pub next: String,
    /// Where the parts are, each place once.
    pub places: String,
    /// Parts, where they are several.
    pub parts: Vec<Whereabouts>,
    /// Safety messages before the steps.
    pub cautions: Vec<CautionView>,
    /// The steps point to the table of parts.
    pub pointed: bool,
    /// Steps; several lists where parts differ.
    pub steps: Vec<Steps>,
    /// Id and title of an earlier piece of upkeep whose steps these are; its own are then left out.
    pub like: Option<[String; 2]>,
    /// Working time of all parts, in minutes.
    #[serde(skip)]
    pub minutes: u64,
    /// How often; `None` where the kind's file is at fault.
    #[serde(skip)]
    pub cadence: Option<Cadence>,
    /// A single check after the handover.
    #[serde(skip)]
    pub once: bool,
}

/// A part and where it is.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Whereabouts {
    /// Name.
    pub name: String,
    /// Place.
    pub place: String,
    /// Panel that feeds it.
    pub panel: String,
    /// Way in the panel.
    pub way: String,
    /// Fuse.
    pub fuse: String,
}

/// Steps and the parts they are for.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub(crate) struct Steps {
    /// Names of the parts; "" for all of them.
    pub who: String,
    /// Steps, one action each, as Markdown.
    pub steps: Vec<String>,
}

impl From<Told> for Steps {
    fn from(told: Told) -> Self {
        Self { who: told.who.clone(), steps: told.kept() }
    }
}

/// Id of the heading with the steps of a piece of upkeep.
pub(super) fn job_id(kind: &Kind, template: &UpkeepTemplate) -> String {
    match template.own {
        Some(_) => format!("own-{}", template.id),
        None => format!("do-{}-{}", kind.group, template.id),
    }
}

/// Where the steps of a piece of upkeep are: a workshop's in the service file, those of a season in the manual, where they
/// stand in the order of the season, all others here.
pub(super) fn link(kind: &Kind, template: &UpkeepTemplate) -> String {
    let id = job_id(kind, template);
    match &template.season {
        _ if who(&template.by) == SERVICE => format!("{}#{id}", stems::SERVICE_FILE),
        Some(season) => format!("{}#{}", stems::MANUAL, season_anchor(season)),
        None => format!("#{id}"),
    }
}

/// All upkeep, each once, by system.
pub(super) fn by_system(teller: &Teller<'_>) -> Vec<SystemJobs> {
    let build = teller.context().build;
    let mut found: IndexMap<(&str, &str), (&UpkeepTemplate, String, Vec<&Part<'_>>)> = IndexMap::new();
    for upkeep in build.upkeep.values() {
        let Some(part) = build.bearer(&upkeep.part) else { continue };
        let template = &*upkeep.template;
        let key = (group_of(part, Some(template)), template.id.as_str());
        let title = || (template, upkeep::title(build, upkeep), Vec::new());
        found.entry(key).or_insert_with(title).2.push(part);
    }
    let jobs_of = |system: System| {
        let here = found.values().filter(move |(_, _, parts)| parts.iter().any(|p| p.kind.system == system));
        here.map(|(template, title, parts)| job(teller, template, title, parts)).collect::<Vec<_>>()
    };
    let systems = System::ALL.iter().map(|s| SystemJobs { id: s.id(), title: s.title(), jobs: jobs_of(*s) });
    systems.filter(|s| !s.jobs.is_empty()).collect()
}

fn job(teller: &Teller<'_>, template: &UpkeepTemplate, title: &str, parts: &[&Part<'_>]) -> Job {
    let cadence = upkeep::cadence(template).ok();
    let steps: Vec<&str> = template.steps.iter().map(String::as_str).collect();
    let told = teller.tell(parts, &steps);
    let minutes = u64::from(template.minutes) * parts.len() as u64;
    Job {
        id: job_id(parts[0].kind, template),
        link: link(parts[0].kind, template),
        title: teller.joined(parts, title),
        often: cadence.as_ref().map_or_else(String::new, often),
        or_use: use_limit(teller.context().build, template),
        by: who(&template.by),
        essential: template.essential,
        time: time_words(minutes),
        minutes,
        next: next(teller, template, parts),
        places: teller.places_of(parts, template),
        parts: if parts.len() > 1 { parts.iter().map(|p| whereabouts(teller, p)).collect() } else { Vec::new() },
        cautions: teller.cautions(parts, &template.cautions),
        pointed: told.iter().any(|t| t.pointed),
        steps: told.into_iter().map(Steps::from).collect(),
        like: None,
        once: matches!(cadence, Some(Cadence::Once(_))),
        cadence,
    }
}

/// How often, for people.
fn often(cadence: &Cadence) -> String {
    match cadence {
        Cadence::Use => String::new(),
        other => capital(&other.to_string()),
    }
}

fn next(teller: &Teller<'_>, template: &UpkeepTemplate, parts: &[&Part<'_>]) -> String {
    let dated = teller.context().due_dates.map_or(&[][..], |p| p.dated.as_slice());
    let ids: BTreeSet<&str> = parts.iter().map(|p| p.id.as_str()).collect();
    let own = |d: &&crate::compute::time::Due| {
        d.kind != DueKind::WarrantyEnds && d.upkeep == template.id && ids.contains(d.component.as_str())
    };
    dated.iter().find(own).map_or_else(String::new, |d| date_words(d.date))
}

fn whereabouts(teller: &Teller<'_>, part: &Part<'_>) -> Whereabouts {
    let fact = |name: &str| teller.fact(&part.id, name).to_owned();
    Whereabouts {
        name: part.name.clone(),
        place: teller.place(part),
        panel: fact("panel"),
        way: fact("way"),
        fuse: fact("fuse"),
    }
}
