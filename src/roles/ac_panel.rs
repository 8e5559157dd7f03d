//! Consumer unit with numbered ways: the role `ac-panel`.

use super::contract::role;
use crate::fields::Choice;
use crate::units::{Amps, Ratio};

role! {
    /// Consumer unit with numbered ways.
    AcPanel = "ac-panel" in Electric {
        /// Number of branch ways.
        ways: must i64 { change = "replaced" };
        /// Rating of the main breaker. Not above the inlet's.
        rating: must Amps { change = "replaced" };
        /// Poles of the main breaker. Two break live and neutral together.
        main_poles: may i64;
        /// Curve of the main breaker. Left out, that of the rules in force.
        main_curve: may Choice { choices = ["b", "c"]; change = "replaced" };
        /// Poles of the breakers of its ways. Two break live and neutral together. Left out, as the rules in force ask.
        way_poles: may i64 { min = 1; max = 2; change = "replaced" };
        /// Curve of the breakers of its ways: b for wiring, c for what starts hard. Left out, that of the rules in force; `protection = "16 A curve C"` of what hangs on a way wins.
        curve: may Choice { choices = ["b", "c"]; change = "replaced" };
        /// Share of the fixed loads that runs at one time. Below 100 % the owner must mind what runs together.
        diversity: must Ratio;
        /// Fault current its breakers can break, from the maker.
        breaking_capacity: must Amps;
    }
}
