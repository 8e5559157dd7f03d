//! Residual-current device: the role `rcd`.

use super::contract::role;
use crate::fields::Choice;
use crate::units::Amps;

role! {
    /// Residual-current device.
    Rcd = "rcd" in Electric {
        /// Load current it may carry.
        rating: must Amps { change = "replaced" };
        /// Residual current at which it trips: 30 mA usual where 230 V rules apply, 5 mA class where 120 V rules ask for a GFCI.
        trip_current: must Amps;
        /// Kind of residual current it sees. Inverters and chargers need at least a.
        waveform: must Choice { choices = ["ac", "a", "f", "b", "gfci"] };
        /// Poles that it breaks. Two break live and neutral together.
        poles: may i64;
        /// It is a breaker against overload as well.
        with_overcurrent: may bool;
        /// Curve of that breaker. Left out, that of the rules in force.
        curve: may Choice { choices = ["b", "c"]; change = "replaced" };
        /// It also guards the outlets while an inverter feeds them.
        on_inverter: may bool;
    }
}
