//! Cleans water; costs pressure: the role `filter`.

use super::contract::role;
use crate::units::Kilopascals;

role! {
    /// Cleans water; costs pressure.
    Filter = "filter" in Plumbing {
        /// Pressure lost in a clean cartridge at the flow of one tap.
        pressure_loss: must Kilopascals;
    }
}
