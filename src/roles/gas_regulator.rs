//! Brings the gas of a cylinder to its pressure: the role `gas-regulator`.

use super::contract::role;
use crate::units::{Kilograms, Kilopascals};

role! {
    /// Brings the gas of a cylinder to the pressure of the appliances.
    GasRegulator = "gas-regulator" in Other {
        /// Pressure behind it.
        outlet_pressure: must Kilopascals { min = "2 kPa"; max = "6 kPa"; change = "replaced" };
        /// Gas it can pass in one hour.
        capacity_per_hour: must Kilograms { bound = "most"; change = "replaced" };
    }
}
