//! Mains as the circuits bring it: what arrives at a part, and which other source of it could meet what the part gives.

use super::{Build, Circuit, Part};
use crate::kinds::{MainsAsked, Network, Reading, Role, TaskTemplate};
use std::collections::BTreeSet;

const fn is_ac(circuit: &Circuit) -> bool {
    matches!(circuit.network, Network::Ac)
}

fn gives_ac(part: &Part<'_>) -> bool {
    part.role().is_some_and(Role::gives_ac)
}

impl<'k> Build<'k> {
    /// The readings that a part takes in a task: those of its fields, and of these what mains asks for where it is so.
    pub fn readings_of<'a>(
        &'a self,
        part: &'a Part<'_>,
        template: &'a TaskTemplate,
    ) -> impl Iterator<Item = &'a Reading> {
        let stands = |reading: &Reading| match reading.mains {
            None => true,
            Some(MainsAsked::Arrives) => !self.mains_in(&part.id).is_empty(),
            Some(MainsAsked::Beside) => !self.mains_beside(&part.id).is_empty(),
        };
        template.readings_of(part.record).filter(move |reading| stands(reading))
    }

    /// The sources whose mains comes to a part by AC circuits.
    #[must_use]
    pub fn mains_in<'a>(&'a self, id: &str) -> Vec<&'a Part<'k>> {
        let above: BTreeSet<&str> = self.upstream(id).along(is_ac).map(|c| c.from.as_str()).collect();
        self.parts.values().filter(|p| above.contains(p.id.as_str()) && gives_ac(p)).collect()
    }

    /// The sources of mains that neither feed a source nor are fed by it: only a fault joins them to its output.
    #[must_use]
    pub fn mains_beside<'a>(&'a self, id: &str) -> Vec<&'a Part<'k>> {
        let above = self.upstream(id).along(is_ac).map(|c| c.from.as_str());
        let below = self.downstream(id).along(is_ac).map(|c| c.to.as_str());
        let own: BTreeSet<&str> = above.chain(below).chain([id]).collect();
        self.parts.values().filter(|p| gives_ac(p) && !own.contains(p.id.as_str())).collect()
    }

    /// What chooses between the mains of a source and that of others: each leads on what it is given by one alone.
    #[must_use]
    pub fn mains_switches<'a>(&'a self, id: &str) -> Vec<&'a Part<'k>> {
        let below =
            |source: &str| -> BTreeSet<String> { self.downstream(source).along(is_ac).map(|c| c.to.clone()).collect() };
        let own = below(id);
        let others: BTreeSet<String> = self.mains_beside(id).iter().flat_map(|p| below(&p.id)).collect();
        let chooses = |p: &&Part<'k>| p.role() == Some(Role::Transfer) && own.contains(&p.id) && others.contains(&p.id);
        self.parts.values().filter(chooses).collect()
    }
}
