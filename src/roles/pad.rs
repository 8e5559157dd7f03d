//! Heats a tank: the role `pad`.

use super::contract::role;
use crate::fields::Component;
use crate::units::{Celsius, Metres, Watts};

role! {
    /// Heats a tank.
    Pad = "pad" in Plumbing {
        /// Tank it keeps from freezing.
        tank: may Component;
        /// Electrical power while it heats.
        draw: must Watts;
        /// Thickness of insulation round tank and pad.
        tank_insulation: must Metres;
        /// Thermostat switches on below this.
        on_below: must Celsius;
    }
}
