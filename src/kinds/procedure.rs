//! Procedures that are told once for the van, in the order of the states: the register `templates/procedures.toml`, and
//! the share that a part has in one.

use super::{Caution, Condition, Need, States};
use crate::catalogue::{Catalogue, Fault};
use crate::fields::Record;
use indexmap::IndexMap;
use serde::Deserialize;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// A procedure of the register.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Procedure {
    /// Its title.
    pub title: String,
    /// What it is for, in a sentence.
    pub about: String,
    /// When it is done, in a sentence.
    pub done: String,
    /// Season of the upkeep that may take its steps from a share.
    #[serde(default)]
    pub season: Option<String>,
}

/// The register.
#[derive(Clone, Debug, Default, Deserialize)]
pub struct Procedures(IndexMap<String, Procedure>);

impl Procedures {
    /// A procedure by its id.
    #[must_use]
    pub fn get(&self, id: &str) -> Option<&Procedure> {
        self.0.get(id)
    }

    /// All with their ids.
    pub fn iter(&self) -> impl Iterator<Item = (&str, &Procedure)> {
        self.0.iter().map(|(id, procedure)| (id.as_str(), procedure))
    }

    /// The procedure of a season.
    #[must_use]
    pub fn of_season(&self, season: &str) -> Option<&str> {
        self.iter().find(|(_, procedure)| procedure.season.as_deref() == Some(season)).map(|(id, _)| id)
    }
}

/// What all kinds stand on beside their roles: the states and the procedures that there are.
#[derive(Clone, Debug, Default)]
pub struct Registers {
    /// What can be true while a van is built or looked after.
    pub states: Arc<States>,
    /// What is told once for the van.
    pub procedures: Arc<Procedures>,
}

impl Registers {
    /// The registers of a catalogue, each read once.
    ///
    /// # Errors
    /// Where one does not read.
    pub fn of(catalogue: &Catalogue) -> Result<Self, Fault> {
        let procedures = catalogue.keep("procedures", |catalogue| catalogue.read::<Procedures>("procedures.toml"))?;
        Ok(Self { states: States::of(catalogue)?, procedures })
    }
}

/// The share of a part in a procedure.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Share {
    /// Id of the procedure.
    pub of: String,
    /// States that must be so before it, by their addresses.
    #[serde(default)]
    pub needs: Vec<String>,
    /// States that it brings.
    #[serde(default)]
    pub brings: Vec<String>,
    /// What is done.
    pub steps: Vec<String>,
    /// What must be so for a part to have it.
    #[serde(default)]
    pub when: Option<Condition>,
    /// Safety messages before the steps.
    #[serde(default)]
    pub cautions: Vec<Caution>,
}

impl Share {
    /// Whether a component with these fields has it.
    #[must_use]
    pub fn stands(&self, record: &Record) -> bool {
        Condition::lets(self.when.as_ref(), record)
    }
}

/// A state of a part by its id, or of the van where that is "".
pub type Key = (String, String);

/// What a step of a procedure waits for, and what it brings.
#[derive(Clone, Debug, Default)]
pub struct Step {
    /// What must be so before it; what no step brings is nothing to wait for.
    pub needs: Vec<Key>,
    /// What is so after it.
    pub brings: Vec<Key>,
}

impl Step {
    /// One that needs and brings states of the van alone, as far as these are such.
    #[must_use]
    pub fn of_van(states: &States, needs: &[String], brings: &[String]) -> Self {
        let key = |state: &str| (String::new(), state.to_owned());
        let plain = needs.iter().map(String::as_str).filter(|need| matches!(Need::read(need), Need::Plain(_)));
        let before = states.all_before(brings);
        let brought = brings.iter().map(String::as_str).filter(|state| states.is_of_van(state));
        Self { needs: plain.chain(before).map(key).collect(), brings: brought.map(key).collect() }
    }
}

/// The order of steps, and those that wait for each other in a circle.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct InOrder {
    /// Places of the steps: each after what it waits for, else as they came. Of a circle the first goes first.
    pub order: Vec<usize>,
    /// Places of those in a circle; empty where there is none.
    pub circle: Vec<usize>,
}

