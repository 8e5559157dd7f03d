//! Hold points of the build, and what proves each.

use super::Part;
use super::part::meant;
use super::task::{Every, Task};
use crate::kinds::{Need, Proof, Proving, States};
use crate::spec::TaskSection;
use indexmap::IndexMap;
use std::collections::BTreeMap;
use std::sync::Arc;

/// Where work stops until someone signs.
#[derive(Clone, Debug)]
pub struct Hold {
    /// One that safety, law or warranty asks for.
    pub essential: bool,
    /// What must be recorded and good before it is signed; nothing where the signature is the record.
    pub proof: Vec<Proved>,
}

/// One thing that proves a hold point.
#[derive(Clone, Debug)]
pub enum Proved {
    /// A reading, by its key in `[recorded.readings]`.
    Reading(String),
    /// All readings of these tasks; what many hold points wait for is kept once.
    Tasks(Arc<Every>),
    /// The dead tests of every circuit that the job pulls.
    DeadTests,
}

/// The hold points by the ids of their tasks.
pub(super) fn holds(
    parts: &IndexMap<String, Part<'_>>,
    own: &IndexMap<String, TaskSection>,
    tasks: &IndexMap<String, Task<'_>>,
    states: &States,
) -> IndexMap<String, Hold> {
    let mut found = Found { parts, own, tasks, states, known: BTreeMap::new() };
    let mut holds = IndexMap::new();
    for task in tasks.values() {
        let part = task.part.as_ref().and_then(|id| parts.get(id));
        let own_readings = || Proved::Tasks(Arc::new(Every { name: task.id.clone(), ids: vec![task.id.clone()] }));
        let hold = match (task.template, part) {
            (Some(template), Some(part)) if template.hold.is_some() => {
                let proof = match &template.proof {
                    Proof::Inspection => Vec::new(),
                    Proof::Own => vec![own_readings()],
                    Proof::Of(list) => list.iter().flat_map(|entry| found.proved(part, task, entry)).collect(),
                };
                Hold { essential: template.essential, proof }
            }
            (None, _) if own.get(&task.id).and_then(|t| t.hold.text()).is_some_and(|h| !h.trim().is_empty()) => {
                Hold { essential: true, proof: vec![own_readings()] }
            }
            _ => continue,
        };
        holds.insert(task.id.clone(), hold);
    }
    holds
}

/// Tasks by the states that they bring, looked for once for each state that is asked for.
struct Found<'b, 'k> {
    parts: &'b IndexMap<String, Part<'k>>,
    own: &'b IndexMap<String, TaskSection>,
    tasks: &'b IndexMap<String, Task<'k>>,
    states: &'b States,
    known: BTreeMap<String, Arc<Every>>,
}

impl Found<'_, '_> {
    fn proved(&mut self, part: &Part<'_>, task: &Task<'_>, entry: &str) -> Vec<Proved> {
        let need = match part.kind.proving(entry) {
            Proving::Reading(id) => return vec![Proved::Reading(format!("{}.{id}", part.id))],
            Proving::DeadTests => return vec![Proved::DeadTests],
            Proving::State(need) => need,
        };
        // All parts of a role, or the van, are the same whoever asks.
        let shared = match need {
            Need::Plain(state) => self.states.is_of_van(state),
            Need::Of(of, _) => part.record.list(of).is_empty(),
        };
        let known = self.known.get(entry).filter(|_| shared).cloned();
        let every = known.unwrap_or_else(|| {
            let ids = match need {
                Need::Plain(state) if shared => self.bringing(state, |_| true),
                Need::Plain(state) => self.bringing(state, |t| t.part.as_ref() == Some(&part.id)),
                Need::Of(of, state) => {
                    let meant: Vec<&str> = meant(self.parts, part, of).map(|p| p.id.as_str()).collect();
                    self.bringing(state, |t| t.part.as_deref().is_some_and(|p| meant.contains(&p)))
                }
            };
            Arc::new(Every { name: entry.to_owned(), ids })
        });
        if shared {
            self.known.insert(entry.to_owned(), Arc::clone(&every));
        }
        // Nobody proves a hold point by itself.
        let own = every.ids.contains(&task.id);
        let others = || every.ids.iter().filter(|id| **id != task.id).cloned().collect();
        let every = if own { Arc::new(Every { name: entry.to_owned(), ids: others() }) } else { every };
        vec![Proved::Tasks(every)]
    }

    fn bringing(&self, state: &str, of: impl Fn(&Task<'_>) -> bool) -> Vec<String> {
        let brings = |task: &Task<'_>| match task.template {
            Some(template) => template.brings(state),
            None => self.own.get(&task.id).is_some_and(|t| t.brings.all().iter().any(|b| b.value == state)),
        };
        self.tasks.values().filter(|t| of(t) && brings(t)).map(|t| t.id.clone()).collect()
    }
}
