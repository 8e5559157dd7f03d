//! What a task does that others must wait for, and which deed comes before which.

use super::Stage;
use serde::{Deserialize, Serialize};

/// A deed of a task: `does` in a kind.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Deed {
    /// Says that an opening may be made where it is planned.
    Confirms,
    /// Lays the openings out and has them checked.
    Marks,
    /// Cuts or drills metal of the body.
    Cuts,
    /// Primes the edges of the openings.
    Primes,
    /// Coats the body.
    Coats,
    /// Sets something into an opening and seals it.
    Seals,
    /// Saws, routs or drills floor, lining or furniture in the van.
    Saws,
    /// Brings the bank in, or joins it.
    SetsBank,
    /// Proves that a line or a seam is tight which is covered later.
    ProvesTight,
    /// Covers what lies behind for good.
    Closes,
    /// Proves an alarm.
    Detects,
    /// Proves the ventilation that a flame needs.
    Ventilates,
    /// Lets fuel or gas into a line and looks for leaks.
    OpensFuel,
    /// Lights a flame.
    Burns,
}

/// A deed, one that comes after it, and whether that must be so: a catalogue in which the first can stand in a later
/// stage than the second would not hold. Where it is only so within what is done by then, the rest comes later.
pub const ORDER: &[(Deed, Deed, bool)] = &[
    (Deed::Confirms, Deed::Marks, true),
    (Deed::Confirms, Deed::Cuts, true),
    (Deed::Marks, Deed::Cuts, true),
    (Deed::Cuts, Deed::Primes, false),
    (Deed::Cuts, Deed::Coats, false),
    (Deed::Primes, Deed::Coats, true),
    (Deed::Primes, Deed::Seals, true),
    (Deed::Seals, Deed::ProvesTight, false),
    (Deed::Cuts, Deed::SetsBank, false),
    (Deed::Saws, Deed::SetsBank, false),
    (Deed::ProvesTight, Deed::Closes, true),
    (Deed::Detects, Deed::OpensFuel, true),
    (Deed::Ventilates, Deed::OpensFuel, true),
    (Deed::Detects, Deed::Burns, true),
    (Deed::Ventilates, Deed::Burns, true),
    (Deed::OpensFuel, Deed::Burns, true),
];

impl Deed {
    /// Deeds that come before this one.
    pub fn before(self) -> impl Iterator<Item = Self> {
        ORDER.iter().filter(move |(_, then, _)| *then == self).map(|(first, ..)| *first)
    }

    /// Name under which all that do it, up to a stage, are waited for.
    pub(crate) fn by(self, stage: Stage) -> String {
        format!("{self:?} by {}", stage.id())
    }
}
