//! Tasks of technicians: what the kinds bring, and those of this build alone.

use super::Part;
use crate::diag::{Finding, Sink};
use crate::kinds::{Stage, TaskTemplate};
use crate::source::Span;
use crate::spec::Spec;
use indexmap::IndexMap;
use serde::Serialize;

/// A task of the build.
#[derive(Clone, Debug, Serialize)]
pub struct Task<'k> {
    /// Id: `<component>.<task>`, or the key of `[task.…]`.
    pub id: String,
    /// Stage.
    pub stage: Stage,
    /// Part it belongs to; `None` for a task of the build.
    pub part: Option<String>,
    /// Ids of tasks that come before.
    pub after: Vec<String>,
    /// What the kind says.
    #[serde(skip)]
    pub template: Option<&'k TaskTemplate>,
    /// Minutes of one person.
    pub minutes: u32,
    /// Hands needed.
    pub people: u32,
    /// Where the spec brings it in.
    pub span: Span,
}

pub(super) fn tasks<'k>(
    spec: &'k Spec,
    parts: &IndexMap<String, Part<'k>>,
    sink: &mut Sink,
) -> IndexMap<String, Task<'k>> {
    let mut tasks = IndexMap::new();
    for part in parts.values() {
        let applies = |t: &&TaskTemplate| t.when.as_ref().is_none_or(|flag| part.record.flag(flag));
        let present: Vec<_> = part.kind.tasks.iter().filter(applies).collect();
        for &template in &present {
            let id = format!("{}.{}", part.id, template.id);
            let own = template.after.iter().filter(|a| present.iter().any(|t| &t.id == *a));
            let others = template.after.iter().flat_map(|a| of_other_kind(parts, a)).filter(|a| *a != id);
            let task = Task {
                id: id.clone(),
                stage: template.stage,
                part: Some(part.id.clone()),
                after: own.map(|a| format!("{}.{a}", part.id)).chain(others).collect(),
                template: Some(template),
                minutes: template.minutes,
                people: template.people.max(1),
                span: part.span,
            };
            tasks.insert(id, task);
        }
    }
    for (id, record) in &spec.tasks {
        let Some(stage) = record.text("stage").and_then(Stage::from_id) else { continue };
        let whole = |field: &str, default| record.count(field).and_then(|n| u32::try_from(n).ok()).unwrap_or(default);
        let after = record.list("after").iter().map(|a| a.value.clone()).collect();
        let task = Task {
            id: id.clone(),
            stage,
            part: None,
            after,
            template: None,
            minutes: whole("minutes", 30),
            people: whole("people", 1).max(1),
            span: record.span,
        };
        tasks.insert(id.clone(), task);
    }
    drop_unknown(spec, &mut tasks, sink);
    tasks
}

/// Ids of the tasks that `<kind>.<task>` stands for: one for each part of that kind which has it.
fn of_other_kind(parts: &IndexMap<String, Part<'_>>, wanted: &str) -> Vec<String> {
    let Some((kind, task)) = wanted.split_once('.') else { return Vec::new() };
    let has = |p: &&Part<'_>| {
        let applies = |t: &TaskTemplate| t.id == task && t.when.as_ref().is_none_or(|flag| p.record.flag(flag));
        p.kind.id == kind && p.kind.tasks.iter().any(applies)
    };
    parts.values().filter(has).map(|p| format!("{}.{task}", p.id)).collect()
}

fn drop_unknown(spec: &Spec, tasks: &mut IndexMap<String, Task<'_>>, sink: &mut Sink) {
    for (id, record) in &spec.tasks {
        for wanted in record.list("after") {
            if tasks.contains_key(&wanted.value) {
                continue;
            }
            let known = (!sink.is_long()).then(|| tasks.keys());
            let near = known.into_iter().flatten().min_by_key(|k| strsim::damerau_levenshtein(k, &wanted.value));
            let mut finding = Finding::error(
                "unknown-task",
                format!("task `{id}` comes after `{}`, which this build does not have", wanted.value),
            )
            .about(id)
            .at(wanted.span, "no such task");
            if let Some(near) = near {
                finding = finding.help(format!("did you mean `{near}`?"));
            }
            sink.push(finding);
            if let Some(task) = tasks.get_mut(id) {
                task.after.retain(|a| a != &wanted.value);
            }
        }
    }
}
