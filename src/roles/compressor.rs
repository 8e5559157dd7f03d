//! Fills tyres: the role `compressor`.

use super::contract::role;
use crate::units::{Kilopascals, LitresPerMinute, Ratio, Seconds};

role! {
    /// Fills tyres.
    Compressor = "compressor" in Air {
        /// Free air delivered at the filling pressure.
        free_air_delivery: must LitresPerMinute;
        /// Share of the time it may run at full pressure and 25 °C.
        duty_limit: must Ratio;
        /// Longest single run before it must cool.
        max_run: must Seconds;
        /// Pressure at which the pressure switch stops the motor.
        max_pressure: must Kilopascals { bound = "most" };
    }
}
