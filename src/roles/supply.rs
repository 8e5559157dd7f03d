//! How a part gets its current: every part of an electrical network: the role `supply`, which no kind claims by name.

use super::contract::role;
use crate::fields::{Choice, Component, Components, Places, Switch, Text};
use crate::units::{Amps, Celsius, ConductorSize, Metres, Volts};

role! {
    /// How a part gets its current: every part of an electrical network.
    Supply = "supply" in Other {
        /// Component its current comes from.
        fed_from: may Components { tells_place = false };
        /// Number of its way in the panel that feeds it. Left out, the next free one.
        way: may i64 { min = 1; max = 60 };
        /// Line of a split-phase supply that it hangs on: 1, 2, or both, between which there is twice the voltage. Left out, that of its way: odd ways on line 1, even ones on line 2.
        line: may Choice { choices = ["1", "2", "both"]; change = "moved" };
        /// Length of the supply route, one way.
        run: may Metres { min = "0 m"; max = "60 m" };
        /// Switch that stands in its supply, like "control-panel.pump": a panel and a switch on it.
        switched_at: may Switch { tells_place = false };
        /// Size of the supply conductor. Left out, it is sized.
        conductor: may ConductorSize;
        /// Conductors side by side that share its current, each of its size and all of one length. Left out, one.
        conductors: may i64 { default = 1; min = 1; max = 4 };
        /// Rated temperature of the conductor's insulation. Left out, that of the rules in force.
        insulation: may Celsius { min = "60 °C"; max = "250 °C" };
        /// Rating of the protection at the start of the supply, like "30 A", or "none". Left out, it is sized.
        protection: may Text { tells_place = false };
        /// DC voltage marked on the protection, where that is more than its family's: blade fuses are for 32 V unless 58 V stands on them, and a class T fuse is for what stands on it.
        protection_voltage: may Volts;
        /// Nominal voltage of the DC network it is made for, as on its plate: "24 V". Left out, that of its kind.
        made_for: may Volts { min = "6 V"; max = "60 V" };
        /// Highest nominal voltage it is made for, where its plate names several (12/24 V).
        made_for_up_to: may Volts { min = "6 V"; max = "60 V" };
        /// Length of conductor between the connection to the source and the protection.
        protection_at: may Metres { min = "0 m"; max = "10 m" };
        /// Fault current its protection can break at the voltage of its network.
        interrupting: may Amps { min = "1 A" };
        /// Data sheet that says so. Without one the figure proves nothing.
        interrupting_from: may Text { tells_place = false };
        /// Fuse or panel feed upstream that the protection was tested with: `interrupting` holds for the two together.
        tested_with: may Component;
        /// Places the cable passes on its way.
        through: may Places;
        /// Conductors that carry current in the same bundle, this circuit's own included.
        bundle: may i64 { default = 2; min = 1; max = 60 };
        /// The conductor runs in a conduit or sheath all the way, apart from its ends.
        sheathed: may bool;
        /// Held to the tighter voltage-drop limit. Left out, as the kind says.
        critical: may bool;
    }
}
