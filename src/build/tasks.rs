//! Tasks of technicians: what the kinds bring, and those of this build alone.

use super::Part;
use super::bringers::{Asked, Bringers, Own, applies, own};
use super::holds::{Hold, holds};
use super::leaving::Leaving;
use super::task::{After, Every, Task};
use crate::diag::{Finding, Sink};
use crate::fields::{Field, Record, Value};
use crate::kinds::{Need, Of, Reading, Stage, State, States};
use crate::source::Spanned;
use crate::spec::Spec;
use indexmap::IndexMap;
use std::collections::BTreeMap;
use std::sync::Arc;

/// The tasks and the hold points of a build.
pub(super) fn tasks<'k>(
    spec: &'k Spec,
    parts: &IndexMap<String, Part<'k>>,
    leaving: &Leaving<'_, 'k>,
    states: &States,
    sink: &mut Sink,
) -> (IndexMap<String, Task<'k>>, IndexMap<String, Hold>) {
    let own = own(spec, parts);
    let mut slipped = BTreeMap::new();
    let (mut tasks, mut bringers, unmet) = loop {
        let mut bringers = Bringers::of(&own, parts, states, &slipped);
        let (mut tasks, unmet) = of_kinds(&mut bringers, &slipped);
        leaving.tasks(&mut bringers, &mut tasks);
        // Stages only ever rise, so this comes to an end.
        let later = slips(&tasks, &own);
        if later.is_empty() {
            break (tasks, bringers, unmet);
        }
        slipped.extend(later);
    };
    for finding in needs_unmet(&tasks, &unmet, states) {
        sink.push(finding);
    }
    for Own { id, stage, part, section, record } in &own {
        let whole = |field: &Field<i64>| field.get().and_then(|n| u32::try_from(n).ok()).unwrap_or_default();
        let mut after = After::default();
        let mut waits = Vec::new();
        for need in section.needs.all() {
            match bringers.asked(*part, &need.value, (spec, &tasks, leaving.parts)) {
                Asked::Tasks(ids) => {
                    after.asked.extend(ids.iter().map(|id| (id.clone(), need.span)));
                    after.single.extend(ids);
                }
                Asked::Every(every) => {
                    after.asked.extend(every.ids.iter().map(|id| (id.clone(), need.span)));
                    waits.push(every);
                }
                Asked::Nothing => {}
                Asked::Unknown => sink.push(unknown_need(id, need, (spec, parts, states), &tasks, sink)),
            }
        }
        for brought in section.brings.all() {
            if let Some(finding) = unbringable(id, brought, part.is_some(), states, sink) {
                sink.push(finding);
            }
        }
        waits.extend(bringers.before(&section.brings.all().iter().map(|b| b.value.as_str()), *stage));
        after.wait(id, waits);
        let task = Task {
            id: (*id).to_owned(),
            stage: *stage,
            part: part.map(str::to_owned),
            after,
            template: None,
            readings: own_readings(id, record, sink),
            minutes: whole(&section.minutes),
            people: whole(&section.people).max(1),
            cures: 0,
            span: record.span,
        };
        readings_once(id, record, (parts.get(task.part.as_deref().unwrap_or_default()), states), sink);
        tasks.insert((*id).to_owned(), task);
    }
    let holds = holds(&mut bringers, &own, &tasks, leaving.parts);
    (tasks, holds)
}

