//! Evens out a pump: the role `accumulator`.

use super::contract::role;
use crate::units::{Kilopascals, Litres};

role! {
    /// Evens out a pump.
    Accumulator = "accumulator" in Plumbing {
        /// Total volume of the vessel.
        volume: must Litres { change = "replaced" };
        /// Highest working pressure.
        max_pressure: must Kilopascals { bound = "most" };
    }
}
