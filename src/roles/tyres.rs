//! Tyres to fill: the role `tyres`.

use super::contract::role;
use crate::units::{Kilopascals, Litres};

role! {
    /// Tyres to fill.
    Tyres = "tyres" in Air {
        /// Wheels on the ground.
        wheels: must i64;
        /// Air space of one tyre, for filling times.
        tyre_volume: must Litres;
        /// Road pressure, front, loaded, cold.
        pressure_front: must Kilopascals;
        /// Road pressure, rear, loaded, cold.
        pressure_rear: must Kilopascals;
        /// Pressure for rough tracks at low speed.
        pressure_track: must Kilopascals;
        /// Lowest pressure for sand, walking pace only.
        pressure_sand: must Kilopascals { bound = "least" };
    }
}
