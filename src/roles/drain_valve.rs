//! Empties pipes and tanks before frost: the role `drain-valve`.

use super::contract::role;
use crate::fields::Components;
use crate::units::{Celsius, Metres};

role! {
    /// Empties pipes and tanks before frost.
    DrainValve = "drain-valve" in Plumbing {
        /// Pipe runs and tanks it empties.
        drains: may Components;
        /// It opens by itself when it gets near freezing.
        frost_opening: may bool;
        /// Temperature at which a frost valve opens.
        opens_below: must Celsius;
        /// Inside diameter.
        diameter: must Metres { change = "replaced" };
    }
}
