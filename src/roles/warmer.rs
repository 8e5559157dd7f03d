//! Warms a battery against the frost: the role `warmer`.

use super::contract::role;
use crate::fields::Component;
use crate::units::Celsius;

role! {
    /// Warms a battery against the frost.
    Warmer = "warmer" in Other {
        /// The bank it warms.
        warms: may Component;
        /// Cell temperature at which it starts.
        on_below: must Celsius;
    }
}
