//! Order of work and hours: the build's tasks in the stages its spec keeps.

use crate::build::{self, Build};
use crate::compute::time::{self, Join, Schedule, Task, TaskFault};
use crate::compute::wiring_hours::WiringHours;
use crate::kinds::Stage;
use std::collections::{BTreeMap, BTreeSet};

/// Order of the tasks and of the work on conductors, hours of each stage and the critical path. Tasks of a skipped stage are left out, and what came
/// after them no longer waits.
///
/// # Errors
/// Tasks that wait for each other in a circle, or for a task of a later stage.
pub(crate) fn schedule_of(build: &Build<'_>, wiring: &[WiringHours]) -> Result<Schedule, Vec<TaskFault>> {
    let stages = stages(build);
    let kept: BTreeSet<&str> =
        build.tasks.values().filter(|t| stages.contains(&t.stage)).map(|t| t.id.as_str()).collect();
    let mut joins: BTreeMap<String, Join> = BTreeMap::new();
    let mut tasks = Vec::with_capacity(kept.len());
    for t in build.tasks.values().filter(|t| kept.contains(t.id.as_str())) {
        let there = |ids: &[String]| ids.iter().filter(|a| kept.contains(a.as_str())).cloned().collect::<Vec<_>>();
        let mut after = there(&t.after.single);
        for every in &t.after.every {
            // No id of a spec holds a blank.
            let id = format!("every {}", every.name);
            joins.entry(id.clone()).or_insert_with(|| Join { id: id.clone(), after: there(&every.ids) });
            after.push(id);
        }
        tasks.push(Task {
            id: t.id.clone(),
            stage: t.stage.id().to_owned(),
            minutes: t.minutes,
            people: t.people,
            cures: t.cures,
            place: place_of(build, t).to_owned(),
            tools: tools_of(build, t),
            after,
        });
    }
    for work in wiring.iter().filter(|work| stages.contains(&work.stage)) {
        tasks.push(Task {
            id: work.id(),
            stage: work.stage.id().to_owned(),
            minutes: work.minutes,
            people: 1,
            cures: 0,
            place: String::new(),
            tools: Vec::new(),
            after: Vec::new(),
        });
    }
    let joins: Vec<Join> = joins.into_values().collect();
    let order: Vec<String> = stages.iter().map(|s| s.id().to_owned()).collect();
    time::schedule(&tasks, &joins, &order)
}

/// Id of the place where a task is done: its own, else that of its part; "" where nobody says.
fn place_of<'b>(build: &'b Build<'_>, task: &'b build::Task<'_>) -> &'b str {
    let own = || build.own_tasks.get(&task.id)?.place.first();
    let of_part = || build.bearer(task.part.as_ref()?)?.places.first().map(String::as_str);
    own().or_else(of_part).unwrap_or_default()
}

fn tools_of(build: &Build<'_>, task: &build::Task<'_>) -> Vec<String> {
    let own = || build.own_tasks.get(&task.id).map(|own| own.tools.all().iter().map(|t| t.value.clone()).collect());
    task.template.map(|template| template.tools.clone()).or_else(own).unwrap_or_default()
}

/// Stages of this build, in order: all but those with `skip = true`.
#[must_use]
pub(crate) fn stages(build: &Build<'_>) -> Vec<Stage> {
    let skipped = |s: &Stage| build.stages.get(s.id()).is_some_and(|r| r.skip.is_set());
    Stage::ALL.iter().copied().filter(|s| !skipped(s)).collect()
}
