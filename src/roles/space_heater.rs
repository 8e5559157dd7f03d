//! Warms the air inside: the role `space-heater`.

use super::contract::role;
use crate::fields::Choice;
use crate::units::{Litres, Metres, Watts};

role! {
    /// Warms the air inside.
    SpaceHeater = "space-heater" in Thermal {
        /// Highest heat output.
        heat_output: must Watts { change = "replaced" };
        /// Fuel of the burner. Left out where it burns none of these.
        fuel: may Choice { choices = ["diesel", "petrol", "lpg"]; change = "replaced" };
        /// Liquid fuel used in one hour at highest output. LPG is counted as liquid.
        fuel_per_hour: may Litres;
        /// Fuel the pick-up leaves in the tank, so that the engine can still start.
        fuel_reserve: may Litres;
        /// Height above sea level up to which it runs without an altitude setting.
        altitude_limit: may Metres { bound = "most" };
    }
}
