//! Holds waste water: the role `grey-tank`.

use super::contract::role;
use crate::fields::Choice;
use crate::units::{Litres, Metres};

role! {
    /// Holds waste water.
    GreyTank = "grey-tank" in Plumbing {
        /// Usable volume of the tank.
        capacity: must Litres { change = "replaced" };
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
