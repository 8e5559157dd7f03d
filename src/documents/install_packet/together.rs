//! The same task of several parts of one kind: its texts once, its tick boxes in a table with a row for each part.

use super::task::{
    GroupView, MatrixRow, PartRow, ReadingView, SharedReading, TaskView, fill, first_of, part_of, pieces, readings,
};
use crate::build::{Part, Scope, Task};
use crate::documents::Context;
use crate::documents::facts::Facts;
use crate::documents::shared::{self, signed, working_time};
use crate::kinds::{Reading, TaskTemplate, Torque};
use std::collections::BTreeMap;

/// A task with more steps keeps its own list: the columns would not fit the page.
const MOST_STEPS: usize = 10;

/// Several readings of more parts stand in a list: the columns would not fit the page.
const MOST_COLUMNS: usize = 4;

/// Facts that a row of the table shows for each part, and the words that point there.
const POINTERS: &[(&str, &str)] = &[("way", "N"), ("panel", "its panel"), ("fed_from", "its panel"), ("place", "")];

/// A task and whether it is on the critical path.
pub(super) type Ordered<'c> = (&'c Task<'c>, bool);

/// Tasks that read the same, put together at the place of the first. A task moves up only where nothing it waits for
/// stands after that place.
pub(super) fn groups<'c>(context: &'c Context<'_>, ordered: &[Ordered<'c>]) -> Vec<Vec<Ordered<'c>>> {
    let mut groups: Vec<Vec<Ordered<'c>>> = Vec::new();
    let mut placed: BTreeMap<&str, usize> = BTreeMap::new();
    let mut latest_of: BTreeMap<&str, Option<usize>> = BTreeMap::new();
    let mut known: BTreeMap<Vec<String>, usize> = BTreeMap::new();
    for &(task, critical) in ordered {
        let texts = told(context, task);
        let single = task.after.single.iter().filter_map(|a| placed.get(a.as_str()).copied());
        // In the order of work all of them are placed before the first task that waits for them.
        let every = task.after.every.iter().filter_map(|every| {
            let of_all = || every.ids.iter().filter_map(|a| placed.get(a.as_str()).copied()).max();
            *latest_of.entry(&every.name).or_insert_with(of_all)
        });
        let latest = single.chain(every).max();
        let found = texts.as_ref().and_then(|t| known.get(t)).copied();
        let at = found.filter(|at| latest.is_none_or(|l| l < *at)).unwrap_or_else(|| {
            groups.push(Vec::new());
            groups.len() - 1
        });
        if let Some(texts) = texts {
            known.insert(texts, at);
        }
        groups[at].push((task, critical));
        placed.insert(&task.id, at);
    }
    groups
}

/// What the task says without the facts that the table shows; `None` for a task that stands alone.
fn told(context: &Context<'_>, task: &Task<'_>) -> Option<Vec<String>> {
    let (template, part) = (task.template?, part_of(context, task)?);
    if template.steps.is_empty() || template.steps.len() > MOST_STEPS || part.confidential {
        return None;
    }
    let facts = pointing(context, part, POINTERS);
    // How a part comes out is the same whatever its kind.
    let kind = if part.scope == Scope::Removed { String::new() } else { part.kind.id.clone() };
    let mut texts = vec![kind, template.id.clone(), task.minutes.to_string(), task.people.to_string()];
    let torque = |t: &Torque| [t.what.clone(), t.value.clone(), t.source.clone()];
    let caution = |c: &crate::kinds::Caution| [c.hazard.clone(), c.consequence.clone(), c.avoid.clone()];
    let all = [template.title.clone()]
        .into_iter()
        .chain(template.cautions.iter().flat_map(caution))
        .chain(first_of(context.build, template, &[part]).map(str::to_owned))
        .chain(template.steps.iter().cloned())
        .chain(template.torque.iter().flat_map(torque))
        .chain(template.hold.clone())
        .chain(context.build.readings_of(part, template).map(|r| r.what.clone()));
    texts.extend(all.map(|text| context.text(&facts, &text)));
    texts.extend(context.build.readings_of(part, template).map(|r| tolerance(context, part, r)));
    Some(texts)
}

