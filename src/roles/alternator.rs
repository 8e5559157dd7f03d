//! Vehicle alternator: the role `alternator`.

use super::contract::role;
use crate::units::{Amps, Ratio, Volts};

role! {
    /// Vehicle alternator.
    Alternator = "alternator" in Electric {
        /// Rated output, hot, from the vehicle's papers or the alternator's plate.
        rating: must Amps { change = "replaced" };
        /// Nominal voltage of the bank it charges, where that is not the starter battery.
        output_voltage: may Volts;
        /// What the vehicle itself uses with lights, fan and heater on.
        vehicle_load: must Amps;
        /// Share of the rating it gives at idle.
        idle_share: must Ratio;
    }
}
