//! Who brings which state: tasks by what they bring, parts by what a need calls them.

use super::part::meant;
use super::task::{Every, Task};
use super::{Part, Scope};
use crate::fields::Record;
use crate::kinds::{Condition, Need, Of, Stage, State, States, TaskTemplate, There};
use crate::spec::{Spec, TaskSection};
use indexmap::IndexMap;
use std::cell::OnceCell;
use std::collections::BTreeMap;
use std::sync::Arc;

/// Whether a task of a kind stands for a part: here alone it is decided what this job works on.
pub(super) fn applies(template: &TaskTemplate, part: &Part<'_>, states: &States) -> bool {
    let brought = || template.brings.iter().filter_map(|state| states.get(state)).filter(|state| state.of == Of::Part);
    let done = match part.scope {
        Scope::New | Scope::Removed => template.there.is_none_or(There::is_of_new),
        Scope::Altered => {
            let only_room = brought().any(|state| state.room) && brought().all(|state| state.room);
            template.there.is_none_or(There::is_of_new) && !only_room
        }
        Scope::Existing => template.there.is_some_and(|there| there.is_of_kept(part.fed)),
    };
    done && Condition::lets(template.when.as_ref(), part.record)
}

/// A task of the spec in a stage that there is.
pub(super) struct Own<'s> {
    pub(super) id: &'s str,
    pub(super) stage: Stage,
    /// The component of the build it is about.
    pub(super) part: Option<&'s str>,
    pub(super) section: TaskSection,
    pub(super) record: &'s Record,
}

/// The tasks of the spec in stages that there are.
pub(super) fn own<'s>(spec: &'s Spec, parts: &IndexMap<String, Part<'_>>) -> Vec<Own<'s>> {
    let tasks = spec.tasks.iter().filter_map(|(id, record)| {
        let section = TaskSection::of(record);
        let stage = section.stage.text().and_then(Stage::from_id)?;
        let part = record.list("component").first().map(|c| c.value.as_str()).filter(|c| parts.contains_key(*c));
        Some(Own { id, stage, part, section, record })
    });
    tasks.collect()
}

/// What stands behind an address that a task of the spec needs.
pub(super) enum Asked {
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
pub(super) struct Bringers<'p, 'k> {
    pub(super) states: &'p States,
    pub(super) parts: &'p IndexMap<String, Part<'k>>,
    own: &'p [Own<'p>],
    of: BTreeMap<&'p str, Vec<(Stage, String)>>,
    known: BTreeMap<String, Arc<Every>>,
    /// Parts by the places they stand in; made when one is asked for.
    at: OnceCell<BTreeMap<&'p str, Vec<&'p Part<'k>>>>,
}

