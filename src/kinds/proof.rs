//! What proves a hold point: readings and tests that must be recorded and good before anyone signs, or what is looked at.

use super::state::Need;
use serde::{Deserialize, Deserializer};

/// Word of a hold point that is proved by looking alone.
pub(super) const INSPECTION: &str = "inspection";

/// Word for the dead tests of every circuit that the job pulls.
pub(super) const DEAD_TESTS: &str = "dead-tests";

/// What proves the hold point of a task.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Proof {
    /// All readings of the task.
    #[default]
    Own,
    /// What its sentence says is looked at: the signature is the record.
    Inspection,
    /// These.
    Of(Vec<String>),
}

impl<'de> Deserialize<'de> for Proof {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        #[derive(Deserialize)]
        #[serde(untagged)]
        enum Written {
            Word(String),
            List(Vec<String>),
        }
        match Written::deserialize(deserializer) {
            Ok(Written::List(list)) => Ok(Self::Of(list)),
            Ok(Written::Word(word)) if word == INSPECTION => Ok(Self::Inspection),
            _ => Err(serde::de::Error::custom(format!(
                "`proof` is \"{INSPECTION}\", or a list of readings, states and \"{DEAD_TESTS}\""
            ))),
        }
    }
}

/// One thing of a list that proves a hold point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Proving<'t> {
    /// A reading of the kind, of this task or another.
    Reading(&'t str),
    /// The dead tests of every circuit that the job pulls.
    DeadTests,
    /// What was read in the tasks that bring a state.
    State(Need<'t>),
}
