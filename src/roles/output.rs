//! Where the current of a part goes that feeds something itself: the role `output`, which no kind claims by name.

use super::contract::role;
use crate::fields::{Component, Places, Text};
use crate::units::{Amps, ConductorSize, Metres, Volts};

role! {
    /// Where the current of a part goes that feeds something itself.
    Output = "output" in Other {
        /// Component its output goes to.
        feeds: may Component { tells_place = false };
        /// Length of the output route, one way.
        output_run: may Metres { min = "0 m"; max = "60 m" };
        /// Size of the output conductor. Left out, it is sized.
        output_conductor: may ConductorSize;
        /// Conductors of the output side by side that share its current, each of its size and all of one length. Left out, one.
        output_conductors: may i64 { default = 1; min = 1; max = 4 };
        /// Rating of the protection of the output, like "60 A", or "none". Left out, it is sized.
        output_protection: may Text { tells_place = false };
        /// DC voltage marked on the protection of the output, where that is more than its family's.
        output_protection_voltage: may Volts;
        /// Fault current the protection of the output can break.
        output_interrupting: may Amps { min = "1 A" };
        /// Data sheet that says so. Without one the figure proves nothing.
        output_interrupting_from: may Text { tells_place = false };
        /// Fuse upstream that the protection of the output was tested with: `output_interrupting` holds for the two together.
        output_tested_with: may Component;
        /// Places the output cable passes on its way.
        output_through: may Places;
        /// Conductors that carry current in the same bundle, the output's own included.
        output_bundle: may i64 { default = 2; min = 1; max = 60 };
        /// The output conductor runs in a conduit or sheath all the way, apart from its ends.
        output_sheathed: may bool;
    }
}