impl<'p, 'k> Bringers<'p, 'k> {
    /// Of the tasks of a build, some of which slip to a later stage.
    pub(super) fn of(
        own: &'p [Own<'p>],
        parts: &'p IndexMap<String, Part<'k>>,
        states: &'p States,
        slipped: &BTreeMap<String, Stage>,
    ) -> Self {
        let mut of: BTreeMap<&str, Vec<(Stage, String)>> = BTreeMap::new();
        let mut put = |state: &'p str, stage: Stage, id: String| {
            if states.is_of_van(state) {
                of.entry(state).or_default().push((stage, id));
            }
        };
        for part in parts.values() {
            for task in part.kind.tasks.iter().filter(|t| !t.brings.is_empty() && applies(t, part, states)) {
                let id = format!("{}.{}", part.id, task.id);
                let stage = slipped.get(&id).copied().unwrap_or(task.stage);
                task.brings.iter().for_each(|s| put(s, stage, id.clone()));
            }
        }
        for task in own {
            task.section.brings.all().iter().for_each(|s| put(&s.value, task.stage, task.id.to_owned()));
        }
        Self { states, parts, own, of, known: BTreeMap::new(), at: OnceCell::new() }
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

    /// Tasks that bring what an address of a kind means for `part`: by themselves what is of this part alone, under a name of
    /// their own those that many ask for.
    pub(super) fn needed(&mut self, part: &Part<'_>, need: Need<'_>) -> (Vec<String>, Vec<Arc<Every>>) {
        match need {
            Need::Plain(state) if self.states.is_of_van(state) => (Vec::new(), self.every(state).into_iter().collect()),
            Need::Plain(state) => (self.brought(part, state), Vec::new()),
            Need::Of(Need::PLACE, state) => (Vec::new(), self.beside(part, state)),
            Need::Of(of, state) if of == Need::ON || !part.record.list(of).is_empty() => {
                (self.of_others(part, of, state), Vec::new())
            }
            // All parts of a role are the same whoever asks.
            Need::Of(of, state) => (Vec::new(), vec![self.of_role(part, of, state)]),
        }
    }

    /// Tasks that bring a state of the parts that a field of `part` names, or of all that have a role.
    fn of_others(&self, part: &Part<'_>, of: &str, state: &str) -> Vec<String> {
        meant(self.parts, part, of).flat_map(|p| self.brought(p, state)).collect()
    }

    fn of_role(&mut self, part: &Part<'_>, role: &str, state: &str) -> Arc<Every> {
        let name = format!("{role}.{state}");
        if let Some(known) = self.known.get(&name) {
            return Arc::clone(known);
        }
        let every = Arc::new(Every { name: name.clone(), ids: self.of_others(part, role, state) });
        self.known.insert(name, Arc::clone(&every));
        every
    }

    /// Tasks that bring a state of the parts that stand where `part` does.
    fn beside(&mut self, part: &Part<'_>, state: &str) -> Vec<Arc<Every>> {
        let parts = self.parts;
        let by_place = self.at.get_or_init(|| {
            let mut by_place: BTreeMap<&str, Vec<&Part<'_>>> = BTreeMap::new();
            parts.values().for_each(|p| p.places.iter().for_each(|at| by_place.entry(at).or_default().push(p)));
            by_place
        });
        let name = |place: &String| format!("{state} at {place}");
        let missing = part.places.iter().filter(|place| !self.known.contains_key(&name(place)));
        let made: Vec<(String, Arc<Every>)> = missing
            .map(|place| {
                let there = by_place.get(place.as_str()).into_iter().flatten();
                let ids = there.flat_map(|p| self.brought(p, state)).collect();
                (name(place), Arc::new(Every { name: name(place), ids }))
            })
            .collect();
        self.known.extend(made);
        let all = part.places.iter().filter_map(|place| self.known.get(&name(place)));
        all.filter(|every| !every.ids.is_empty()).map(Arc::clone).collect()
    }

    /// Whether a state must be so, and neither a task nor what was there before makes it so.
    pub(super) fn must_yet_nobody(&self, state: &str) -> bool {
        let there = || {
            let before = self.parts.values().filter(|p| !p.is_worked_on());
            before.flat_map(|p| &p.kind.tasks).any(|t| t.brings(state))
        };
        self.states.get(state).is_some_and(|s| s.must) && !self.of.contains_key(state) && !there()
    }

    /// Tasks that bring a state of a part.
    fn brought(&self, part: &Part<'_>, state: &str) -> Vec<String> {
        let of_kind = part.kind.tasks.iter().filter(|t| t.brings(state) && applies(t, part, self.states));
        let of_spec = self.own.iter().filter(|t| {
            t.part == Some(&part.id) && t.section.brings.all().iter().any(|brought| brought.value == state)
        });
        let of_kind = of_kind.map(|t| format!("{}.{}", part.id, t.id));
        of_kind.chain(of_spec.map(|t| t.id.to_owned())).collect()
    }

    /// What stands behind an address in a task of the spec about `part`: a task, a state of the van, of that part or of
    /// another.
    pub(super) fn asked(
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
            (None, Some(_)) if is_state => {
                let brings = |t: &&Task<'_>| t.template.is_some_and(|t| t.brings(state));
                let theirs = tasks.values().filter(|t| t.part.as_deref() == Some(of)).filter(brings);
                Asked::Tasks(theirs.map(|t| t.id.clone()).collect())
            }
            (None, Some(part)) if has_task(part) => Asked::Nothing,
            _ => Asked::Unknown,
        }
    }

    /// What comes before a task for what it brings: all of its stage or an earlier one that bring what must be so first.
    pub(super) fn before<'t>(
        &mut self,
        brings: &(impl Iterator<Item = &'t str> + Clone),
        by: Stage,
    ) -> Vec<Arc<Every>> {
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
