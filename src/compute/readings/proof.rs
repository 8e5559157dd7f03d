//! What proves the hold points: readings and tests by their keys.

use super::{DEAD_TESTS, Readings};
use crate::build::{Build, Hold, Proved};
use crate::kinds::Stage;
use std::collections::{BTreeMap, BTreeSet};

/// What proves hold points, looked up by task.
#[derive(Debug)]
pub struct Proofs<'r> {
    readings: &'r Readings,
    of_task: BTreeMap<&'r str, Vec<&'r str>>,
    stages: BTreeMap<&'r str, Stage>,
}

impl Readings {
    /// The look-up; it is worth keeping for all hold points.
    #[must_use]
    pub fn proofs(&self) -> Proofs<'_> {
        let mut of_task: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
        for test in &self.tests {
            of_task.entry(&test.task).or_default().push(&test.id);
        }
        Proofs { readings: self, of_task, stages: self.tests.iter().map(|t| (t.id.as_str(), t.stage)).collect() }
    }

    /// What proves a hold point that handover can't be without, it can't be without either.
    pub(super) fn mark_essential(&mut self, build: &Build<'_>) {
        let proofs = self.proofs();
        let essential = build.holds.values().filter(|h| h.essential).flat_map(|h| &h.proof);
        let marked: BTreeSet<String> =
            each_once(essential).flat_map(|p| proofs.readings_of(p)).map(str::to_owned).collect();
        for test in &mut self.tests {
            test.essential |= marked.contains(&test.id);
        }
    }
}

/// Things that prove, those that many hold points share once.
pub fn each_once<'h>(proof: impl Iterator<Item = &'h Proved>) -> impl Iterator<Item = &'h Proved> {
    let mut seen = BTreeSet::new();
    let mut dead = false;
    proof.filter(move |proved| match proved {
        Proved::Reading(_) => true,
        Proved::Tasks(every) => seen.insert(std::sync::Arc::as_ptr(every)),
        Proved::DeadTests => !std::mem::replace(&mut dead, true),
    })
}

impl<'r> Proofs<'r> {
    /// Keys of the readings that a thing stands for.
    fn readings_of<'s>(&'s self, proved: &'s Proved) -> Vec<&'r str> {
        match proved {
            Proved::Reading(id) => self.stages.get_key_value(id.as_str()).map(|(id, _)| *id).into_iter().collect(),
            Proved::Tasks(every) => {
                let of_task = every.ids.iter().filter_map(|task| self.of_task.get(task.as_str()));
                of_task.flatten().copied().collect()
            }
            Proved::DeadTests => Vec::new(),
        }
    }

    /// The stage in which a reading is taken.
    #[must_use]
    pub fn stage(&self, reading: &str) -> Option<Stage> {
        self.stages.get(reading).copied()
    }

    /// Keys of the readings that prove a hold point.
    pub fn readings<'s>(&'s self, hold: &'s Hold) -> impl Iterator<Item = &'r str> + 's {
        hold.proof.iter().flat_map(|proved| self.readings_of(proved))
    }

    /// Circuits and their dead tests, where these prove a hold point of a build that hands over this set.
    pub fn dead_tests(&self, build: &Build<'_>, hold: &Hold) -> impl Iterator<Item = (&'r str, &'static str)> {
        let set = build.handover_set();
        let asked = hold.proof.iter().any(|p| matches!(p, Proved::DeadTests));
        let circuits = self.readings.circuits.iter().filter(move |_| asked);
        let tests = circuits.flat_map(|c| DEAD_TESTS.iter().map(move |test| (c, *test)));
        tests.filter(move |(c, test)| c.asks_in(test, set)).map(|(c, test)| (c.circuit.as_str(), test))
    }
}
