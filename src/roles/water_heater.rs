//! Makes hot water: the role `water-heater`.

use super::contract::role;
use crate::units::{Celsius, Kilopascals, Litres, Ratio, Watts};

role! {
    /// Makes hot water.
    WaterHeater = "water-heater" in Plumbing {
        /// Hot water the tank holds.
        capacity: must Litres { min = "2 L"; max = "80 L"; change = "replaced" };
        /// Heat given to the water.
        heat_output: must Watts { change = "replaced" };
        /// Share of the fuel's heat that reaches the water.
        efficiency: may Ratio;
        /// Temperature at which the thermostat stops.
        set_temperature: must Celsius { min = "35 °C"; max = "85 °C" };
        /// Temperature the mixing valve lets out to the taps.
        mixed_temperature: must Celsius { min = "35 °C"; max = "60 °C" };
        /// Heat lost while hot and standing.
        standing_loss: must Watts;
        /// It heats while the engine runs alone: parked, a full tank is all there is.
        while_driving: may bool { change = "replaced" };
        /// Pressure at which the relief valve opens.
        relief_pressure: may Kilopascals;
        /// Highest water pressure the heater may have.
        max_pressure: must Kilopascals { bound = "most" };
    }
}
