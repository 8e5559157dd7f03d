//! The calendar of the build: its stages with their days, hours and the tasks that decide how long it takes.

use crate::compute::time::Schedule;
use crate::compute::{wiring_hours, work_plan};
use crate::documents::Context;
use crate::documents::shared::{self, task_title, working_time};
use crate::kinds::Stage;
use crate::letters::capital;
use serde::Serialize;

/// A stage.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct StageRow {
    /// Number of its packet.
    number: usize,
    /// Its title, Markdown.
    title: String,
    /// Day it begins; "" where the spec does not say.
    begins: String,
    /// Hours of one person.
    work: String,
    /// Of these on conductors; "" where there are none.
    wiring: String,
    /// From its begin to its end with enough hands, what cures in it included.
    lasts: String,
    /// Its tasks that decide how long the build takes, Markdown, in their order.
    decides: Vec<String>,
}

/// The stages, in the packet of the first of them.
pub(super) fn rows(context: &Context<'_>, stage: Stage) -> Vec<StageRow> {
    let stages = work_plan::stages(context.build);
    let Some(schedule) = context.schedule.filter(|_| stages.first() == Some(&stage)) else { return Vec::new() };
    let row = |stage: &Stage| {
        let times = schedule.stages.iter().find(|t| t.stage == stage.id()).filter(|t| t.tasks > 0)?;
        let on_wiring: u64 = wiring_hours::in_stage(schedule, *stage).map(|(_, minutes)| minutes).sum();
        Some(StageRow {
            number: super::number_of(*stage),
            title: shared::stage_title(context.build, *stage),
            begins: context
                .build
                .stages
                .get(stage.id())
                .and_then(|s| s.start.get())
                .map_or_else(String::new, |d| d.to_string()),
            work: working_time(times.person_minutes),
            wiring: Some(on_wiring).filter(|m| *m > 0).map_or_else(String::new, working_time),
            lasts: working_time(times.finish.saturating_sub(times.start)),
            decides: decides(context, schedule, *stage),
        })
    };
    stages.iter().filter_map(row).collect()
}

/// Titles of the tasks of a stage on the critical path.
fn decides(context: &Context<'_>, schedule: &Schedule, stage: Stage) -> Vec<String> {
    let times = |id: &String| schedule.order.iter().find(|t| t.id == *id && t.stage == stage.id());
    let title = |id: &str| match context.build.tasks.get(id) {
        Some(task) => task_title(context, task),
        None => capital(wiring_hours::work_of(id).unwrap_or(id)),
    };
    schedule.critical_path.iter().filter_map(times).map(|t| title(&t.id)).collect()
}
