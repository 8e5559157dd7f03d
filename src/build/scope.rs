//! What is done to a part in this job.

use crate::fields::Record;
use serde::Serialize;

/// What is done to a part.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Scope {
    /// It is bought and fitted.
    #[default]
    New,
    /// It stays as it is.
    Existing,
    /// It stays, and is worked on like a new one.
    Altered,
    /// It comes out.
    Removed,
}

impl Scope {
    /// What a component says.
    pub(super) fn of(record: &Record) -> Self {
        match record.text("scope") {
            Some("existing") => Self::Existing,
            Some("altered") => Self::Altered,
            Some("removed") => Self::Removed,
            _ => Self::New,
        }
    }

    /// For people.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::New => "new",
            Self::Existing => "existing",
            Self::Altered => "altered",
            Self::Removed => "removed",
        }
    }
}
