//! Tasks of a stage, in the order of work; the same task of several parts is told once.

use super::together::{self, GroupView};
use crate::build::{Every, Part, Task};
use crate::compute::network::MAKERS;
use crate::compute::readings::{Result, band};
use crate::documents::facts::Facts;
use crate::documents::shared::{self, component_of, signed, task_title};
use crate::documents::{CautionView, Context};
use crate::kinds::{Signal, Stage, TaskTemplate};
use crate::units::{Dimension, System, print};
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};

/// A task as the packet prints it.
#[derive(Clone, Debug, Serialize)]
pub struct TaskView {
    /// Id; that of the first part where it is told once for several.
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
    /// Tasks of the same stage that come before, by their numbers in the packet: "3, 5–8".
    pub after: String,
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
    /// It stands before the steps.
    pub hold_first: bool,
    /// Who signed it, "" where nobody has.
    pub signed: String,
    /// The parts, where it is told once for several.
    pub group: Option<GroupView>,
}

/// A torque.
#[derive(Clone, Debug, Serialize)]
pub struct TorqueView {
    /// Which fastener, Markdown.
    pub what: String,
    /// How tight, Markdown.
    pub value: String,
    /// Source, Markdown; "" where the next torque has the same.
    pub source: String,
}

/// A reading.
#[derive(Clone, Debug, Serialize)]
pub struct ReadingView {
    /// Id without that of the part: `[recorded]` names it with both.
    pub id: String,
    /// Name of the part.
    pub component: String,
    /// What is read, Markdown.
    pub what: String,
    /// Expected value, Markdown; "" where the build does not give it.
    pub expect: String,
    /// Tolerance, Markdown.
    pub tolerance: String,
    /// Recorded value, "" where none is.
    pub recorded: String,
}

/// Numbers of the tasks that those of a group wait for.
fn before(group: &[together::Ordered<'_>], numbers: &BTreeMap<&str, usize>) -> BTreeSet<usize> {
    // Most of a group wait for the same, and need not be looked through one by one.
    let every: BTreeMap<&str, &Every> =
        group.iter().flat_map(|(t, _)| &t.after.every).map(|e| (e.name.as_str(), &**e)).collect();
    let single = group.iter().flat_map(|(t, _)| &t.after.single);
    let ids = single.chain(every.into_values().flat_map(|e| &e.ids));
    ids.filter_map(|a| numbers.get(a.as_str()).copied()).collect()
}

/// Tasks of `stage` as printed, and how many tasks they are.
pub(super) fn tasks(context: &Context<'_>, stage: Stage) -> (Vec<TaskView>, usize) {
    let ordered = in_order(context, stage);
    let count = ordered.len();
    let groups = together::groups(context, &ordered);
    let numbers: BTreeMap<&str, usize> =
        groups.iter().enumerate().flat_map(|(i, g)| g.iter().map(move |(t, _)| (t.id.as_str(), i + 1))).collect();
    let mut noted = BTreeSet::new();
    let mut views = Vec::new();
    for (index, group) in groups.iter().enumerate() {
        let Some((first, _)) = group.first() else { continue };
        let mut view = head(context, first, group.iter().any(|(_, critical)| *critical));
        let mut before = before(group, &numbers);
        before.remove(&(index + 1));
        view.after = shared::ranges(&before);
        for (task, _) in group {
            let Some(part) = part_of(context, task) else { continue };
            if noted.insert(part.id.clone()) {
                let texts = ["note", "stage_note"].into_iter().filter_map(|f| part.record.text(f));
                let who = if group.len() > 1 { format!("{}: ", part.name) } else { String::new() };
                view.notes.extend(texts.filter(|t| !t.is_empty()).map(|t| format!("{who}{t}")));
            }
        }
        match (first.template, part_of(context, first)) {
            (Some(template), Some(part)) if group.len() == 1 => {
                let facts = context.facts.part(&part.id);
                fill(context, &mut view, template, facts);
                view.readings = readings(context, template, part);
            }
            (Some(template), Some(_)) => together::tell(context, &mut view, template, group),
            _ => own(context, first, &mut view),
        }
        views.push(view);
    }
    (views, count)
}

/// The part of a task.
pub(super) fn part_of<'c>(context: &'c Context<'_>, task: &Task<'_>) -> Option<&'c Part<'c>> {
    context.build.parts.get(task.part.as_ref()?)
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
    let part = part_of(context, task);
    let title = task_title(context, task);
    TaskView {
        id: task.id.clone(),
        component: part.map_or_else(String::new, |p| component_of(&title, &p.name)),
        title,
        place: part.map_or_else(String::new, |p| shared::place_in_packet(context, p)),
        time: shared::working_time(u64::from(task.minutes)),
        people: task.people,
        critical,
        after: String::new(),
        notes: Vec::new(),
        cautions: Vec::new(),
        steps: Vec::new(),
        torques: Vec::new(),
        readings: Vec::new(),
        hold: String::new(),
        hold_first: false,
        signed: signed(context.build, &task.id),
        group: None,
    }
}

