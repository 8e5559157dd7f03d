//! Tasks of technicians: what the kinds bring, and those of this build alone.

use super::Part;
use super::part::meant;
use crate::diag::{Finding, Sink};
use crate::fields::{Field, Record, Value};
use crate::kinds::{Condition, Need, Of, Reading, Stage, State, States, TaskTemplate};
use crate::source::{Span, Spanned};
use crate::spec::{Spec, TaskSection};
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
    /// Where a task of the spec asks for one.
    pub asked: Vec<(String, Span)>,
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
    /// Takes in what brings states of the van: no task waits for itself.
    fn wait(&mut self, id: &str, waits: Vec<Arc<Every>>) {
        self.single.retain(|a| a != id);
        for every in waits {
            if every.ids.iter().any(|a| a == id) {
                self.single.extend(every.ids.iter().filter(|a| *a != id).cloned());
            } else if !self.every.iter().any(|e| e.name == every.name) {
                self.every.push(every);
            }
        }
    }

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
    let own = own(spec, parts);
    let mut bringers = Bringers::of(&own, parts, states);
    // Here alone it is decided what this job works on: nothing else has tasks, and nothing waits for it.
    for part in parts.values().filter(|p| p.is_worked_on()) {
        for template in part.kind.tasks.iter().filter(|t| applies(t, part)) {
            let id = format!("{}.{}", part.id, template.id);
            let mut after = After::default();
            let mut waits: Vec<Arc<Every>> = Vec::new();
            for need in template.needs.iter().map(|need| Need::read(need)) {
                match need {
                    Need::Plain(state) if states.is_of_van(state) => waits.extend(bringers.every(state)),
                    Need::Plain(state) => after.single.extend(bringers.brought(part, state)),
                    Need::Of(of, state) => after.single.extend(bringers.of_others(part, of, state)),
                }
            }
            waits.extend(bringers.before(&template.brings.iter().map(String::as_str), template.stage));
            after.wait(&id, waits);
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
    for Own { id, stage, part, section, record } in &own {
        let whole = |field: &Field<i64>| field.get().and_then(|n| u32::try_from(n).ok()).unwrap_or_default();
        let mut after = After::default();
        let mut waits = Vec::new();
        for need in section.needs.all() {
            match bringers.asked(*part, &need.value, (spec, &tasks, removed)) {
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
            span: record.span,
        };
        readings_once(id, record, parts.get(task.part.as_deref().unwrap_or_default()), sink);
        tasks.insert((*id).to_owned(), task);
    }
    tasks
}

fn applies(template: &TaskTemplate, part: &Part<'_>) -> bool {
    Condition::lets(template.when.as_ref(), part.record)
}

/// A task of the spec in a stage that there is.
struct Own<'s> {
    id: &'s str,
    stage: Stage,
    /// The component of the build it is about.
    part: Option<&'s str>,
    section: TaskSection,
    record: &'s Record,
}

fn own<'s>(spec: &'s Spec, parts: &IndexMap<String, Part<'_>>) -> Vec<Own<'s>> {
    let tasks = spec.tasks.iter().filter_map(|(id, record)| {
        let section = TaskSection::of(record);
        let stage = section.stage.text().and_then(Stage::from_id)?;
        let part = record.list("component").first().map(|c| c.value.as_str()).filter(|c| parts.contains_key(*c));
        Some(Own { id, stage, part, section, record })
    });
    tasks.collect()
}

/// What stands behind an address that a task of the spec needs.
enum Asked {
    /// These tasks.
    Tasks(Vec<String>),
    /// All that bring a state of the van.
    Every(Arc<Every>),
    /// What nobody brings, or what is not done since its part is there or comes out: nothing to wait for.
    Nothing,
    /// Nothing that this build knows.
    Unknown,
}

/// Tasks by the states of the van that they bring, and parts by their roles, made once for each that is asked for.
struct Bringers<'p, 'k> {
    states: &'p States,
    parts: &'p IndexMap<String, Part<'k>>,
    own: &'p [Own<'p>],
    of: BTreeMap<&'p str, Vec<(Stage, String)>>,
    known: BTreeMap<String, Arc<Every>>,
}

