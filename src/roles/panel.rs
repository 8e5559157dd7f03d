//! Fuse panel with numbered ways: the role `panel`.

use super::contract::role;
use crate::fields::{Choice, Component, Text};
use crate::units::{Amps, Ratio, Volts};

role! {
    /// Fuse panel with numbered ways.
    Panel = "panel" in Electric {
        /// Number of ways.
        ways: must i64 { change = "replaced" };
        /// Continuous rating of the whole panel.
        rating: must Amps { change = "replaced" };
        /// Fuse or breaker family of the ways.
        family: must Choice { choices = ["blade", "mini-blade", "maxi-blade", "breaker"]; change = "replaced" };
        /// Largest fuse one way may hold.
        largest_way: must Amps;
        /// Share of the connected load that runs at one time, for the panel's feeder.
        diversity: must Ratio;
        /// Highest DC voltage the panel itself is rated for, as marked on it or in its data sheet.
        rated_voltage: may Volts;
        /// DC voltage marked on the fuses or breakers of its ways, where that is more than their family's.
        way_voltage: may Volts;
        /// Fault current the fuses or breakers of its ways can break at the voltage of the network.
        way_interrupting: may Amps;
        /// Data sheet that says so. Without one the figure proves nothing.
        way_interrupting_from: may Text { tells_place = false };
        /// Fuse before the panel that its ways were tested with: `way_interrupting` holds for the two together.
        way_tested_with: may Component;
        /// The panel has its own negative bar.
        negative_bar: may bool;
    }
}
