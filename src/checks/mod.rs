//! Checks: one file each, named for the fault it finds. A check reads the build and its figures and never panics,
//! whatever is missing.

mod ac;
pub(crate) mod acceptance;
mod air;
pub(crate) mod as_found;
pub(crate) mod assumed;
mod compare;
mod dc;
mod energy;
mod gas;
mod gate;
mod geometry;
mod heat;
mod mechanics;
mod safety;
mod solar;
mod structure;
mod water;
mod weight;

use crate::build::{Circuit, Part};
use crate::compute::figures::Computed;
use crate::compute::network::CircuitFigures;
use crate::compute::time::TaskFault;
use crate::compute::upkeep::UpkeepFault;
use crate::diag::{FindingDoc, Sink};
use std::ops::Deref;

/// What a check may look at.
pub struct Context<'a> {
    /// The build and its figures.
    pub computed: Computed<'a>,
    /// Faults of the order of work.
    pub task_faults: &'a [TaskFault],
    /// Faults of the upkeep.
    pub upkeep_faults: &'a [UpkeepFault],
}

impl<'a> Deref for Context<'a> {
    type Target = Computed<'a>;

    fn deref(&self) -> &Computed<'a> {
        &self.computed
    }
}

impl<'a> Context<'a> {
    /// Circuits with their figures.
    pub fn circuits(&self) -> impl Iterator<Item = (&'a Circuit, &'a CircuitFigures)> {
        let figures = &self.computed.figures.electrical.circuits;
        self.build.circuits.values().filter_map(move |c| Some((c, figures.get(&c.id)?)))
    }

    /// The part with this id.
    #[must_use]
    pub fn part(&self, id: &str) -> Option<&'a Part<'a>> {
        self.build.parts.get(id)
    }
}

/// A check.
pub struct Check {
    /// What `explain` tells.
    pub doc: FindingDoc,
    /// Looks for the fault.
    pub run: fn(&Context<'_>, &mut Sink),
}

/// All checks, by group.
pub static GROUPS: &[(&str, &[&Check])] = &[
    ("dc", dc::ALL),
    ("ac", ac::ALL),
    ("solar", solar::ALL),
    ("energy", energy::ALL),
    ("water", water::ALL),
    ("heat", heat::ALL),
    ("weight", weight::ALL),
    ("geometry", geometry::ALL),
    ("mechanics", mechanics::ALL),
    ("air", air::ALL),
    ("gas", gas::ALL),
    ("safety", safety::ALL),
    ("structure", structure::ALL),
    ("gate", gate::ALL),
];

/// All checks.
pub fn all() -> impl Iterator<Item = &'static Check> {
    GROUPS.iter().flat_map(|(_, checks)| checks.iter().copied())
}

/// Runs every check.
pub fn run(context: &Context<'_>, sink: &mut Sink) {
    for check in all() {
        (check.run)(context, sink);
    }
}

/// Declares the modules of a group and its list, one line a check.
macro_rules! checks {
    ($($name:ident)*) => {
        /// The checks of this group.
        pub(super) static ALL: &[&crate::checks::Check] = &[$(&$name::CHECK,)*];
    };
}
pub(crate) use checks;
