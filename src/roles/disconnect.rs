//! In-line switch that isolates: the role `disconnect`.

use super::contract::role;
use crate::units::{Amps, Volts};

role! {
    /// In-line switch that isolates.
    Disconnect = "disconnect" in Electric {
        /// Continuous rating.
        rating: must Amps { change = "replaced" };
        /// Rated DC voltage at that current. An AC rating does not count.
        rated_voltage: may Volts;
        /// Poles it switches.
        poles: may i64;
    }
}
