//! Through the year and on the road: work of the seasons, storage, driving off, care.

use super::data::{StoringText, says};
use super::systems::Group;
use super::whole::Whole;
use super::{Line, lines};
use crate::build::Part;
use crate::compute::time::{DueKind, Season};
use crate::compute::upkeep;
use crate::documents::CautionView;
use crate::documents::alike::{Teller, Told, date_words, plain, time_words};
use crate::kinds::UpkeepTemplate;
use serde::Serialize;

/// A season.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct SeasonView {
    /// Id of its heading.
    pub id: String,
    /// Title.
    pub title: &'static str,
    /// First day it is due, in words; "" where the plan has none.
    pub date: String,
    /// What to do.
    pub work: Vec<Work>,
}

/// A piece of work with its steps.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Work {
    /// What, as Markdown.
    pub title: String,
    /// Where the parts are.
    pub places: String,
    /// "15 min".
    pub time: String,
    /// "Owner" or "Service".
    pub by: &'static str,
    /// Safety messages before the steps.
    pub cautions: Vec<CautionView>,
    /// Steps; several lists where parts differ.
    pub lists: Vec<StepList>,
}

/// Steps and the parts they are for.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct StepList {
    /// Names of the parts; "" for all of them.
    pub who: String,
    /// Steps as Markdown.
    pub steps: Vec<String>,
}

/// Upkeep of a group that its parts have: the template, its title and those parts.
fn upkeep<'a>(teller: &Teller<'a>, group: &Group<'a>) -> Vec<(&'a UpkeepTemplate, String, Vec<&'a Part<'a>>)> {
    let build = teller.context().build;
    let mut found = Vec::new();
    for template in &group.kind().upkeep {
        let item = |p: &Part<'_>| build.upkeep_of(&p.id, &template.id);
        let parts: Vec<_> = group.parts.iter().copied().filter(|p| item(p).is_some()).collect();
        if let Some(first) = parts.first().and_then(|p| item(p)) {
            found.push((template, upkeep::title(build, first), parts));
        }
    }
    found
}

/// Order of the work before the first frost where a kind says none: after what is drained, before antifreeze.
const ANY_TIME: u32 = 500;

pub(super) fn seasons(teller: &Teller<'_>, groups: &[Group<'_>]) -> Vec<SeasonView> {
    let mut in_order: Vec<&Group<'_>> = groups.iter().collect();
    in_order.sort_by_key(|g| g.kind().owner.frost.unwrap_or(ANY_TIME));
    let all: Vec<&Group<'_>> = groups.iter().collect();
    let seasons =
        [(Season::BeforeFirstFrost, "Before the first frost"), (Season::Spring, "Spring"), (Season::Autumn, "Autumn")];
    let view = |(season, title): (Season, &'static str)| SeasonView {
        id: format!("season-{}", season.word()),
        title,
        date: first_day(teller, season),
        work: work(teller, if season == Season::BeforeFirstFrost { &in_order } else { &all }, season),
    };
    seasons.into_iter().map(view).filter(|s| !s.work.is_empty()).collect()
}

pub(super) fn before_trip(teller: &Teller<'_>, groups: &[Group<'_>]) -> Vec<Work> {
    work(teller, &groups.iter().collect::<Vec<_>>(), Season::BeforeTrip)
}

/// First day in the plan on which work of a season falls due.
fn first_day(teller: &Teller<'_>, season: Season) -> String {
    let context = teller.context();
    let of_season = |d: &&crate::compute::time::Due| {
        let item = context.build.upkeep_of(&d.component, &d.upkeep);
        d.kind == DueKind::Seasonal && item.is_some_and(|u| u.template.season.as_deref() == Some(season.word()))
    };
    let first = context.due_dates.and_then(|p| p.dated.iter().find(of_season));
    first.map_or_else(String::new, |d| date_words(d.date))
}

