//! The facts of parts: of one when it is asked for, or of all for the documents of a voice.

use super::dc_facts::dc_facts;
use super::facts::{Facts, Voice, facts, of_all, switches};
use crate::build::{Build, Part, VAN};
use crate::compute::isolation::main_switches;
use crate::compute::ledger::Ledger;
use crate::compute::network::Electrical;
use std::collections::BTreeMap;

/// Works out the facts of one part after the other.
pub struct FactsOf<'a> {
    build: &'a Build<'a>,
    electrical: &'a Electrical,
    ledger: &'a Ledger,
    voice: Voice,
    mains: Vec<&'a Part<'a>>,
    /// What is the same for every part, and wins over what is its own.
    pub of_all: Facts,
}

impl<'a> FactsOf<'a> {
    /// Of the parts of a build, for a voice.
    #[must_use]
    pub fn new(build: &'a Build<'a>, electrical: &'a Electrical, ledger: &'a Ledger, voice: Voice) -> Self {
        let of_all = of_all(build, electrical, ledger, voice);
        Self { build, electrical, ledger, voice, mains: main_switches(build), of_all }
    }

    /// The facts of a part, without those of all.
    #[must_use]
    pub fn own(&self, part: &Part<'_>) -> Facts {
        let mut own = facts(self.build, self.electrical, self.ledger, part, self.voice);
        own.extend(switches(self.build, self.electrical, &self.mains, part));
        own.extend(dc_facts(self.build, self.electrical, part));
        own
    }
}

/// The facts of every part, worked out once for all documents of a voice.
#[derive(Clone, Debug, Default)]
pub struct FactBook {
    parts: BTreeMap<String, Facts>,
    none: Facts,
}

impl FactBook {
    /// Works out the facts of every part.
    #[must_use]
    pub fn of(build: &Build<'_>, electrical: &Electrical, ledger: &Ledger, voice: Voice) -> Self {
        let facts = FactsOf::new(build, electrical, ledger, voice);
        let of = |p: &Part<'_>| {
            let mut own = facts.own(p);
            own.extend(facts.of_all.iter().map(|(name, value)| (name.clone(), value.clone())));
            (p.id.clone(), own)
        };
        let all = build.parts.values().chain(build.removed.values()).chain(build.bearer(VAN));
        let mut parts: BTreeMap<String, Facts> = all.map(of).collect();
        for upkeep in build.own_upkeep() {
            let said = upkeep.template.own.iter().flat_map(|own| own.said.iter().cloned());
            parts.entry(upkeep.part.clone()).or_default().extend(said);
        }
        Self { parts, none: Facts::new() }
    }

    /// The facts of a part; none for an id that is no part's.
    #[must_use]
    pub fn part(&self, id: &str) -> &Facts {
        self.get(id).unwrap_or(&self.none)
    }

    /// The facts of a part; `None` for an id that is no part's.
    #[must_use]
    pub fn get(&self, id: &str) -> Option<&Facts> {
        self.parts.get(id)
    }
}
