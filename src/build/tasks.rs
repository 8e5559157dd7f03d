//! Tasks of technicians: what the kinds bring, and those of this build alone.

use super::Part;
use crate::diag::{Finding, Sink};
use crate::fields::{Record, Value};
use crate::kinds::{Condition, Need, Reading, Stage, State, States, TaskTemplate};
use crate::source::Span;
use crate::spec::Spec;
use indexmap::IndexMap;
use serde::{Serialize, Serializer};
use std::collections::BTreeMap;
use std::sync::Arc;

/// What a task waits for. Many tasks wait for the same state of the van: the ids that bring it are kept once for all.
#[derive(Clone, Debug, Default)]
pub struct After {
    /// Ids that only this task names.
    pub single: Vec<String>,
    /// Tasks by what they bring.
    pub every: Vec<Arc<Every>>,
}

/// All tasks that bring a state.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Every {
    /// The state, and by which stage where the rest comes later.
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
    states: &States,
    sink: &mut Sink,
) -> IndexMap<String, Task<'k>> {
    let mut tasks = IndexMap::new();
    let mut bringers = Bringers::of(parts, states);
    // Here alone it is decided what this job works on: nothing else has tasks, and nothing waits for it.
    for part in parts.values().filter(|p| p.is_worked_on()) {
        for template in part.kind.tasks.iter().filter(|t| applies(t, part)) {
            let id = format!("{}.{}", part.id, template.id);
            let mut after = After::default();
            let mut waits: Vec<Arc<Every>> = Vec::new();
            for need in template.needs.iter().map(|need| Need::read(need)) {
                match need {
                    Need::Plain(state) if states.is_of_van(state) => waits.extend(bringers.every(state)),
                    Need::Plain(state) => after.single.extend(brought(part, state)),
                    Need::Of(of, state) => after.single.extend(bringers.of_others(part, of, state)),
                }
            }
            waits.extend(bringers.before(template));
            after.single.retain(|a| *a != id);
            for every in waits {
                // No task waits for itself.
                if every.ids.contains(&id) {
                    after.single.extend(every.ids.iter().filter(|a| **a != id).cloned());
                } else if !after.every.iter().any(|e| e.name == every.name) {
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
        let whole = |field: &str| record.count(field).and_then(|n| u32::try_from(n).ok()).unwrap_or_default();
        let single = record.list("after").iter().map(|a| a.value.clone()).collect();
        let task = Task {
            id: id.clone(),
            stage,
            part: record.list("component").first().map(|c| c.value.clone()).filter(|c| parts.contains_key(c)),
            after: After { single, every: Vec::new() },
            template: None,
            readings: own_readings(id, record, sink),
            minutes: whole("minutes"),
            people: whole("people").max(1),
            span: record.span,
        };
        readings_once(id, record, parts.get(task.part.as_deref().unwrap_or_default()), sink);
        tasks.insert(id.clone(), task);
    }
    drop_unknown(spec, parts, removed, &mut tasks, sink);
    tasks
}

fn applies(template: &TaskTemplate, part: &Part<'_>) -> bool {
    Condition::lets(template.when.as_ref(), part.record)
}

/// Tasks of a part that bring a state.
fn brought<'a>(part: &'a Part<'_>, state: &'a str) -> impl Iterator<Item = String> + 'a {
    let bring = part.kind.tasks.iter().filter(move |t| part.is_worked_on() && t.brings(state) && applies(t, part));
    bring.map(|t| format!("{}.{}", part.id, t.id))
}

/// Tasks by the states of the van that they bring, and parts by their roles, made once for each that is asked for.
struct Bringers<'p, 'k> {
    states: &'p States,
    parts: &'p IndexMap<String, Part<'k>>,
    of: BTreeMap<&'p str, Vec<(Stage, String)>>,
    known: BTreeMap<String, Arc<Every>>,
}

impl<'p, 'k> Bringers<'p, 'k> {
    fn of(parts: &'p IndexMap<String, Part<'k>>, states: &'p States) -> Self {
        let mut of: BTreeMap<&str, Vec<(Stage, String)>> = BTreeMap::new();
        for part in parts.values().filter(|p| p.is_worked_on()) {
            let bringing = part.kind.tasks.iter().filter(|t| !t.brings.is_empty() && applies(t, part));
            for (task, state) in bringing.flat_map(|t| t.brings.iter().map(move |s| (t, s.as_str()))) {
                if states.is_of_van(state) {
                    of.entry(state).or_default().push((task.stage, format!("{}.{}", part.id, task.id)));
                }
            }
        }
        Self { states, parts, of, known: BTreeMap::new() }
    }

    /// All tasks that bring a state of the van; `None` where nobody does.
    fn every(&mut self, state: &str) -> Option<Arc<Every>> {
        let bringing = self.of.get(state)?;
        let made = || {
            let ids = bringing.iter().map(|(_, id)| id.clone()).collect();
            Arc::new(Every { name: state.to_owned(), ids })
        };
        Some(Arc::clone(self.known.entry(state.to_owned()).or_insert_with(made)))
    }

    /// Tasks that bring a state of the parts that a field of `part` names, or of all that have a role.
    fn of_others(&self, part: &Part<'_>, of: &str, state: &str) -> Vec<String> {
        let named = part.record.list(of);
        let has_role = |p: &&Part<'_>| named.is_empty() && p.kind.roles.contains(&of);
        let by_field = named.iter().filter_map(|id| self.parts.get(&id.value));
        by_field.chain(self.parts.values().filter(has_role)).flat_map(|p| brought(p, state)).collect()
    }

    /// What comes before a task for what it brings: all of its stage or an earlier one that bring what must be so first.
    fn before(&mut self, task: &TaskTemplate) -> Vec<Arc<Every>> {
        let mut all = Vec::new();
        let states = self.states;
        let first = task.brings.iter().filter_map(|s| states.get(s)).flat_map(State::before);
        // What brings both brings the second last.
        for first in first.filter(|first| !task.brings(first)) {
            // No state of a file holds a blank.
            let name = format!("{first} by {}", task.stage.id());
            let bringing = self.of.get(first);
            let every = self.known.entry(name.clone()).or_insert_with(|| {
                let in_time = bringing.into_iter().flatten().filter(|(stage, _)| *stage <= task.stage);
                Arc::new(Every { name, ids: in_time.map(|(_, id)| id.clone()).collect() })
            });
            if !every.ids.is_empty() {
                all.push(Arc::clone(every));
            }
        }
        all
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
