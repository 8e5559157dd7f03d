//! Holds drinking water: the role `fresh-tank`.

use super::contract::role;
use crate::fields::Choice;
use crate::units::{Litres, Metres, Ratio};

role! {
    /// Holds drinking water.
    FreshTank = "fresh-tank" in Plumbing {
        /// Usable volume of the tank.
        capacity: must Litres { change = "replaced" };
        /// Water the outlet cannot reach.
        residual: must Litres;
        /// Strength of the bleach that sanitises it, as named on the bottle: 6 % and so on.
        bleach: may Ratio;
        /// Inside the insulated body, or under the floor.
        position: must Choice { choices = ["inside", "under-floor"] };
        /// Outside length, along the vehicle.
        length: may Metres { change = "replaced" };
        /// Outside width, across the vehicle.
        width: may Metres { change = "replaced" };
        /// Outside height.
        height: may Metres { change = "replaced" };
    }
}