/// A torque as the maker of the fastener gives it, and on the scale of a US wrench.
fn in_both(torque: String, system: System) -> String {
    let metres = torque.strip_suffix(" N m").and_then(|n| n.parse::<f64>().ok()).filter(|_| system == System::Us);
    match metres {
        Some(metres) => format!("{torque} ({})", print(Dimension::Torque, metres, system)),
        None => torque,
    }
}

/// Texts of a task with the facts of a part.
pub(super) fn fill(context: &Context<'_>, view: &mut TaskView, template: &TaskTemplate, facts: &Facts) {
    let system = context.build.prints();
    let say = |text: &str| context.text(facts, text);
    view.cautions = CautionView::all(context, facts, &template.cautions);
    view.steps = template.steps.iter().map(|s| say(s)).collect();
    let torque = |t: &crate::kinds::Torque| {
        let what = say(&t.what);
        let figure = t.figure(&what).unwrap_or_else(|| MAKERS.to_owned());
        TorqueView { value: in_both(context.as_written(facts, &figure), system), source: say(&t.basis(&what)), what }
    };
    view.torques = template.torque.iter().map(torque).collect();
    // A source that several torques share stands at the last of them.
    for at in 1..view.torques.len() {
        if view.torques[at - 1].source == view.torques[at].source {
            view.torques[at - 1].source.clear();
        }
    }
    view.hold = template.hold.as_deref().map_or_else(String::new, say);
    view.hold_first = template.hold_first;
}

/// Readings of a task for one part.
pub(in crate::documents) fn readings(
    context: &Context<'_>,
    template: &TaskTemplate,
    part: &Part<'_>,
) -> Vec<ReadingView> {
    let facts = context.facts.part(&part.id);
    let say = |text: &str| context.text(facts, text);
    let recorded = &context.build.spec.recorded.readings;
    let tests = &context.readings.results;
    let in_units = |value: &str, id: &str| {
        let shown = |t: &Result| band::in_units(&t.expect, &t.tolerance, value, context.build.prints());
        tests.get(id).map_or_else(|| value.to_owned(), shown)
    };
    let view = |r: &crate::kinds::Reading| {
        let id = format!("{}.{}", part.id, r.id);
        ReadingView {
            component: part.name.clone(),
            what: say(&r.what),
            expect: say(&r.expect),
            tolerance: say(&r.tolerance),
            recorded: recorded.get(&id).map_or_else(String::new, |v| in_units(&v.value, &id)),
            id: r.id.clone(),
        }
    };
    template.readings.iter().map(view).collect()
}

/// A task of `[task.…]`: its texts are plain.
fn own(context: &Context<'_>, task: &Task<'_>, view: &mut TaskView) {
    let Some(record) = context.build.own_tasks.get(&task.id) else { return };
    let plain = |text: &str| shared::plain(context, text);
    view.steps = record.steps.all().iter().map(|s| plain(&s.value)).collect();
    view.hold = record.hold.text().map_or_else(String::new, plain);
    let caution = record.caution.text().filter(|t| !t.is_empty());
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn small_torques_are_in_inch_pounds() {
        assert_eq!(in_both("2 N m".to_owned(), System::Us), "2 N m (18 in lb)");
        assert_eq!(in_both("23 N m".to_owned(), System::Us), "23 N m (17 ft lb)");
        assert_eq!(in_both("25.5 N m".to_owned(), System::Us), "25.5 N m (18.8 ft lb)");
        assert_eq!(in_both("23 N m".to_owned(), System::Metric), "23 N m");
        assert_eq!(in_both("hand tight".to_owned(), System::Us), "hand tight");
    }
}
