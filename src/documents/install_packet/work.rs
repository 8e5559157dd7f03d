//! Tasks of a stage, in the order of work; the same task of several parts is told once.

use super::task::{TaskView, fill, own_readings, part_of, pieces, plain_readings, readings};
use super::together;
use crate::build::{Every, Task};
use crate::documents::hidden::{Hidden, Work};
use crate::documents::shared::site::MARK;
use crate::documents::shared::{self, component_of, signed, task_title};
use crate::documents::{CautionView, Context};
use crate::kinds::{Signal, Stage};
use crate::spec::TaskSection;
use std::collections::{BTreeMap, BTreeSet};

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
            let otherwise = context.build.site.of_task(&task.id);
            view.notes.extend(otherwise.map(|d| format!("{MARK} done otherwise: {}", d.done.or_empty())));
            let Some(part) = part_of(context, task) else { continue };
            if noted.insert(part.id.clone()) {
                let texts = [part.common.note.text(), part.common.stage_note.text()].into_iter().flatten();
                let who = if group.len() > 1 { format!("{}: ", part.name) } else { String::new() };
                view.notes.extend(texts.filter(|t| !t.is_empty()).map(|t| format!("{who}{t}")));
            }
        }
        match (first.template, part_of(context, first)) {
            (Some(template), Some(part)) if group.len() == 1 => {
                let facts = context.facts.part(&part.id);
                fill(context, &mut view, template, facts, &[part]);
                view.readings = readings(context, template, part);
            }
            (Some(template), Some(_)) => together::tell(context, &mut view, template, group),
            _ => {
                if let Some(section) = context.build.own_tasks.get(&first.id) {
                    own(context, section, &mut view);
                    view.readings = own_readings(context, first);
                }
                if part_of(context, first).is_some_and(|part| part.confidential) {
                    view.notes.push("what to do stands under “Confidential” at the head of this packet".to_owned());
                }
            }
        }
        views.push(view);
    }
    tell_steps_once(&mut views);
    (views, count)
}

/// A procedure of fewer steps is told again: a line that points to it would be no shorter.
const PROCEDURE: usize = 3;

/// The steps of a task that are those of one before it are told there alone; where few of them differ, these are told.
fn tell_steps_once(views: &mut [TaskView]) {
    let mut known: Vec<(usize, Vec<String>)> = Vec::new();
    for (at, view) in views.iter_mut().enumerate().filter(|(_, view)| view.steps.len() >= PROCEDURE) {
        let found = known.iter().filter_map(|(first, steps)| Some((*first, differing(steps, &view.steps)?)));
        match found.min_by_key(|(_, other)| other.len()) {
            Some((first, other)) => {
                view.steps_of = first;
                view.other_steps = other.into_iter().map(|i| (i + 1, view.steps[i].clone())).collect();
                view.steps.clear();
            }
            None => known.push((at + 1, view.steps.clone())),
        }
    }
}

/// Which steps differ from those of a task before; none is too many to tell by themselves.
fn differing(first: &[String], steps: &[String]) -> Option<Vec<usize>> {
    if first.len() != steps.len() {
        return None;
    }
    let other: Vec<usize> = (0..steps.len()).filter(|i| first[*i] != steps[*i]).collect();
    (other.is_empty() || other.len() * 3 <= steps.len()).then_some(other)
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
        place: own_place(context, task)
            .unwrap_or_else(|| part.map_or_else(String::new, |p| shared::place_on_plan(context, p, task.stage))),
        time: shared::working_time(u64::from(task.minutes)),
        people: task.people,
        cures: Some(task.cures).filter(|m| *m > 0).map_or_else(String::new, shared::cure_time),
        critical,
        latest: String::new(),
        after: String::new(),
        notes: Vec::new(),
        cautions: Vec::new(),
        steps: Vec::new(),
        pieces: part.map_or(1, pieces),
        steps_of: 0,
        other_steps: Vec::new(),
        torques: Vec::new(),
        readings: Vec::new(),
        hold: String::new(),
        hold_first: false,
        signs: "",
        proof: Vec::new(),
        signed: signed(context.build, &task.id),
        group: None,
    }
}

/// Where a task of the build is done, where it says so.
fn own_place(context: &Context<'_>, task: &Task<'_>) -> Option<String> {
    let place = context.build.own_tasks.get(&task.id)?.place.first()?;
    let number = context.numbers(task.stage, &[place.to_owned()]);
    Some(number.map_or_else(|| context.build.place_name(place), |number| format!("at {number}")))
}

/// What is done in `stage` to a hidden part by tasks of `[task.…]`, for the box that tells of it.
pub(super) fn hidden(context: &Context<'_>, part: &Hidden, stage: Stage) -> Vec<TaskView> {
    let tell = |work: &Work| {
        let task = context.build.tasks.get(&work.id)?;
        let mut view = head(context, task, false);
        view.title = shared::plain(context, work.section.title.text().unwrap_or_default());
        view.place.clone_from(&work.place);
        own(context, &work.section, &mut view);
        let tools: Vec<String> = work.section.tools.all().iter().map(|t| shared::plain(context, &t.value)).collect();
        view.notes =
            Some(tools.join(", ")).filter(|t| !t.is_empty()).map(|t| format!("Tools: {t}")).into_iter().collect();
        view.readings = plain_readings(context, (&part.id, &part.name), &work.readings);
        Some(view)
    };
    part.work.iter().filter(|work| work.stage == stage).filter_map(tell).collect()
}

/// Texts of `[task.…]`: they are plain.
fn own(context: &Context<'_>, record: &TaskSection, view: &mut TaskView) {
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
    view.cautions.extend(record.cautions.rows().iter().map(|row| {
        let said = |field: &str| plain(row.text(field).unwrap_or_default());
        let signal = row.text("signal").and_then(Signal::from_id).unwrap_or(Signal::Warning);
        CautionView {
            signal: signal.title(),
            hazard: said("hazard"),
            consequence: said("consequence"),
            avoid: said("avoid"),
        }
    }));
}
