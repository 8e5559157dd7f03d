//! Puts energy into the house network: the role `charger`.

use super::contract::role;
use crate::units::{Amps, Ratio, Seconds, Volts};

role! {
    /// Puts energy into the house network.
    Charger = "charger" in Electric {
        /// Rated charge current.
        output_current: must Amps { min = "1 A"; max = "200 A"; change = "replaced" };
        /// Nominal voltage of the bank it charges, as on its plate: "24 V".
        output_voltage: must Volts;
        /// Output power as a share of input power.
        efficiency: must Ratio { min = "50 %"; max = "100 %" };
        /// Hours a day it charges a starter battery from the bank, for the energy account.
        hours: may Seconds { min = "0 h"; max = "24 h" };
        /// Largest current it takes at its input, from the maker or as set.
        input_current: may Amps;
        /// Its input and its output have each a negative of their own. Left out: one post, and one conductor, serves both.
        isolated: may bool;
        /// Watts as a share of volts times amperes at its mains input, from the maker. One without power factor correction takes half as much current again.
        power_factor: may Ratio { min = "30 %"; max = "100 %" };
        /// It reads the bank's temperature, or the bank tells it when not to charge.
        temperature_sense: may bool;
        /// Highest array voltage it withstands. It must hold on the coldest morning.
        max_pv_voltage: may Volts;
        /// Highest array short-circuit current it accepts.
        max_pv_current: may Amps;
    }
}
