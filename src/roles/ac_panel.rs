//! Consumer unit with numbered ways: the role `ac-panel`.

use super::contract::role;
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
        /// Share of the fixed loads that runs at one time. Below 100 % the owner must mind what runs together.
        diversity: must Ratio;
        /// Fault current its breakers can break, from the maker.
        breaking_capacity: must Amps;
    }
}
