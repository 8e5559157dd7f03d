//! Uses energy: the role `load`.

use super::contract::role;
use crate::fields::{Choice, Text};
use crate::units::{Amps, Celsius, ConductorSize, Metres, Ratio, Seconds, Watts};

role! {
    /// Uses energy.
    Load = "load" in Electric {
        /// Electrical power while it is on.
        draw: may Watts;
        /// Electrical power in steady running at full output, the glow plug off.
        full_draw: may Watts;
        /// Largest current while it works, where that is known instead of a power.
        current: may Amps;
        /// Highest current as it starts.
        start_current: may Amps;
        /// Share of the time it draws its power while it is on.
        duty: may Ratio { min = "0 %"; max = "100 %" };
        /// Hours a day it is on, for the energy account.
        hours: may Seconds { min = "0 h"; max = "24 h" };
        /// How long it must run from a full bank down to the reserve, with nothing else on and nothing coming in.
        run_goal: may Seconds { min = "1 h"; max = "1440 h" };
        /// Word for those of which one runs at a time: what feeds them on AC is laid out for the largest of the same word.
        one_of: may Text;
        /// Temperature below which its thermostat switches it on.
        on_below: may Celsius;
        /// May run behind a dimmer.
        dimmable: may bool;
        /// Power it gives to what is plugged in.
        watts: may Watts;
        /// Power it takes on its second supply.
        second_draw: may Watts;
        /// How several of them on one circuit are wired: on from one to the next (chain), or from a joint at the first to each of the others (star).
        legs: may Choice { choices = ["chain", "star"]; default = "chain"; change = "moved" };
        /// How many fittings one of it has, on the same circuit.
        fittings: may i64 { min = 1; max = 24 };
        /// Length of the route of its second supply, one way.
        second_run: may Metres { min = "0 m"; max = "60 m" };
        /// Conductor of its second supply. Left out, it is sized.
        second_conductor: may ConductorSize;
        /// Rating of the protection at the start of its second supply, like "10 A". Left out, it is sized.
        second_protection: may Text { tells_place = false };
    }
}
