//! Tasks of a stage, in the order of work.

use crate::build::{Part, Task};
use crate::documents::facts::{Facts, facts, places};
use crate::documents::shared::{self, component_of, signed, task_title};
use crate::documents::{CautionView, Context};
use crate::kinds::{Signal, Stage, TaskTemplate};
use serde::Serialize;
use std::collections::BTreeSet;

/// A task as the packet prints it.
#[derive(Clone, Debug, Serialize)]
pub struct TaskView {
    /// Id.
    pub id: String,
    /// Title, Markdown.
    pub title: String,
    /// Component, "" for a task of the build and where the title says it.
    pub component: String,
    /// Its place.
    pub place: String,
    /// Working time.
    pub time: String,
    /// Hands needed.
    pub people: u32,
    /// On the critical path.
    pub critical: bool,
    /// Tasks of the same stage that come before: ids.
    pub after: Vec<String>,
    /// Notes for the technician, inline Markdown.
    pub notes: Vec<String>,
    /// Safety messages, before the steps.
    pub cautions: Vec<CautionView>,
    /// Steps, Markdown.
    pub steps: Vec<String>,
    /// Torques.
    pub torques: Vec<TorqueView>,
    /// Readings.
    pub readings: Vec<ReadingView>,
    /// Hold point, Markdown; "" where there is none.
    pub hold: String,
    /// Who signed it, "" where nobody has.
    pub signed: String,
}

/// A torque.
#[derive(Clone, Debug, Serialize)]
pub struct TorqueView {
    /// Which fastener, Markdown.
    pub what: String,
    /// How tight, Markdown.
    pub value: String,
    /// Source, Markdown.
    pub source: String,
}

/// A reading.
#[derive(Clone, Debug, Serialize)]
pub struct ReadingView {
    /// Id, as `[recorded]` names it.
    pub id: String,
    /// What is read, Markdown.
    pub what: String,
    /// Expected value, Markdown; "" where the build does not give it.
    pub expect: String,
    /// Tolerance, Markdown.
    pub tolerance: String,
    /// Recorded value, "" where none is.
    pub recorded: String,
}

pub(super) fn tasks(context: &Context<'_>, stage: Stage) -> Vec<TaskView> {
    let mut noted = BTreeSet::new();
    let mut views = Vec::new();
    for (task, critical) in in_order(context, stage) {
        let part = task.part.as_ref().and_then(|p| context.build.parts.get(p));
        let mut view = head(context, task, critical);
        if let (Some(template), Some(part)) = (task.template, part) {
            let facts = facts(context.build, context.electrical, part);
            if noted.insert(part.id.clone()) {
                let texts = ["note", "stage_note"].into_iter().filter_map(|f| part.record.text(f));
                view.notes = texts.filter(|t| !t.is_empty()).map(str::to_owned).collect();
            }
            fill(context, &mut view, template, part, &facts);
        } else {
            own(context, task, &mut view);
        }
        views.push(view);
    }
    views
}

/// Tasks in the order of the schedule; in the order of the spec where there is none.
fn in_order<'c>(context: &'c Context<'_>, stage: Stage) -> Vec<(&'c Task<'c>, bool)> {
    let tasks = &context.build.tasks;
    match context.schedule {
        Some(schedule) => {
            let ours = schedule.order.iter().filter_map(|s| Some((tasks.get(&s.id)?, s.critical)));
            ours.filter(|(t, _)| t.stage == stage).collect()
        }
        None => tasks.values().filter(|t| t.stage == stage).map(|t| (t, false)).collect(),
    }
}

fn head(context: &Context<'_>, task: &Task<'_>, critical: bool) -> TaskView {
    let build = context.build;
    let part = task.part.as_ref().and_then(|p| build.parts.get(p));
    let same_stage = |id: &&String| build.tasks.get(*id).is_some_and(|t| t.stage == task.stage);
    let title = task_title(context, task);
    TaskView {
        id: task.id.clone(),
        component: part.map_or_else(String::new, |p| component_of(&title, &p.name)),
        title,
        place: part.map_or_else(String::new, |p| places(build, p)),
        time: shared::working_time(u64::from(task.minutes)),
        people: task.people,
        critical,
        after: task.after.iter().filter(same_stage).cloned().collect(),
        notes: Vec::new(),
        cautions: Vec::new(),
        steps: Vec::new(),
        torques: Vec::new(),
        readings: Vec::new(),
        hold: String::new(),
        signed: signed(build, &task.id),
    }
}

fn fill(context: &Context<'_>, view: &mut TaskView, template: &TaskTemplate, part: &Part<'_>, facts: &Facts) {
    let say = |text: &str| context.text(facts, text);
    view.cautions = CautionView::all(context, facts, &template.cautions);
    view.steps = template.steps.iter().map(|s| say(s)).collect();
    let torque =
        |t: &crate::kinds::Torque| TorqueView { what: say(&t.what), value: say(&t.value), source: say(&t.source) };
    view.torques = template.torque.iter().map(torque).collect();
    view.hold = template.hold.as_deref().map_or_else(String::new, say);
    let recorded = &context.build.spec.recorded.readings;
    view.readings = template
        .readings
        .iter()
        .map(|r| {
            let id = format!("{}.{}", part.id, r.id);
            let recorded = recorded.get(&id).map_or_else(String::new, |v| v.value.clone());
            ReadingView { what: say(&r.what), expect: say(&r.expect), tolerance: say(&r.tolerance), id, recorded }
        })
        .collect();
}

/// A task of `[task.…]`: its texts are plain.
fn own(context: &Context<'_>, task: &Task<'_>, view: &mut TaskView) {
    let Some(record) = context.build.spec.tasks.get(&task.id) else { return };
    let plain = |text: &str| shared::plain(context, text);
    view.steps = record.list("steps").iter().map(|s| plain(&s.value)).collect();
    view.hold = record.text("hold").map_or_else(String::new, plain);
    let caution = record.text("caution").filter(|t| !t.is_empty());
    view.cautions = caution
        .map(|text| CautionView {
            signal: Signal::Warning.title(),
            hazard: plain(text),
            consequence: String::new(),
            avoid: String::new(),
        })
        .into_iter()
        .collect();
}