impl<'p, 'k> Bringers<'p, 'k> {
    fn of(own: &'p [Own<'p>], parts: &'p IndexMap<String, Part<'k>>, states: &'p States) -> Self {
        let mut of: BTreeMap<&str, Vec<(Stage, String)>> = BTreeMap::new();
        let mut put = |state: &'p str, stage: Stage, id: String| {
            if states.is_of_van(state) {
                of.entry(state).or_default().push((stage, id));
            }
        };
        for part in parts.values().filter(|p| p.is_worked_on()) {
            for task in part.kind.tasks.iter().filter(|t| !t.brings.is_empty() && applies(t, part)) {
                task.brings.iter().for_each(|s| put(s, task.stage, format!("{}.{}", part.id, task.id)));
            }
        }
        for task in own {
            task.section.brings.all().iter().for_each(|s| put(&s.value, task.stage, task.id.to_owned()));
        }
        Self { states, parts, own, of, known: BTreeMap::new() }
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
        meant(self.parts, part, of).flat_map(|p| self.brought(p, state)).collect()
    }

    /// Tasks that bring a state of a part.
    fn brought(&self, part: &Part<'_>, state: &str) -> Vec<String> {
        let of_kind = part.kind.tasks.iter().filter(|t| part.is_worked_on() && t.brings(state) && applies(t, part));
        let of_spec = self.own.iter().filter(|t| {
            t.part == Some(&part.id) && t.section.brings.all().iter().any(|brought| brought.value == state)
        });
        let of_kind = of_kind.map(|t| format!("{}.{}", part.id, t.id));
        of_kind.chain(of_spec.map(|t| t.id.to_owned())).collect()
    }

    /// What stands behind an address in a task of the spec about `part`: a task, a state of the van, of that part or of
    /// another.
    fn asked(
        &mut self,
        part: Option<&str>,
        need: &str,
        (spec, tasks, removed): (&Spec, &IndexMap<String, Task<'k>>, &IndexMap<String, Part<'k>>),
    ) -> Asked {
        if tasks.contains_key(need) || spec.tasks.contains_key(need) {
            return Asked::Tasks(vec![need.to_owned()]);
        }
        let (of, state) = match Need::read(need) {
            Need::Plain(state) if self.states.is_of_van(state) => {
                return self.every(state).map_or(Asked::Nothing, Asked::Every);
            }
            Need::Plain(state) => (part.unwrap_or_default(), state),
            Need::Of(of, state) => (of, state),
        };
        let is_state = self.states.get(state).is_some();
        let has_task = |part: &Part<'_>| part.kind.tasks.iter().any(|t| t.id == state);
        match (self.parts.get(of), removed.get(of)) {
            (Some(part), _) if is_state => Asked::Tasks(self.brought(part, state)),
            (Some(part), _) if !part.is_worked_on() && has_task(part) => Asked::Nothing,
            (None, Some(part)) if is_state || has_task(part) => Asked::Nothing,
            _ => Asked::Unknown,
        }
    }

    /// What comes before a task for what it brings: all of its stage or an earlier one that bring what must be so first.
    fn before<'t>(&mut self, brings: &(impl Iterator<Item = &'t str> + Clone), by: Stage) -> Vec<Arc<Every>> {
        let mut all = Vec::new();
        let states = self.states;
        let first = brings.clone().filter_map(|s| states.get(s)).flat_map(State::before);
        // What brings both brings the second last.
        for first in first.filter(|first| !brings.clone().any(|also| also == *first)) {
            // No state of a file holds a blank.
            let name = format!("{first} by {}", by.id());
            let bringing = self.of.get(first);
            let every = self.known.entry(name.clone()).or_insert_with(|| {
                let in_time = bringing.into_iter().flatten().filter(|(stage, _)| *stage <= by);
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
    let near = (!sink.is_long()).then(|| known.min_by_key(|known| strsim::damerau_levenshtein(known, word)));
    match near.flatten() {
        Some(near) => finding.help(format!("did you mean `{near}`?")),
        None => finding,
    }
}
