//! Makes AC by an engine of its own: the role `generator`.

use super::contract::role;
use crate::units::{Amps, Litres, Metres, Watts};

role! {
    /// Makes AC by an engine of its own.
    Generator = "generator" in Electric {
        /// Continuous output power, from the maker. Each 300 m of altitude takes some 3 % of it.
        power: must Watts { change = "replaced" };
        /// Power it gives for a few seconds to start a motor, from the maker.
        surge_power: may Watts { change = "replaced" };
        /// Rating of its own breaker.
        rating: must Amps { change = "replaced" };
        /// Its neutral is joined to its frame.
        neutral_bonded: must bool;
        /// Fuel that its own tank holds. Left out, it draws from the vehicle.
        own_tank: may Litres;
        /// From the end of its exhaust to the nearest window, door or vent.
        exhaust_clear: may Metres { bound = "least" };
        /// Current of its electric start.
        start_current: may Amps;
    }
}
