//! Pipes and drains of a build, counted: what branches off at a tee, and how many circuits one drain empties.

use super::{Build, Part};
use crate::kinds::{PlumbingRole, Tally};
use std::collections::BTreeSet;

impl Build<'_> {
    /// How many of a thing there are for each component of a part.
    #[must_use]
    pub fn tally(&self, part: &Part<'_>, of: Tally) -> usize {
        match of {
            Tally::DrainCircuits => self.drain_circuits(part).len().max(1),
            Tally::FurtherDrainCircuits => self.drain_circuits(part).len().saturating_sub(1),
            Tally::Branches => usize::from(self.branches(part)),
        }
    }

    /// The circuits of water that a drain valve empties; each is apart from the others. None of any other part.
    #[must_use]
    pub fn drain_circuits(&self, valve: &Part<'_>) -> BTreeSet<&str> {
        if plumbing(valve) != Some(PlumbingRole::DrainValve) {
            return BTreeSet::new();
        }
        let drained = valve.roles.drains().all().iter().filter_map(|id| self.parts.get(&id.value));
        let circuit = |p| match plumbing(p)? {
            PlumbingRole::FreshTank => Some("suction"),
            PlumbingRole::GreyTank => Some("waste"),
            PlumbingRole::Heater => Some("hot"),
            _ => p.roles.medium().text(),
        };
        drained.filter_map(circuit).collect()
    }

    /// Whether a run of pipe begins where another run of the same water does: from there on it is a branch of that one.
    fn branches(&self, pipe: &Part<'_>) -> bool {
        let is_pipe = |p: &Part<'_>| plumbing(p) == Some(PlumbingRole::Pipe);
        let begins = |p: &Part<'_>| Some((p.roles.from().first()?.to_owned(), p.roles.medium().text()?.to_owned()));
        let Some(own) = begins(pipe).filter(|_| is_pipe(pipe)) else { return false };
        let first = self.parts.values().filter(|p| is_pipe(p)).find(|p| begins(p).as_ref() == Some(&own));
        first.is_some_and(|first| first.id != pipe.id)
    }
}

fn plumbing(part: &Part<'_>) -> Option<PlumbingRole> {
    part.kind.plumbing.as_ref().map(|w| w.role)
}
