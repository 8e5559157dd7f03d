//! Which of old and new was aboard when the vehicle was weighed before the work.

use crate::build::{Build, Part};
use serde::Serialize;

/// What was aboard at the weighing before the work.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Aboard {
    /// What stays.
    pub stays: bool,
    /// What comes out.
    pub leaves: bool,
}

impl Aboard {
    /// As the spec says.
    #[must_use]
    pub fn of(build: &Build<'_>) -> Self {
        let said = &build.vehicle.weighed_as;
        let leaves = said.is("as-it-came");
        Self { stays: leaves || said.is("stripped"), leaves }
    }

    /// Whether a part was on the scales.
    #[must_use]
    pub fn has(self, build: &Build<'_>, part: &Part<'_>) -> bool {
        if build.removed.contains_key(&part.id) { self.leaves } else { self.stays && part.was_there() }
    }
}
