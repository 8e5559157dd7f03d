//! Burns fuel, and so may give off carbon monoxide: the role `burner`.

use super::contract::role;
use crate::fields::Choice;
use crate::units::{Kilograms, Kilopascals, Litres, Seconds, Watts};

role! {
    /// Burns fuel, and so may give off carbon monoxide.
    Burner = "burner" in Safety {
        /// Fuel of the burner.
        fuel: may Choice { choices = ["diesel", "petrol", "lpg"]; change = "replaced" };
        /// Liquid fuel used in one hour of burning. LPG is counted as liquid.
        fuel_per_hour: may Litres;
        /// Gas used in one hour with all burners at full flame.
        gas_per_hour: may Kilograms;
        /// Pressure of gas that its plate names.
        working_pressure: may Kilopascals { change = "replaced" };
        /// Highest heat output.
        heat_output: must Watts { change = "replaced" };
        /// It takes its air from outside and sends its fumes there, sealed from the room.
        room_sealed: may bool;
        /// Burning time per day.
        hours: may Seconds;
        /// Burning time per day, where it is another than the time it uses electricity: a fridge on gas while parked.
        burner_hours: may Seconds { min = "0 h"; max = "24 h" };
    }
}
