//! Vehicle starter battery: the role `start-battery`.

use super::contract::role;
use crate::fields::Choice;
use crate::units::{AmpHours, Volts};

role! {
    /// Vehicle starter battery.
    StartBattery = "start-battery" in Electric {
        /// Rated capacity.
        capacity: must AmpHours { change = "replaced" };
        /// Nominal voltage of the vehicle's own network.
        voltage: must Volts { change = "replaced" };
        /// Lead-acid type, as the vehicle expects it.
        battery_type: must Choice { choices = ["flooded", "efb", "agm"]; change = "replaced" };
    }
}
