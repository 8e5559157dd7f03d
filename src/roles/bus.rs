//! Busbar: the role `bus`.

use super::contract::role;
use crate::units::{Amps, Volts};

role! {
    /// Busbar.
    Bus = "bus" in Electric {
        /// Continuous rating of the bar.
        rating: must Amps { change = "replaced" };
        /// Highest DC voltage it is rated for, as marked on it or in its data sheet.
        rated_voltage: may Volts;
        /// How many studs it has. Left out, nobody counts the lugs on them.
        studs: may i64 { min = 1; max = 40 };
    }
}
