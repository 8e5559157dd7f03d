//! What this job works on and what it leaves alone: whoever lists work, purchases or records asks here.

use super::{Build, Circuit, Conductor, Feeding, Landing, Part, Scope};
use crate::kinds::Role;
use indexmap::IndexMap;

/// The word for what nobody has looked at.
pub const ASSUMED: &str = "assumed";

/// Marks the parts that stay and whose current comes by what this job fits, at once or by others that stay: they were off
/// while it was joined, and are live again by it. Circuits come with feeders before what they feed.
pub(super) fn mark_fed(parts: &mut IndexMap<String, Part<'_>>, circuits: &IndexMap<String, Circuit>) {
    for circuit in circuits.values().filter(|c| c.feeding != Feeding::Return) {
        let by_new = parts.get(&circuit.from).is_some_and(|from| from.is_worked_on() || from.fed);
        if let Some(to) = parts.get_mut(&circuit.to).filter(|to| by_new && !to.is_worked_on()) {
            to.fed = true;
        }
    }
}

impl Part<'_> {
    /// Whether this job works on it: it is bought, fitted, signed for and tested. Of what stays there are those tasks alone
    /// that its kind gives to such parts.
    #[must_use]
    pub const fn is_worked_on(&self) -> bool {
        matches!(self.scope, Scope::New | Scope::Altered)
    }

    /// Whether it was there before this job.
    #[must_use]
    pub const fn was_there(&self) -> bool {
        !matches!(self.scope, Scope::New)
    }

    /// Whether the spec gives a field of it, readable or not.
    #[must_use]
    pub fn says(&self, field: &str) -> bool {
        self.record.gave(field) || self.record.faulty.contains(field)
    }

    /// How a fact of the part is known, in the word of the spec.
    #[must_use]
    pub fn known(&self, field: &str) -> Option<&str> {
        self.common.known.word(field).filter(|_| self.was_there())
    }

    /// The same of what is sized where nothing is given: of a part that stays nobody chose it, so it is assumed.
    #[must_use]
    pub fn known_if_sized(&self, field: &str) -> Option<&str> {
        let guess = (self.scope == Scope::Existing && !self.record.gave(field)).then_some(ASSUMED);
        self.known(field).or(guess)
    }
}

impl Build<'_> {
    /// Whether this job pulls, labels and tests a circuit: one is worked on where its component is.
    #[must_use]
    pub fn is_worked_on(&self, circuit: &Circuit) -> bool {
        self.parts.get(&circuit.owner).is_some_and(Part::is_worked_on)
    }

    /// Whether a circuit that stays is joined to what this job fits: its end there is made anew, so it is tested with it.
    #[must_use]
    pub fn is_joined(&self, circuit: &Circuit) -> bool {
        !self.is_worked_on(circuit) && self.conductors_of(circuit).any(|c| self.joint(c).is_some())
    }

    /// Which end of a conductor is on what this job works on and which on what stays; `None` where both are alike.
    #[must_use]
    pub fn joint<'c>(&self, conductor: &'c Conductor) -> Option<(&'c Landing, &'c Landing)> {
        let is_new = |end: &Landing| self.parts.get(&end.part).map(Part::is_worked_on);
        match conductor.ends().map(is_new) {
            [Some(true), Some(false)] => Some((&conductor.from, &conductor.to)),
            [Some(false), Some(true)] => Some((&conductor.to, &conductor.from)),
            _ => None,
        }
    }

    /// Whether this job works on any circuit.
    #[must_use]
    pub fn has_wiring_work(&self) -> bool {
        self.circuits.values().any(|circuit| self.is_worked_on(circuit))
    }

    /// Whether this job works on any way of a panel, busbar or holder, or on itself: then what is printed for it is
    /// printed again.
    #[must_use]
    pub fn is_worked_at(&self, part: &Part<'_>) -> bool {
        part.is_worked_on()
            || self.leaving(&part.id).chain(self.arriving(&part.id)).any(|circuit| self.is_worked_on(circuit))
    }

    /// Whether something stays that was there before, comes out, or is altered.
    #[must_use]
    pub fn keeps_or_removes(&self) -> bool {
        !self.removed.is_empty() || self.parts.values().any(Part::was_there)
    }

    /// Whether a record is about a component that was there before this job or that comes out: where no task takes it, it is
    /// from before.
    #[must_use]
    pub fn may_be_from_before(&self, id: &str) -> bool {
        let component = id.split('.').next().unwrap_or(id);
        let left = self.parts.get(component).is_some_and(Part::was_there);
        left || self.removed.contains_key(component)
    }

    /// How the conductor or the protection of a circuit, its `field`, is known.
    #[must_use]
    pub fn known<'a>(&'a self, circuit: &Circuit, field: &str) -> Option<&'a str> {
        let fuse = || self.parts.get(&circuit.to).filter(|part| part.role() == Some(Role::Protection));
        match fuse().filter(|_| field == "protection") {
            // A fuse that is a part tells its rating itself.
            Some(fuse) => fuse.known_if_sized("rating"),
            None => self.parts.get(&circuit.owner)?.known_if_sized(&circuit.end.field(field)),
        }
    }

    /// Whether nobody has looked at the conductor or the protection of a circuit.
    #[must_use]
    pub fn is_assumed(&self, circuit: &Circuit, field: &str) -> bool {
        self.known(circuit, field) == Some(ASSUMED)
    }
}
