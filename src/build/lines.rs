//! Lines of AC: a split-phase supply (120/240 V) has two, and what hangs on it is on the one, the other or on both.

use super::{Build, Circuit, Part};
use crate::kinds::{Network, Role};
use indexmap::IndexMap;
use std::collections::BTreeSet;

/// The lines that a circuit has.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lines {
    /// The only one, or the first of two.
    First,
    /// The second.
    Second,
    /// Both: between them there is twice the voltage.
    Both,
}

impl Lines {
    /// As the spec and documents call it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::First => "1",
            Self::Second => "2",
            Self::Both => "both",
        }
    }

    /// Whether it is, or holds, the line of this number, counted from 0.
    #[must_use]
    pub const fn holds(self, line: usize) -> bool {
        matches!((self, line), (Self::Both, _) | (Self::First, 0) | (Self::Second, 1))
    }
}

/// The parts that two lines reach.
#[derive(Clone, Debug, Default)]
pub(super) struct TwoLines(BTreeSet<String>);

impl TwoLines {
    /// Of circuits that stand feeders first.
    pub(super) fn of(parts: &IndexMap<String, Part<'_>>, circuits: &IndexMap<String, Circuit>) -> Self {
        let inlet =
            |p: &&Part<'_>| p.roles.inlet.as_ref().is_some_and(|i| i.lines.get().is_some_and(|lines| lines > 1));
        let mut two = Self(parts.values().filter(inlet).map(|p| p.id.clone()).collect());
        for circuit in circuits.values().filter(|c| c.network == Network::Ac) {
            let goes_on = parts.get(&circuit.to).and_then(Part::role).is_some_and(Role::passes_through);
            if goes_on && two.line_of(parts, circuit) == Lines::Both {
                two.0.insert(circuit.to.clone());
            }
        }
        two
    }

    fn line_of(&self, parts: &IndexMap<String, Part<'_>>, circuit: &Circuit) -> Lines {
        if circuit.network != Network::Ac || !self.0.contains(&circuit.from) {
            return Lines::First;
        }
        let to = parts.get(&circuit.to);
        match to.and_then(|p| p.supply.line.text()) {
            Some("1") => return Lines::First,
            Some("2") => return Lines::Second,
            Some("both") => return Lines::Both,
            _ => {}
        }
        match circuit.way {
            Some(way) if way % 2 == 0 => Lines::Second,
            None if to.and_then(Part::role).is_some_and(Role::passes_through) => Lines::Both,
            _ => Lines::First,
        }
    }
}

impl Build<'_> {
    /// The lines of an AC circuit: what its part says; else those of its way, odd ones on the first line and even ones on
    /// the second; else, on the way to a panel, both where both arrive.
    #[must_use]
    pub fn line_of(&self, circuit: &Circuit) -> Lines {
        self.two_lines.line_of(&self.parts, circuit)
    }

    /// Whether two lines reach a part, or leave it.
    #[must_use]
    pub fn has_two_lines(&self, part: &str) -> bool {
        self.two_lines.0.contains(part)
    }
}