/// Tasks of the kinds, and the states that must be so before some of them and that nothing brings.
fn of_kinds<'k>(
    bringers: &mut Bringers<'_, 'k>,
    slipped: &BTreeMap<String, Stage>,
) -> (IndexMap<String, Task<'k>>, Vec<(String, String)>) {
    let (register, parts) = (bringers.states, bringers.parts);
    let mut tasks = IndexMap::new();
    let mut unmet = Vec::new();
    for part in parts.values() {
        for template in part.kind.tasks.iter().filter(|t| applies(t, part, register)) {
            let id = format!("{}.{}", part.id, template.id);
            let in_stage = slipped.get(&id).copied().unwrap_or(template.stage);
            let mut after = After::default();
            let mut waits: Vec<Arc<Every>> = Vec::new();
            let brought = || template.brings.iter().filter_map(|state| register.get(state));
            let needs = template.needs.iter().chain(brought().flat_map(|state| &state.needs));
            for need in needs {
                let (single, every) = bringers.needed(part, Need::read(need));
                after.single.extend(single);
                waits.extend(every);
            }
            waits.extend(bringers.before(&template.brings.iter().map(String::as_str), in_stage));
            let asked = template.needs.iter().map(|need| Need::read(need).state());
            let asked = asked.chain(brought().flat_map(State::before));
            // What stays was worked before: what it lacks is a defect as found.
            let missing = asked.filter(|state| part.is_worked_on() && bringers.must_yet_nobody(state));
            unmet.extend(missing.map(|s| (id.clone(), s.to_owned())));
            after.wait(&id, waits);
            let task = Task::of_part(part, template, id.clone(), (after, register));
            tasks.insert(id, Task { stage: in_stage, ..task });
        }
    }
    (tasks, unmet)
}

/// Tasks that must slip, with the stage of the last that they wait for, no later than their kind lets them.
fn slips(tasks: &IndexMap<String, Task<'_>>, own: &[Own<'_>]) -> Vec<(String, Stage)> {
    let of_spec: BTreeMap<&str, Stage> = own.iter().map(|task| (task.id, task.stage)).collect();
    let stage_of = |id: &String| tasks.get(id).map(|t| t.stage).or_else(|| of_spec.get(id.as_str()).copied());
    let mut last_of: BTreeMap<&str, Option<Stage>> = BTreeMap::new();
    let later = tasks.values().filter_map(|task| {
        let latest = task.template?.latest?;
        let single = task.after.single.iter().filter_map(stage_of).max();
        let last = |every: &'_ Arc<Every>| every.ids.iter().filter_map(stage_of).max();
        let every = task.after.every.iter().filter_map(|e| *last_of.entry(&e.name).or_insert_with(|| last(e))).max();
        let slipped = single.max(every)?.min(latest);
        (slipped > task.stage).then(|| (task.id.clone(), slipped))
    });
    later.collect()
}

