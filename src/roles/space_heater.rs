//! Warms the air inside: the role `space-heater`.

use super::contract::role;
use crate::fields::Choice;
use crate::units::{Litres, Metres, Watts};

role! {
    /// Warms the air inside.
    SpaceHeater = "space-heater" in Thermal {
        /// Highest heat output.
        heat_output: must Watts { change = "replaced" };
        /// Fuel of the burner.
        fuel: must Choice { choices = ["diesel", "petrol", "lpg"]; change = "replaced" };
        /// Liquid fuel used in one hour at highest output. LPG is counted as liquid.
        fuel_per_hour: must Litres;
        /// Fuel the pick-up leaves in the tank, so that the engine can still start.
        fuel_reserve: must Litres;
        /// Height above sea level up to which it runs without an altitude setting.
        altitude_limit: must Metres { bound = "most" };
    }
}
