//! Order of work and hours: the build's tasks in the stages its spec keeps.

use crate::build::Build;
use crate::compute::time::{self, Schedule, Task, TaskFault};
use crate::kinds::Stage;
use std::collections::BTreeSet;

/// Order of the tasks, hours of each stage and the critical path. Tasks of a skipped stage are left out, and what came
/// after them no longer waits.
///
/// # Errors
/// Tasks that wait for each other in a circle, or for a task of a later stage.
pub fn schedule_of(build: &Build<'_>) -> Result<Schedule, Vec<TaskFault>> {
    let stages = stages(build);
    let kept: BTreeSet<&str> =
        build.tasks.values().filter(|t| stages.contains(&t.stage)).map(|t| t.id.as_str()).collect();
    let tasks: Vec<Task> = build
        .tasks
        .values()
        .filter(|t| kept.contains(t.id.as_str()))
        .map(|t| Task {
            id: t.id.clone(),
            stage: t.stage.id().to_owned(),
            minutes: t.minutes,
            people: t.people,
            after: t.after.iter().filter(|a| kept.contains(a.as_str())).cloned().collect(),
        })
        .collect();
    let order: Vec<String> = stages.iter().map(|s| s.id().to_owned()).collect();
    time::schedule(&tasks, &order)
}

/// Stages of this build, in order: all but those with `skip = true`.
#[must_use]
pub fn stages(build: &Build<'_>) -> Vec<Stage> {
    let skipped = |s: &Stage| build.spec.stages.get(s.id()).is_some_and(|r| r.flag("skip"));
    Stage::ALL.iter().copied().filter(|s| !skipped(s)).collect()
}