/// Facts of a part in which some point to the table.
fn pointing(context: &Context<'_>, part: &Part<'_>, pointers: &[(&str, &str)]) -> Facts {
    let mut facts = context.facts.part(&part.id).clone();
    for (name, words) in pointers {
        if facts.get(*name).is_some_and(|f| !f.is_empty()) {
            facts.insert((*name).to_owned(), (*words).to_owned());
        }
    }
    facts.insert("name".to_owned(), part.kind.name.clone());
    facts.insert("id".to_owned(), "its id (before the dot in the list)".to_owned());
    facts
}

/// Fills the view of a task that several parts share.
pub(super) fn tell(context: &Context<'_>, view: &mut TaskView, template: &TaskTemplate, group: &[Ordered<'_>]) {
    let build = context.build;
    let members: Vec<(&Task<'_>, &Part<'_>)> =
        group.iter().filter_map(|(t, _)| Some((*t, part_of(context, t)?))).collect();
    let Some((_, first)) = members.first() else { return };
    // A fact that all share prints as it is.
    let own: Vec<Facts> = members.iter().map(|(_, p)| context.facts.part(&p.id).clone()).collect();
    let differs = |name: &str| own.windows(2).any(|pair| pair[0].get(name) != pair[1].get(name));
    let differing: Vec<(&str, &str)> = POINTERS.iter().copied().filter(|(name, _)| differs(name)).collect();
    let told = pointing(context, first, &differing);
    let parts: Vec<&Part<'_>> = members.iter().map(|(_, part)| *part).collect();
    fill(context, view, template, &told, &parts);
    view.title = context.text(&told, &template.title);
    view.component.clear();
    view.place.clear();
    view.pieces = 1;
    let all: Vec<Vec<ReadingView>> = members.iter().map(|(_, p)| readings(context, template, p)).collect();
    let taken: Vec<&Reading> = build.readings_of(first, template).collect();
    let single = taken.len() == 1;
    let reading = taken.first().filter(|_| single).map(|r| shared_reading(context, first, &told, r));
    let rows = members.iter().zip(&own).zip(&all).map(|(((task, part), facts), readings)| PartRow {
        id: task.id.clone(),
        component: part.name.clone(),
        place: shared::place_on_plan(context, part, task.stage),
        pieces: pieces(part),
        way: facts.get("way").cloned().unwrap_or_default(),
        reading: readings.first().filter(|_| single).cloned(),
        signed: signed(build, &task.id),
    });
    let minutes: u64 = members.iter().map(|(t, _)| u64::from(t.minutes) * u64::from(t.people)).sum();
    view.group = Some(GroupView {
        count: members.len(),
        time: working_time(minutes),
        ways: differing.iter().any(|(name, _)| *name == "way") && view.steps.iter().any(|step| step.contains("way N")),
        reading,
        matrix: Vec::new(),
        rows: rows.collect(),
    });
    if !single && members.len() <= MOST_COLUMNS {
        let rows = taken.iter().enumerate().map(|(at, r)| MatrixRow {
            reading: shared_reading(context, first, &told, r),
            parts: all.iter().filter_map(|of_part| of_part.get(at)).cloned().collect(),
        });
        if let Some(group) = &mut view.group {
            group.matrix = rows.collect();
        }
    } else if !single {
        view.readings = all.into_iter().flatten().collect();
    }
}

/// How far a reading of a part may be off.
fn tolerance(context: &Context<'_>, part: &Part<'_>, reading: &Reading) -> String {
    let say = |text: &str| context.text(context.facts.part(&part.id), text);
    say(&reading.tolerance_of(&|name| say(&format!("{{{{ {name} }}}}"))))
}

fn shared_reading(context: &Context<'_>, first: &Part<'_>, facts: &Facts, reading: &Reading) -> SharedReading {
    SharedReading {
        what: context.text(facts, &reading.what),
        tolerance: tolerance(context, first, reading),
        id: reading.id.clone(),
    }
}
