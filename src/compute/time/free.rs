//! Tasks that may start, and which of them comes next: of the earliest stage one at the same place, then one with the
//! same tools, then the one given first.

use super::task::Task;
use std::collections::{BTreeMap, BTreeSet};

/// Tasks that may start, by their places in the list of tasks.
pub(super) struct Free<'t> {
    tasks: &'t [Task],
    by_stage: BTreeMap<usize, OfStage<'t>>,
    last: Option<&'t Task>,
}

/// Those of one stage: all, by place, by tools, and by both.
#[derive(Default)]
struct OfStage<'t> {
    all: BTreeSet<usize>,
    at: BTreeMap<&'t str, BTreeSet<usize>>,
    with: BTreeMap<&'t [String], BTreeSet<usize>>,
    at_with: BTreeMap<(&'t str, &'t [String]), BTreeSet<usize>>,
}

impl<'t> Free<'t> {
    /// None of them yet.
    pub(super) const fn of(tasks: &'t [Task]) -> Self {
        Self { tasks, by_stage: BTreeMap::new(), last: None }
    }

    /// A task may start.
    pub(super) fn put(&mut self, task: usize, stage: usize) {
        let Task { place, tools, .. } = &self.tasks[task];
        let of_stage = self.by_stage.entry(stage).or_default();
        of_stage.all.insert(task);
        of_stage.at.entry(place).or_default().insert(task);
        of_stage.with.entry(tools).or_default().insert(task);
        of_stage.at_with.entry((place, tools)).or_default().insert(task);
    }

    /// Takes the one that comes next.
    pub(super) fn take(&mut self) -> Option<usize> {
        let mut entry = self.by_stage.first_entry()?;
        let of_stage = entry.get_mut();
        let near = self.last.and_then(|last| of_stage.near(&last.place, &last.tools));
        let next = near.or_else(|| of_stage.all.first().copied())?;
        let task = &self.tasks[next];
        of_stage.remove(next, task);
        if of_stage.all.is_empty() {
            entry.remove();
        }
        self.last = Some(task);
        Some(next)
    }
}

impl<'t> OfStage<'t> {
    /// The first at a place, with these tools before others; else the first with these tools. Nobody says where a task of no
    /// place is done, nor with what one of no tools.
    fn near(&self, place: &'t str, tools: &'t [String]) -> Option<usize> {
        let first = |of: Option<&BTreeSet<usize>>| of.and_then(BTreeSet::first).copied();
        let here = || first(self.at_with.get(&(place, tools))).or_else(|| first(self.at.get(place)));
        let alike = || first(self.with.get(tools));
        let here = (!place.is_empty()).then(here).flatten();
        here.or_else(|| (!tools.is_empty()).then(alike).flatten())
    }

    fn remove(&mut self, task: usize, of: &'t Task) {
        self.all.remove(&task);
        take(&mut self.at, &of.place.as_str(), task);
        take(&mut self.with, &of.tools.as_slice(), task);
        take(&mut self.at_with, &(of.place.as_str(), of.tools.as_slice()), task);
    }
}

/// Takes a task from under its key, and the key where it was the last.
fn take<K: Ord>(from: &mut BTreeMap<K, BTreeSet<usize>>, key: &K, task: usize) {
    if let Some(set) = from.get_mut(key) {
        set.remove(&task);
        if set.is_empty() {
            from.remove(key);
        }
    }
}
