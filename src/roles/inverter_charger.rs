//! Makes AC from the DC of the bank, charges it from AC, and chooses between the two: the role `inverter-charger`.

use super::contract::role;
use crate::fields::Component;
use crate::units::{Amps, Ratio, Seconds, Volts, Watts};

role! {
    /// Makes AC from the DC of the bank, charges it from AC, and chooses between the two.
    InverterCharger = "inverter-charger" in Electric {
        /// Continuous output power at 25 °C or warmer, from the maker.
        power: must Watts { change = "replaced" };
        /// Power it gives for a few seconds to start a motor, from the maker.
        surge_power: may Watts { change = "replaced" };
        /// Output power as a share of input power at full load.
        efficiency: must Ratio;
        /// Bank voltage at which it stops inverting.
        low_cutoff: must Volts;
        /// Power it takes when it inverts without load.
        idle_draw: must Watts;
        /// Hours a day it is switched on away from shore power, for the energy account.
        hours: must Seconds;
        /// Output voltage. Left out, it is that of the build's rules.
        output_voltage: may Volts { change = "replaced" };
        /// Rated charge current into the bank.
        output_current: must Amps { change = "replaced" };
        /// Shore inlet, or the breaker behind it, that feeds it.
        shore_from: may Component;
        /// Current its transfer relay passes from shore to the outlets.
        transfer_rating: must Amps;
        /// Shore current it may take in all, as set at handover.
        shore_limit: may Amps;
        /// It joins neutral and earth itself while it inverts, and parts them on shore power.
        bond_relay: may bool;
    }
}
