//! Valve moved by hand: the role `hand-valve`.

use super::contract::role;
use crate::fields::Component;
use crate::units::Metres;

role! {
    /// Valve moved by hand.
    HandValve = "hand-valve" in Plumbing {
        /// Tank it drains.
        tank: may Component;
        /// Motorised valve it stands in for.
        bypass_of: may Component;
        /// Inside diameter.
        diameter: must Metres { change = "replaced" };
    }
}
