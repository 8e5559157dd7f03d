//! Hold points of the build, and what proves each.

use super::Part;
use super::bringers::{Bringers, Own};
use super::task::{Every, Task};
use crate::kinds::{Proof, Proving};
use indexmap::IndexMap;
use std::collections::BTreeSet;
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
    bringers: &mut Bringers<'_, '_>,
    own: &[Own<'_>],
    tasks: &IndexMap<String, Task<'_>>,
    removed: &IndexMap<String, Part<'_>>,
) -> IndexMap<String, Hold> {
    let is_held = |own: &&Own<'_>| own.section.hold.text().is_some_and(|hold| !hold.trim().is_empty());
    let with_hold: BTreeSet<&str> = own.iter().filter(is_held).map(|own| own.id).collect();
    let parts = bringers.parts;
    let mut holds = IndexMap::new();
    for task in tasks.values() {
        let part = task.part.as_ref().and_then(|id| parts.get(id).or_else(|| removed.get(id)));
        let own_readings = || Proved::Tasks(Arc::new(Every { name: task.id.clone(), ids: vec![task.id.clone()] }));
        let hold = match (task.template, part) {
            (Some(template), Some(part)) if template.hold.is_some() => {
                let proof = match &template.proof {
                    Proof::Inspection => Vec::new(),
                    Proof::Own => vec![own_readings()],
                    Proof::Of(list) => list.iter().flat_map(|entry| proved(bringers, part, task, entry)).collect(),
                };
                Hold { essential: template.essential, proof }
            }
            (None, _) if with_hold.contains(task.id.as_str()) => Hold { essential: true, proof: vec![own_readings()] },
            _ => continue,
        };
        holds.insert(task.id.clone(), hold);
    }
    holds
}

/// What an entry of a list means that proves the hold point of a task.
fn proved(bringers: &mut Bringers<'_, '_>, part: &Part<'_>, task: &Task<'_>, entry: &str) -> Vec<Proved> {
    let need = match part.kind.proving(entry) {
        Proving::Reading(id) => return vec![Proved::Reading(format!("{}.{id}", part.id))],
        Proving::DeadTests => return vec![Proved::DeadTests],
        Proving::State(need) => need,
    };
    let of_entry = |ids| Arc::new(Every { name: entry.to_owned(), ids });
    let (single, mut all) = bringers.needed(part, need);
    if all.is_empty() {
        all.push(of_entry(single));
    }
    // Nobody proves a hold point by itself.
    let others = |every: Arc<Every>| {
        if every.ids.contains(&task.id) {
            return of_entry(every.ids.iter().filter(|id| **id != task.id).cloned().collect());
        }
        every
    };
    all.into_iter().map(others).map(Proved::Tasks).collect()
}