fn work(teller: &Teller<'_>, groups: &[&Group<'_>], season: Season) -> Vec<Work> {
    let due = |template: &UpkeepTemplate| template.season.as_deref() == Some(season.word());
    let of_kinds = groups.iter().flat_map(|group| upkeep(teller, group));
    let of_kinds = of_kinds.filter(|(template, ..)| due(template));
    let of_kinds = of_kinds.map(|(template, title, parts)| one(teller, template, &title, &parts));
    // What the spec itself brings, of parts and of the van as a whole.
    let build = teller.context().build;
    let own = build.own_upkeep().filter(|upkeep| due(&upkeep.template));
    let own = own.filter_map(|upkeep| {
        let part = build.bearer(&upkeep.part)?;
        Some(one(teller, &upkeep.template, &upkeep.template.title, &[part]))
    });
    of_kinds.chain(own).collect()
}

/// A piece of upkeep for the parts that have it.
fn one(teller: &Teller<'_>, template: &UpkeepTemplate, title: &str, parts: &[&Part<'_>]) -> Work {
    let steps: Vec<&str> = template.steps.iter().map(String::as_str).collect();
    Work {
        title: teller.joined(parts, title),
        places: teller.places_of(parts, template),
        time: time_words(u64::from(template.minutes) * parts.len() as u64),
        by: who(template),
        cautions: teller.cautions(parts, &template.cautions),
        lists: teller.tell_listed(parts, &steps).into_iter().map(list).collect(),
    }
}

fn list(told: Told) -> StepList {
    StepList { who: told.who.clone(), steps: told.kept() }
}

fn who(template: &UpkeepTemplate) -> &'static str {
    if template.by == "service" { "Service" } else { "Owner" }
}

/// Sentences of the owner's texts that hold one of `phrases`, with the part they are about.
pub(super) fn sentences(teller: &Teller<'_>, groups: &[Group<'_>], phrases: &[String]) -> Vec<Line> {
    let mut all: Vec<Line> = Vec::new();
    for group in groups {
        let owner = &group.kind().owner;
        for text in owner.usage.iter().chain(&owner.limits) {
            for line in lines(teller.tell_listed(&group.parts, &[text])) {
                let who = if line.who.is_empty() { group.title() } else { line.who };
                let kept: Vec<&str> = split(&line.text).filter(|s| says(&plain(s), phrases)).collect();
                let line = Line { who, text: kept.join(" ") };
                if !line.text.is_empty() && !all.contains(&line) {
                    all.push(line);
                }
            }
        }
    }
    all
}

/// The steps that switch the van off for storage; `back`, those that switch it on again, in the reverse order.
pub(super) fn storing(teller: &Teller<'_>, whole: &Whole<'_, '_>, texts: &[StoringText], back: bool) -> Vec<String> {
    let way = |step: &str, undone: &str| if back { undone.to_owned() } else { step.to_owned() };
    let of_van = texts.iter().filter(|t| whole.has(&t.needs)).map(|t| (t.place, way(&t.step, &t.back)));
    let parts = teller.context().build.parts.values();
    let of_kinds = parts.filter_map(|part| {
        let text = part.kind.owner.storing.as_ref()?;
        Some((text.place, teller.one(&part.id, &way(&text.step, &text.back))))
    });
    let mut steps: Vec<(u32, String)> = of_kinds.chain(of_van).collect();
    steps.sort_by_key(|(place, _)| *place);
    let mut all: Vec<String> = Vec::new();
    for (_, step) in steps.into_iter().filter(|(_, step)| !step.is_empty()) {
        if !all.contains(&step) {
            all.push(step);
        }
    }
    if back {
        all.reverse();
    }
    all
}

/// Sentences of a line: each ends at a full stop that a space and a capital follow.
fn split(text: &str) -> impl Iterator<Item = &str> {
    let ends = text.match_indices(". ").map(|(i, _)| i + 1);
    let ends = ends.filter(|&i| text[i..].trim_start().starts_with(char::is_uppercase));
    let mut start = 0;
    let cuts: Vec<usize> = ends.chain([text.len()]).collect();
    cuts.into_iter().map(move |end| {
        let sentence = text[start..end].trim();
        start = end;
        sentence
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sentences_end_where_people_end_them() {
        let parts: Vec<_> = split("Unplug devices before you drive. Shut the lid at 2.5 m. it stays. Go").collect();
        assert_eq!(parts, ["Unplug devices before you drive.", "Shut the lid at 2.5 m. it stays.", "Go"]);
        assert_eq!(split("").collect::<Vec<_>>(), [""]);
    }
}
