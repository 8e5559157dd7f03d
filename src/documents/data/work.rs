//! Tables of the work: tasks in their order, upkeep with its dates.

use super::{Context, table, yes};
use crate::build::Task;
use crate::compute::time::{Due, ScheduledTask, UpkeepItem};
use crate::documents::alike::plain;
use crate::documents::shared;
use crate::kinds::System;
use crate::spreadsheet::DataTable;
use indexmap::IndexMap;

/// A task, and its times where the tasks do not run in a circle.
type Planned<'v> = (&'v Task<'v>, Option<&'v ScheduledTask>);

pub(super) fn tasks(context: &Context<'_>) -> DataTable {
    let build = context.build;
    let mut all: IndexMap<&str, Planned<'_>> = IndexMap::new();
    for times in context.schedule.iter().flat_map(|s| &s.order) {
        all.extend(build.tasks.get(&times.id).map(|t| (t.id.as_str(), (t, Some(times)))));
    }
    for task in build.tasks.values() {
        all.entry(&task.id).or_insert((task, None));
    }
    let rows: Vec<Planned<'_>> = all.into_values().collect();
    let minutes = |m: u64| u32::try_from(m).ok().map(f64::from);
    table("tasks", "Tasks", &rows)
        .text("Task", |(t, _)| t.id.as_str())
        .text("Title", |(t, _)| plain(&shared::task_title(context, t)))
        .text("Stage", |(t, _)| shared::stage_title(build, t.stage))
        .text("Component", |(t, _)| t.part.as_deref().map_or("", |p| build.name(p)))
        .number("Working time", "min", |(t, _)| Some(f64::from(t.minutes)))
        .number("People", "", |(t, _)| Some(f64::from(t.people)))
        .number("Work of all", "min", move |(_, s)| minutes((*s)?.person_minutes))
        .number("Earliest start", "min", move |(_, s)| minutes((*s)?.start))
        .number("Slack", "min", move |(_, s)| minutes((*s)?.slack))
        .text("Critical", |(_, s)| yes(s.is_some_and(|s| s.critical)))
        .text("After", |(t, _)| t.after.join(", "))
        .text("Signed", |(t, _)| shared::signed(build, &t.id))
        .done()
}

/// Upkeep with or without a date.
enum Entry<'v> {
    On(&'v Due),
    Undated(&'v UpkeepItem),
}

impl Entry<'_> {
    fn component(&self) -> &str {
        match self {
            Self::On(due) => &due.component,
            Self::Undated(item) => &item.component,
        }
    }
}

pub(super) fn upkeep(context: &Context<'_>) -> DataTable {
    let build = context.build;
    let mut rows: Vec<Entry<'_>> = Vec::new();
    if let Some(plan) = context.plan {
        rows.extend(plan.dated.iter().map(Entry::On));
        rows.extend(plan.before_trip.iter().chain(&plan.by_use).chain(&plan.without_date).map(Entry::Undated));
    }
    let title = |entry: &Entry<'_>| {
        let title = match entry {
            Entry::On(due) => &due.title,
            Entry::Undated(item) => &item.title,
        };
        plain(&context.text(context.facts.part(entry.component()), title))
    };
    let system = |id: &str| System::from_id(id).map_or("", System::title);
    table("upkeep", "Upkeep", &rows)
        .day("Due", |e| match e {
            Entry::On(due) => Some(due.date),
            Entry::Undated(_) => None,
        })
        .text("Title", title)
        .text("Component", |e| build.name(e.component()).to_owned())
        .text("System", move |e| match e {
            Entry::On(due) => system(&due.system),
            Entry::Undated(item) => system(&item.system),
        })
        .text("By", |e| match e {
            Entry::On(due) => due.by.clone(),
            Entry::Undated(item) => item.by.clone(),
        })
        .number("Working time", "min", |e| {
            Some(f64::from(match e {
                Entry::On(due) => due.minutes,
                Entry::Undated(item) => item.minutes,
            }))
        })
        .text("How often", |e| match e {
            Entry::On(due) => due.cadence.clone(),
            Entry::Undated(item) => item.cadence.to_string(),
        })
        .text("Or after", |e| match e {
            Entry::On(due) => due.or_use.clone().unwrap_or_default(),
            Entry::Undated(item) => item.use_limit().unwrap_or_default(),
        })
        .text("Id", |e| match e {
            Entry::On(due) => due.id.clone(),
            Entry::Undated(item) => format!("{}.{}", item.component, item.upkeep),
        })
        .done()
}
