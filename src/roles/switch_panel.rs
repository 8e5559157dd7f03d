//! Switch panel with numbered ways and a master: the role `switch-panel`.

use super::contract::role;
use crate::fields::{Choice, Component, Text, Texts};
use crate::units::{Amps, Ratio, Volts};

role! {
    /// Switch panel with numbered ways and a master.
    SwitchPanel = "switch-panel" in Electric {
        /// Number of switched ways, spare ones included.
        ways: must i64 { change = "replaced" };
        /// Largest current of the whole panel.
        rating: must Amps { change = "replaced" };
        /// Fuse family of the ways.
        family: must Choice { choices = ["blade", "mini-blade", "maxi-blade", "breaker"]; change = "replaced" };
        /// Largest fuse or breaker one way may hold.
        largest_way: must Amps;
        /// Share of all ways that is on at the same time.
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
        /// Can be reached by someone outside the van.
        outside: may bool;
        /// What keeps passers-by from switching things on and draining the bank: nothing, a keyed switch, or a hidden one.
        master: must Choice { choices = ["none", "keyed", "hidden"] };
        /// The master switch, where it is a component of its own.
        master_switch: may Component;
        /// Words on the switches, way 1 first. Without it they are the names of what each way feeds.
        way_names: may Texts;
    }
}
