//! Takes antifreeze in: the role `winter-port`.

use super::contract::role;
use crate::units::Litres;

role! {
    /// Takes antifreeze in.
    WinterPort = "winter-port" in Plumbing {
        /// Antifreeze to fill all lines with the heater by-passed.
        antifreeze_volume: must Litres;
    }
}
