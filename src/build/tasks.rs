//! Tasks of technicians: what the kinds bring, and those of this build alone.

use super::Part;
use crate::diag::{Finding, Sink};
use crate::fields::{Record, Value};
use crate::kinds::{Deed, Reading, Stage, TaskTemplate};
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

/// The same task of every part of a kind that has it, or all tasks that do the same.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Every {
    /// `<kind>.<task>`, or the name of what they do.
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
    /// Part it belongs to; `None` for a task of the build that is about none.
    pub part: Option<String>,
    /// Tasks that come before.
    pub after: After,
    /// What the kind says; `None` for a task of the build.
    #[serde(skip)]
    pub template: Option<&'k TaskTemplate>,
    /// Readings of a task of the build, which names no field of a kind.
    #[serde(skip)]
    pub readings: Vec<Reading>,
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
    removed: &IndexMap<String, Part<'k>>,
    sink: &mut Sink,
) -> IndexMap<String, Task<'k>> {
    let mut tasks = IndexMap::new();
    let mut others = OtherKinds::of(parts);
    // Here alone it is decided what this job works on: nothing else has tasks, and nothing waits for it.
    for part in parts.values().filter(|p| p.is_worked_on()) {
        let present: Vec<_> = part.kind.tasks.iter().filter(|t| applies(t, part)).collect();
        for &template in &present {
            let id = format!("{}.{}", part.id, template.id);
            let own = template.after.iter().filter(|a| present.iter().any(|t| &t.id == *a));
            let mut after = After { single: own.map(|a| format!("{}.{a}", part.id)).collect(), every: Vec::new() };
            let of_kinds: Vec<_> = template.after.iter().filter_map(|a| others.every(a)).collect();
            for every in of_kinds.into_iter().chain(others.before(template)) {
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
                readings: Vec::new(),
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
            part: record.list("component").first().map(|c| c.value.clone()).filter(|c| parts.contains_key(c)),
            after: After { single, every: Vec::new() },
            template: None,
            readings: own_readings(id, record, sink),
            minutes: whole("minutes", 30),
            people: whole("people", 1).max(1),
            span: record.span,
        };
        readings_once(id, record, parts.get(task.part.as_deref().unwrap_or_default()), sink);
        tasks.insert(id.clone(), task);
    }
    drop_unknown(spec, parts, removed, &mut tasks, sink);
    tasks
}

fn applies(template: &TaskTemplate, part: &Part<'_>) -> bool {
    template.when.as_ref().is_none_or(|condition| condition.holds(part.record))
}

/// Tasks of every part of a kind, and tasks by what they do, made once for each that is asked for.
struct OtherKinds<'p, 'k> {
    parts: BTreeMap<&'p str, Vec<&'p Part<'k>>>,
    deeds: BTreeMap<Deed, Vec<(Stage, String)>>,
    known: BTreeMap<String, Arc<Every>>,
}

impl<'p, 'k> OtherKinds<'p, 'k> {
    fn of(parts: &'p IndexMap<String, Part<'k>>) -> Self {
        let mut of_kind: BTreeMap<&str, Vec<&Part<'k>>> = BTreeMap::new();
        let mut deeds: BTreeMap<Deed, Vec<(Stage, String)>> = BTreeMap::new();
        for part in parts.values().filter(|p| p.is_worked_on()) {
            of_kind.entry(&part.kind.id).or_default().push(part);
            let doing = part.kind.tasks.iter().filter(|t| !t.does.is_empty() && applies(t, part));
            for (task, deed) in doing.flat_map(|t| t.does.iter().map(move |d| (t, *d))) {
                deeds.entry(deed).or_default().push((task.stage, format!("{}.{}", part.id, task.id)));
            }
        }
        Self { parts: of_kind, deeds, known: BTreeMap::new() }
    }

    /// What comes before a task for what it does: all of its stage or an earlier one that do what must be done first.
    fn before(&mut self, task: &TaskTemplate) -> Vec<Arc<Every>> {
        let mut all = Vec::new();
        for first in task.does.iter().flat_map(|d| d.before()) {
            // What does both does the second last.
            if task.does.contains(&first) {
                continue;
            }
            let name = first.by(task.stage);
            let doing = self.deeds.get(&first);
            let every = self.known.entry(name.clone()).or_insert_with(|| {
                let in_time = doing.into_iter().flatten().filter(|(stage, _)| *stage <= task.stage);
                Arc::new(Every { name, ids: in_time.map(|(_, id)| id.clone()).collect() })
            });
            if !every.ids.is_empty() && !all.iter().any(|e: &Arc<Every>| e.name == every.name) {
                all.push(Arc::clone(every));
            }
        }
        all
    }

    /// The tasks that `<kind>.<task>` stands for: one for each part of that kind which has it; `None` where no part has.
    fn every(&mut self, wanted: &str) -> Option<Arc<Every>> {
        let (kind, task) = wanted.split_once('.')?;
        let parts = self.parts.get(kind)?;
        let made = || {
            let has = |p: &&&Part<'_>| p.kind.tasks.iter().any(|t| t.id == task && applies(t, p));
            let ids = parts.iter().filter(has).map(|p| format!("{}.{task}", p.id)).collect();
            Arc::new(Every { name: wanted.to_owned(), ids })
        };
        let every = self.known.entry(wanted.to_owned()).or_insert_with(made);
        (!every.ids.is_empty()).then(|| Arc::clone(every))
    }
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
fn readings_once(id: &str, record: &Record, part: Option<&Part<'_>>, sink: &mut Sink) {
    let there = |reading: &str| {
        let brought =
            part.filter(|p| p.is_worked_on()).into_iter().flat_map(|p| p.kind.tasks.iter().filter(|t| applies(t, p)));
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

fn drop_unknown(
    spec: &Spec,
    parts: &IndexMap<String, Part<'_>>,
    removed: &IndexMap<String, Part<'_>>,
    tasks: &mut IndexMap<String, Task<'_>>,
    sink: &mut Sink,
) {
    // A task that is not done, since its part is there or comes out, is nothing to wait for.
    let is_void = |wanted: &str| {
        let Some((part, task)) = wanted.split_once('.') else { return false };
        let part = parts.get(part).filter(|p| !p.is_worked_on()).or_else(|| removed.get(part));
        part.is_some_and(|p| p.kind.tasks.iter().any(|t| t.id == task))
    };
    for (id, record) in &spec.tasks {
        for wanted in record.list("after") {
            if tasks.contains_key(&wanted.value) {
                continue;
            }
            if is_void(&wanted.value) {
                if let Some(task) = tasks.get_mut(id) {
                    task.after.single.retain(|a| a != &wanted.value);
                }
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
