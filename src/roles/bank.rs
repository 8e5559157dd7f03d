//! Energy store of the house network: the role `bank`.

use super::contract::role;
use crate::fields::{Choice, Text};
use crate::units::{AmpHours, Amps, Celsius, ConductorSize, Metres, Ohms, Ratio, Volts};

role! {
    /// Energy store of the house network.
    Bank = "bank" in Electric {
        /// lfp: lithium iron phosphate with a built-in management system. agm: sealed lead-acid.
        chemistry: must Choice { choices = ["lfp", "agm"]; change = "replaced" };
        /// Rated capacity of the whole bank at its nominal voltage.
        capacity: must AmpHours { change = "replaced" };
        /// Nominal voltage of the whole bank: that of a 12 V, 24 V or 48 V system.
        voltage: must Volts { change = "replaced" };
        /// Share of the capacity planned for use. Usual: 80 % for lfp, 50 % for agm.
        usable: may Ratio;
        /// Number of batteries or strings in parallel.
        parallel: must i64 { change = "replaced" };
        /// Fuse at the plus of each battery, where several are in parallel: each then has a cable of its own to the bars that collect them, all of one length.
        battery_fuse: may Amps { min = "1 A"; max = "1000 A" };
        /// Family of those fuses.
        battery_fuse_family: may Choice { choices = ["class-t", "terminal-cube", "small-bolt-down", "large-bolt-down"] };
        /// Fault current each of those fuses can break at the voltage of the bank.
        battery_interrupting: may Amps { min = "1 A" };
        /// Data sheet that says so. Without one the figure proves nothing.
        battery_interrupting_from: may Text { tells_place = false };
        /// Length of the cables from each battery to the bars that collect them, one way, the same for all.
        battery_run: may Metres { min = "0 m"; max = "10 m" };
        /// Size of those cables. Left out, it is sized.
        battery_conductor: may ConductorSize;
        /// Highest continuous discharge current of the whole bank, from the maker.
        max_discharge: may Amps;
        /// Highest charge current of the whole bank, from the maker.
        max_charge: may Amps;
        /// Resistance of the whole bank. Give the fault current instead if the maker states it.
        internal_resistance: may Ohms;
        /// Short-circuit current of the whole bank, from the maker. Parallel batteries add up.
        fault_current: may Amps;
        /// Data sheet or measurement that the fault current or the resistance is read in.
        fault_current_from: may Text { tells_place = false };
        /// Lowest cell temperature at which the bank may be charged.
        charge_above: must Celsius { bound = "least" };
        /// Share of the energy put in that comes out again. Left out: 95 % for lfp, 85 % for agm.
        charge_efficiency: may Ratio;
        /// Absorption voltage all chargers are set to: the highest of its network.
        absorb_voltage: must Volts;
        /// Float voltage all chargers are set to.
        float_voltage: must Volts;
        /// The batteries have a heater of their own inside. A separate pad is the kind bank-heater.
        heated: may bool;
    }
}
