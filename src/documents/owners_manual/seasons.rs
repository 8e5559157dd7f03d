//! Through the year and on the road: work of the seasons, storage, driving off, care.

use super::data::says;
use super::systems::Group;
use super::{Line, lines};
use crate::build::{Part, share_of_parts};
use crate::compute::time::{DueKind, Season};
use crate::compute::upkeep;
use crate::documents::CautionView;
use crate::documents::alike::{Teller, Told, date_words, plain, time_words};
use crate::documents::shared::season_anchor;
use crate::kinds::{Caution, InOrder, Share, UpkeepTemplate};
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
    /// "15 min"; "" where nobody says.
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

pub(super) fn seasons(teller: &Teller<'_>, groups: &[Group<'_>]) -> Vec<SeasonView> {
    let seasons =
        [(Season::BeforeFirstFrost, "Before the first frost"), (Season::Spring, "Spring"), (Season::Autumn, "Autumn")];
    let view = |(season, title): (Season, &'static str)| SeasonView {
        id: season_anchor(season.word()),
        title,
        date: first_day(teller, season),
        work: work(teller, groups, season),
    };
    seasons.into_iter().map(view).filter(|s| !s.work.is_empty()).collect()
}

pub(super) fn before_trip(teller: &Teller<'_>, groups: &[Group<'_>]) -> Vec<Work> {
    work(teller, groups, Season::BeforeTrip)
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

/// Work of a season: the shares of its procedure in the order of the states, then what is in none, then what the spec
/// itself brings.
fn work(teller: &Teller<'_>, groups: &[Group<'_>], season: Season) -> Vec<Work> {
    let context = teller.context();
    let (build, texts) = (context.build, context.texts);
    let due = |template: &UpkeepTemplate| template.season.as_deref() == Some(season.word());
    let procedure = texts.procedures.of_season(season.word());
    let (mut shares, mut steps, mut others) = (Vec::new(), Vec::new(), Vec::new());
    for group in groups {
        let share = procedure.and_then(|of| group.kind().share(of));
        for (template, title, parts) in upkeep(teller, group).into_iter().filter(|(template, ..)| due(template)) {
            let work = one(teller, template, &title, &parts);
            match share.filter(|share| template.procedure.as_ref() == Some(&share.of)) {
                Some(share) => {
                    steps.push(share_of_parts(build, &texts.states, share, &parts));
                    shares.push(work);
                }
                None => others.push(work),
            }
        }
        // A share that no upkeep takes is done as well, whenever that is and however long it takes.
        let taken = |share: &Share| group.kind().upkeep.iter().any(|t| t.procedure.as_ref() == Some(&share.of));
        if let Some(share) = share.filter(|share| !taken(share)) {
            let parts: Vec<_> = group.parts.iter().copied().filter(|part| share.stands(part.record)).collect();
            if !parts.is_empty() {
                steps.push(share_of_parts(build, &texts.states, share, &parts));
                shares.push(alone(teller, share, &parts));
            }
        }
    }
    let mut shares: Vec<Option<Work>> = shares.into_iter().map(Some).collect();
    let in_order = InOrder::of(&steps).order;
    let shares = in_order.into_iter().filter_map(|place| shares.get_mut(place)?.take());
    let own = build.own_upkeep().filter(|upkeep| due(&upkeep.template));
    let own = own.filter_map(|upkeep| {
        let part = build.bearer(&upkeep.part)?;
        Some(one(teller, &upkeep.template, &upkeep.template.title, &[part]))
    });
    shares.chain(others).chain(own).collect()
}

/// A share in a procedure of parts that have no upkeep for it.
fn alone(teller: &Teller<'_>, share: &Share, parts: &[&Part<'_>]) -> Work {
    piece(teller, parts, ("{{ name }}", teller.places(parts)), (&share.cautions, &share.steps))
}

/// A piece of upkeep for the parts that have it.
fn one(teller: &Teller<'_>, template: &UpkeepTemplate, title: &str, parts: &[&Part<'_>]) -> Work {
    let places = teller.places_of(parts, template);
    Work {
        time: time_words(u64::from(template.minutes) * parts.len() as u64),
        by: who(template),
        ..piece(teller, parts, (title, places), (&template.cautions, &template.steps))
    }
}

/// What the owner does to parts, whatever time it takes.
fn piece(
    teller: &Teller<'_>,
    parts: &[&Part<'_>],
    (title, places): (&str, String),
    (cautions, steps): (&[Caution], &[String]),
) -> Work {
    let steps: Vec<&str> = steps.iter().map(String::as_str).collect();
    Work {
        title: teller.joined(parts, title),
        places,
        time: String::new(),
        by: "Owner",
        cautions: teller.cautions(parts, cautions),
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