impl InOrder {
    /// Puts steps in order. A state is so when every step that brings it is done; what a step brings itself it does not
    /// wait for.
    #[must_use]
    pub fn of(steps: &[Step]) -> Self {
        let brings = |step: &Step| step.brings.iter().cloned().collect::<BTreeSet<Key>>();
        let mut open: BTreeMap<Key, usize> = BTreeMap::new();
        steps.iter().flat_map(brings).for_each(|key| *open.entry(key).or_default() += 1);
        let mut waiting: BTreeMap<Key, Vec<usize>> = BTreeMap::new();
        let mut left = vec![0_usize; steps.len()];
        for (place, step) in steps.iter().enumerate() {
            let needs = step.needs.iter().filter(|key| open.contains_key(*key) && !step.brings.contains(key));
            for key in needs.collect::<BTreeSet<_>>() {
                left[place] += 1;
                waiting.entry(key.clone()).or_default().push(place);
            }
        }
        let mut undone: BTreeSet<usize> = (0..steps.len()).collect();
        let mut ready: BTreeSet<usize> = undone.iter().copied().filter(|place| left[*place] == 0).collect();
        let mut all = Self::default();
        while let Some(first) = undone.first().copied() {
            let next = ready.pop_first().unwrap_or_else(|| {
                if all.circle.is_empty() {
                    all.circle = circle(steps, &undone);
                }
                all.circle.iter().copied().find(|place| undone.contains(place)).unwrap_or(first)
            });
            undone.remove(&next);
            all.order.push(next);
            for key in brings(&steps[next]) {
                let Some(more) = open.get_mut(&key) else { continue };
                *more -= 1;
                if *more > 0 {
                    continue;
                }
                for place in waiting.remove(&key).unwrap_or_default() {
                    left[place] -= 1;
                    if left[place] == 0 && undone.contains(&place) {
                        ready.insert(place);
                    }
                }
            }
        }
        all
    }
}

/// Those of the steps for which another of them waits, again and again: what is left waits in a circle.
fn circle(steps: &[Step], undone: &BTreeSet<usize>) -> Vec<usize> {
    let mut left = undone.clone();
    loop {
        let asked: BTreeSet<&Key> = left
            .iter()
            .flat_map(|place| steps[*place].needs.iter().filter(|key| !steps[*place].brings.contains(key)))
            .collect();
        let before = left.len();
        left.retain(|place| steps[*place].brings.iter().any(|key| asked.contains(key)));
        if left.len() == before {
            return left.into_iter().collect();
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn step(needs: &[&str], brings: &[&str]) -> Step {
        let keys = |names: &[&str]| names.iter().map(|name| (String::new(), (*name).to_owned())).collect();
        Step { needs: keys(needs), brings: keys(brings) }
    }

    #[test]
    fn a_step_comes_after_all_that_bring_what_it_needs_and_else_as_it_came() {
        let steps = [
            step(&["dry"], &[]),
            step(&[], &[]),
            step(&["empty"], &["dry"]),
            step(&["nobody-brings-this"], &["empty"]),
            step(&["empty"], &["empty"]),
            step(&[], &["empty", "empty"]),
        ];
        let expected = InOrder { order: vec![1, 3, 4, 5, 2, 0], circle: Vec::new() };
        assert_eq!(InOrder::of(&steps), expected);
        assert_eq!(InOrder::of(&[]), InOrder::default());
    }

    #[test]
    fn a_circle_is_told_and_every_step_still_stands_once() {
        let steps = [step(&["b"], &[]), step(&["a"], &["b"]), step(&["b"], &["a"]), step(&[], &["c"])];
        // Nothing waits for the first, so it is in no circle, and in its turn once that is broken.
        let told = InOrder::of(&steps);
        assert_eq!(told.circle, [1, 2]);
        assert_eq!(told.order, [3, 1, 0, 2]);
    }

    #[test]
    fn the_register_says_what_each_is_for() {
        let registers = Registers::of(&Catalogue::built_in()).expect("the registers");
        let mut read = 0;
        for (id, procedure) in registers.procedures.iter() {
            read += 1;
            for sentence in [&procedure.about, &procedure.done] {
                assert!(sentence.ends_with('.'), "{id}: {sentence}");
            }
        }
        assert_eq!((read, registers.procedures.of_season("before-first-frost")), (3, Some("winterise")));
    }
}
