//! Tables of the work: tasks in their order, upkeep with its dates.

use super::{Context, table, yes};
use crate::build::Task;
use crate::compute::time::{Due, ScheduledTask, UpkeepItem};
use crate::documents::alike::plain;
use crate::documents::shared::{self, openings};
use crate::kinds::System;
use crate::spreadsheet::DataTable;
use crate::units::Dimension;
use indexmap::IndexMap;
use jiff::civil::Date;

/// A task, and its times where the tasks do not run in a circle.
pub(super) type Planned<'v> = (&'v Task<'v>, Option<&'v ScheduledTask>);

/// All tasks in an order that can be worked through.
pub(super) fn planned<'v>(context: &Context<'v>) -> Vec<Planned<'v>> {
    let mut all: IndexMap<&str, Planned<'_>> = IndexMap::new();
    for times in context.schedule.iter().flat_map(|s| &s.order) {
        all.extend(context.build.tasks.get(&times.id).map(|t| (t.id.as_str(), (t, Some(times)))));
    }
    for task in context.build.tasks.values() {
        all.entry(&task.id).or_insert((task, None));
    }
    all.into_values().collect()
}

pub(super) fn tasks(context: &Context<'_>) -> DataTable {
    let build = context.build;
    let rows = planned(context);
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
        .text("After", |(t, _)| t.after.ids().collect::<Vec<_>>().join(", "))
        .text("Signed", |(t, _)| shared::signed(build, &t.id))
        .done()
}

pub(super) fn openings(context: &Context<'_>) -> DataTable {
    let (schedule, system) = (openings::schedule(context), context.build.prints());
    let rows: Vec<(&str, [&str; 2], &openings::OpeningRow)> =
        schedule.iter().flat_map(|s| s.rows.iter().map(|row| (s.surface, s.datums, row))).collect();
    let measure =
        |at: usize| move |(_, _, row): &(&str, [&str; 2], &openings::OpeningRow)| row.metres.map(|metres| metres[at].0);
    table("openings", "Openings", &rows)
        .number("No.", "", |(_, _, row)| u32::try_from(row.number).ok().map(f64::from))
        .text("Surface", |(surface, _, _)| *surface)
        .text("Component", |(_, _, row)| row.id.as_str())
        .text("Opening", |(_, _, row)| plain(&row.what))
        .text("Size", |(_, _, row)| plain(&row.size))
        .text("Place", |(_, _, row)| row.place.as_str())
        .text("A is", |(_, datums, _)| datums[0])
        .quantity("A", Dimension::Length, system, measure(0))
        .text("B is", |(_, datums, _)| datums[1])
        .quantity("B", Dimension::Length, system, measure(1))
        .text("Measures are", |(_, _, row)| match (row.at[0].is_empty(), row.metres) {
            (false, _) => "given",
            (true, Some(_)) => "middle of the place",
            (true, None) => "",
        })
        .text("Task", |(_, _, row)| row.task.as_str())
        .text("Cut otherwise", |(_, _, row)| yes(context.build.site.has_opening(&row.id)))
        .done()
}

/// Upkeep with or without a date.
pub(super) enum Entry<'v> {
    On(&'v Due),
    Undated(&'v UpkeepItem),
}

impl Entry<'_> {
    pub(super) fn id(&self) -> String {
        match self {
            Self::On(due) => due.id.clone(),
            Self::Undated(item) => format!("{}.{}", item.component, item.upkeep),
        }
    }

    pub(super) fn component(&self) -> &str {
        match self {
            Self::On(due) => &due.component,
            Self::Undated(item) => &item.component,
        }
    }

    /// What is to be done, plain.
    pub(super) fn title(&self, context: &Context<'_>) -> String {
        let title = match self {
            Self::On(due) => &due.title,
            Self::Undated(item) => &item.title,
        };
        plain(&context.text(context.facts.part(self.component()), title))
    }

    pub(super) fn due(&self) -> Option<Date> {
        match self {
            Self::On(due) => Some(due.date),
            Self::Undated(_) => None,
        }
    }

    fn system(&self) -> &'static str {
        let id = match self {
            Self::On(due) => &due.system,
            Self::Undated(item) => &item.system,
        };
        System::from_id(id).map_or("", System::title)
    }

    pub(super) fn by(&self) -> &str {
        match self {
            Self::On(due) => &due.by,
            Self::Undated(item) => &item.by,
        }
    }

    pub(super) fn minutes(&self) -> u32 {
        match self {
            Self::On(due) => due.minutes,
            Self::Undated(item) => item.minutes,
        }
    }

    pub(super) fn often(&self) -> String {
        match self {
            Self::On(due) => due.cadence.clone(),
            Self::Undated(item) => item.cadence.to_string(),
        }
    }

    pub(super) fn or_after(&self) -> Option<String> {
        match self {
            Self::On(due) => due.or_use.clone(),
            Self::Undated(item) => item.use_limit(),
        }
    }
}

/// All upkeep by date; at the end what has none.
pub(super) fn entries<'v>(context: &Context<'v>) -> Vec<Entry<'v>> {
    let Some(plan) = context.due_dates else { return Vec::new() };
    let undated = plan.before_trip.iter().chain(&plan.by_use).chain(&plan.age_unknown).chain(&plan.without_date);
    plan.dated.iter().map(Entry::On).chain(undated.map(Entry::Undated)).collect()
}

pub(super) fn upkeep(context: &Context<'_>) -> DataTable {
    let rows = entries(context);
    table("upkeep", "Upkeep", &rows)
        .day("Due", Entry::due)
        .text("Title", |e| e.title(context))
        .text("Component", |e| context.build.name(e.component()))
        .text("System", Entry::system)
        .text("By", Entry::by)
        .number("Working time", "min", |e| Some(f64::from(e.minutes())))
        .text("How often", Entry::often)
        .text("Or after", |e| e.or_after().unwrap_or_default())
        .text("Id", Entry::id)
        .done()
}
