//! `[use]`: who travels how, and what the van must do.

use crate::fields::{Prose, typed};
use crate::units::{Celsius, Degrees, Litres, Metres, Ratio, Seconds};

typed! {
    /// `[use]`: who travels how.
    Usage = "use" {
        /// People on board.
        people: i64;
        /// Animals on board.
        animals: i64;
        /// Driving time on a usual day.
        driving: Seconds;
        /// Fresh water for one person and day.
        water_per_person: Litres;
        /// Relative humidity inside in the heating season.
        inside_humidity: Ratio;
        /// Share of the inside air that is replaced in an hour. 100 %: all of it.
        air_change: Ratio;
        /// Lowest barrier, door or ferry deck on the usual ways.
        height_limit: Metres;
        /// Longest vehicle the usual ferries and places to park take.
        length_limit: Metres;
        /// Narrowest gate or barrier on the usual ways.
        width_limit: Metres;
        /// Smallest approach angle wanted.
        approach_angle: Degrees;
        /// Smallest departure angle wanted.
        departure_angle: Degrees;
        /// Smallest breakover angle wanted.
        breakover_angle: Degrees;
        /// Narrowest aisle wanted between furniture left and right.
        aisle: Metres;
        /// What they do aboard, in a few sentences.
        about: Prose;
    }
}

typed! {
    /// `[use.goals]`: what the van must do.
    Goals = "use.goals" {
        /// Nights in a row without shore power.
        nights: i64;
        /// How long a full bank must run each air conditioner.
        cooling: Seconds;
        /// How long warm water must run from a full tank.
        hot_water: Seconds;
        /// Temperature the heater must hold inside.
        inside_temperature: Celsius;
        /// Lowest temperature inside at the lowest on record outside.
        least_inside: Celsius;
        /// Temperature the air conditioner must hold inside.
        cool_to: Celsius;
    }
}
