//! Lifts water from the tank to the outlets: the role `pump`.

use super::contract::role;
use crate::units::{Kilopascals, LitresPerMinute, Metres};

role! {
    /// Lifts water from the tank to the outlets.
    Pump = "pump" in Plumbing {
        /// Open flow at no back pressure.
        flow: must LitresPerMinute { change = "replaced" };
        /// Pressure at which the switch stops the pump.
        cut_out: must Kilopascals;
        /// Highest lift at which the pump primes itself.
        suction_lift: must Metres { bound = "most" };
    }
}