/// A finding for each thing that must be so and that nothing brings: at the first task that waits for it, with the others.
fn needs_unmet(tasks: &IndexMap<String, Task<'_>>, unmet: &[(String, String)], states: &States) -> Vec<Finding> {
    let mut waiting: IndexMap<&str, Vec<(&str, &Task<'_>)>> = IndexMap::new();
    for (id, state) in unmet {
        if let Some(task) = tasks.get(id) {
            waiting.entry(state).or_default().push((id, task));
        }
    }
    let told = |(state, all): (&str, Vec<(&str, &Task<'_>)>)| {
        let (state, (first, task)) = (states.get(state)?, all.first()?);
        let more = match all.len() - 1 {
            0 => String::new(),
            1 => " and one more task".to_owned(),
            n => format!(" and {n} more tasks"),
        };
        let waits = if more.is_empty() { "waits" } else { "wait" };
        let headline = format!("`{first}`{more} {waits} for what nothing in this build brings: “{}”", state.says);
        let mut finding = Finding::error("need-unmet", headline);
        finding = finding.about(task.part.as_deref().unwrap_or(first)).at(task.span, "brings the task in");
        let mut seen = vec![task.span];
        for (id, other) in all.iter().skip(1) {
            if !seen.contains(&other.span) {
                seen.push(other.span);
                finding = finding.label(other.span, format!("`{id}` waits for it too"));
            }
        }
        Some(finding.help(state.else_.clone().unwrap_or_else(|| "add the component whose task does".to_owned())))
    };
    waiting.into_iter().filter_map(told).collect()
}

/// The readings that a table of the spec takes; what is wrong with one is told, and it is left out.
pub(super) fn own_readings(id: &str, record: &Record, sink: &mut Sink) -> Vec<Reading> {
    let read = |row: &Record| {
        let said = row.fields.iter().filter_map(|(name, entry)| match &entry.value {
            Value::Text(text) | Value::Choice(text) => Some((name.as_str(), text.as_str())),
            _ => None,
        });
        let reading = Reading::of_spec(said);
        if let Err((field, fault)) = &reading {
            let finding = Finding::error("reading-unclear", format!("`{id}`: {fault}"));
            let finding = finding.about(id).at(row.span_of(field), "cannot be judged");
            sink.push(finding.help(
                "say `type` and `is`, `at_least` or `at_most`, as in { type = \"pressure\", is = \"9 bar\", within = \"1 bar\" }, or `words`",
            ));
        }
        reading.ok()
    };
    record.rows("readings").iter().filter_map(read).collect()
}

/// Tells of readings of a task of the build that its component takes already.
fn readings_once(id: &str, record: &Record, (part, states): (Option<&Part<'_>>, &States), sink: &mut Sink) {
    let there = |reading: &str| {
        let brought = part.into_iter().flat_map(|p| p.kind.tasks.iter().filter(|t| applies(t, p, states)));
        brought.flat_map(|t| &t.readings).any(|r| r.id == reading)
    };
    for row in record.rows("readings") {
        let Some(reading) = row.text("id").filter(|reading| there(reading)) else { continue };
        let name = part.map_or("", |p| p.id.as_str());
        let headline = format!("task `{id}` takes `{reading}`, which {name} brings already");
        let finding = Finding::error("reading-twice", headline).about(id).at(row.span_of("id"), "again");
        sink.push(finding.help("give it another id"));
    }
}

/// The finding where a task of the spec can't bring a state.
fn unbringable(id: &str, brought: &Spanned<String>, has_part: bool, states: &States, sink: &Sink) -> Option<Finding> {
    let state = states.get(&brought.value);
    let why = match state {
        None => "which is no state",
        Some(state) if state.of == Of::Part && !has_part => "a state of a part, and is about no component",
        Some(_) => return None,
    };
    let finding = Finding::error("unknown-state", format!("task `{id}` brings `{}`, {why}", brought.value));
    let finding = finding.about(id).at(brought.span, "cannot be brought");
    Some(match state {
        None => perhaps(finding, &brought.value, states.iter().map(|(name, _)| name.to_owned()), sink),
        Some(_) => finding.help("say `component` in the task"),
    })
}

fn unknown_need(
    id: &str,
    need: &Spanned<String>,
    (spec, parts, states): (&Spec, &IndexMap<String, Part<'_>>, &States),
    tasks: &IndexMap<String, Task<'_>>,
    sink: &Sink,
) -> Finding {
    let headline = format!("task `{id}` needs `{}`, which is neither a task of this build nor a state", need.value);
    let finding = Finding::error("unknown-task", headline).about(id).at(need.span, "nothing brings it");
    let of = need.value.split_once('.').map(|(of, _)| of).filter(|of| parts.contains_key(*of));
    let of_part = of
        .into_iter()
        .flat_map(|of| states.iter().filter(|(_, s)| s.of == Of::Part).map(move |(name, _)| format!("{of}.{name}")));
    let of_van = states.iter().filter(|(name, _)| states.is_of_van(name)).map(|(name, _)| name.to_owned());
    let known = tasks.keys().chain(spec.tasks.keys()).cloned().chain(of_part).chain(of_van);
    perhaps(finding, &need.value, known, sink)
}

/// The finding with the known word that is nearest. Where there are many findings already nobody is helped by one more.
fn perhaps(finding: Finding, word: &str, known: impl Iterator<Item = String>, sink: &Sink) -> Finding {
    match sink.nearest(word, known) {
        Some(near) => finding.help(format!("did you mean `{near}`?")),
        None => finding,
    }
}
