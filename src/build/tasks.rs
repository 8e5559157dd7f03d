//! Tasks of technicians: what the kinds bring, and those of this build alone.

use super::Part;
use crate::diag::{Finding, Sink};
use crate::kinds::{Stage, TaskTemplate};
use crate::source::Span;
use crate::spec::Spec;
use indexmap::IndexMap;
use serde::{Serialize, Serializer};
use std::collections::BTreeMap;
use std::sync::Arc;

/// What a task waits for. Many tasks wait for the same task of every part of a kind: those ids are kept once for all.
#[derive(Clone, Debug, Default)]
pub struct After {
    /// Ids that only this task names.
    pub single: Vec<String>,
    /// Tasks of other kinds.
    pub every: Vec<Arc<Every>>,
}

/// The same task of every part of a kind that has it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Every {
    /// `<kind>.<task>`.
    pub name: String,
    /// Ids of the tasks, in the order of the parts.
    pub ids: Vec<String>,
}

impl After {
    /// All ids.
    pub fn ids(&self) -> impl Iterator<Item = &str> {
        self.single.iter().chain(self.every.iter().flat_map(|every| &every.ids)).map(String::as_str)
    }
}

impl Serialize for After {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_seq(self.ids())
    }
}

/// A task of the build.
#[derive(Clone, Debug, Serialize)]
pub struct Task<'k> {
    /// Id: `<component>.<task>`, or the key of `[task.…]`.
    pub id: String,
    /// Stage.
    pub stage: Stage,
    /// Part it belongs to; `None` for a task of the build.
    pub part: Option<String>,
    /// Tasks that come before.
    pub after: After,
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
    let mut others = OtherKinds::of(parts);
    for part in parts.values() {
        let applies = |t: &&TaskTemplate| t.when.as_ref().is_none_or(|flag| part.record.flag(flag));
        let present: Vec<_> = part.kind.tasks.iter().filter(applies).collect();
        for &template in &present {
            let id = format!("{}.{}", part.id, template.id);
            let own = template.after.iter().filter(|a| present.iter().any(|t| &t.id == *a));
            let mut after = After { single: own.map(|a| format!("{}.{a}", part.id)).collect(), every: Vec::new() };
            for every in template.after.iter().filter_map(|a| others.every(a)) {
                // No task waits for itself.
                if every.ids.contains(&id) {
                    after.single.extend(every.ids.iter().filter(|a| **a != id).cloned());
                } else {
                    after.every.push(every);
                }
            }
            let task = Task {
                id: id.clone(),
                stage: template.stage,
                part: Some(part.id.clone()),
                after,
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
        let single = record.list("after").iter().map(|a| a.value.clone()).collect();
        let task = Task {
            id: id.clone(),
            stage,
            part: None,
            after: After { single, every: Vec::new() },
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

/// Tasks of every part of a kind, made once for each that is asked for.
struct OtherKinds<'p, 'k> {
    parts: BTreeMap<&'p str, Vec<&'p Part<'k>>>,
    known: BTreeMap<String, Arc<Every>>,
}

impl<'p, 'k> OtherKinds<'p, 'k> {
    fn of(parts: &'p IndexMap<String, Part<'k>>) -> Self {
        let mut of_kind: BTreeMap<&str, Vec<&Part<'k>>> = BTreeMap::new();
        for part in parts.values() {
            of_kind.entry(&part.kind.id).or_default().push(part);
        }
        Self { parts: of_kind, known: BTreeMap::new() }
    }

    /// The tasks that `<kind>.<task>` stands for: one for each part of that kind which has it; `None` where no part has.
    fn every(&mut self, wanted: &str) -> Option<Arc<Every>> {
        let (kind, task) = wanted.split_once('.')?;
        let parts = self.parts.get(kind)?;
        let made = || {
            let has = |p: &&&Part<'_>| {
                let applies = |t: &TaskTemplate| t.id == task && t.when.as_ref().is_none_or(|flag| p.record.flag(flag));
                p.kind.tasks.iter().any(applies)
            };
            let ids = parts.iter().filter(has).map(|p| format!("{}.{task}", p.id)).collect();
            Arc::new(Every { name: wanted.to_owned(), ids })
        };
        let every = self.known.entry(wanted.to_owned()).or_insert_with(made);
        (!every.ids.is_empty()).then(|| Arc::clone(every))
    }
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
                task.after.single.retain(|a| a != &wanted.value);
            }
        }
    }
}
