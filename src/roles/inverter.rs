//! Makes AC from the DC of the bank: the role `inverter`.

use super::contract::role;
use crate::units::{Ratio, Seconds, Volts, Watts};

role! {
    /// Makes AC from the DC of the bank.
    Inverter = "inverter" in Electric {
        /// Continuous output power at 25 °C or warmer, from the maker.
        power: must Watts { change = "replaced" };
        /// Power it gives for a few seconds to start a motor, from the maker.
        surge_power: may Watts { change = "replaced" };
        /// Output power as a share of input power at full load.
        efficiency: must Ratio;
        /// Bank voltage at which it switches off. The highest input current flows just above it.
        low_cutoff: must Volts;
        /// Power it takes when it is on without load.
        idle_draw: must Watts;
        /// Hours a day it is switched on away from shore power, for the energy account.
        hours: must Seconds;
        /// Output voltage. Left out, it is that of the build's rules.
        output_voltage: may Volts { change = "replaced" };
    }
}
