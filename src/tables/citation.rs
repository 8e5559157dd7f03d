//! What a citation is, and how far it may be relied on.

use serde::Serialize;

/// How well a value's source was checked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Status {
    /// Read in the text of the rule or standard itself.
    Verified,
    /// Read in a reprint or a quotation.
    Secondary,
    /// Follows from a formula and constants that are cited.
    Computed,
    /// A rule of this program, stricter than the public one it names.
    HouseRule,
    /// From memory, not verified.
    Memory,
    /// Common practice of the trade; no source.
    CommonPractice,
}

impl Status {
    /// Whether a value of this status may by itself be the basis of an error.
    #[must_use]
    pub const fn may_carry_error(self) -> bool {
        matches!(self, Self::Verified | Self::Secondary | Self::Computed | Self::HouseRule)
    }

    /// The words documents print for it.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Verified => "verified",
            Self::Secondary => "from a reprint",
            Self::Computed => "computed",
            Self::HouseRule => "house rule, stricter than the public one",
            Self::Memory => "from memory, not verified",
            Self::CommonPractice => "common practice, no source",
        }
    }
}

/// One entry of the register of sources.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Citation {
    /// Kebab-case id, unique in the register.
    pub id: &'static str,
    /// Rule, standard or book, with the table or clause.
    pub text: &'static str,
    /// Edition or date; empty where the source has none.
    pub edition: &'static str,
    /// How well it was checked.
    pub status: Status,
}
