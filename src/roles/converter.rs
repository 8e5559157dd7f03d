//! Makes direct current of another voltage: the role `converter`.

use super::contract::role;
use crate::units::{Amps, Ratio, Volts, Watts};

role! {
    /// Makes direct current of another voltage: what hangs on it names it in `fed_from`.
    Converter = "converter" in Electric {
        /// Output current it gives without end.
        rating: must Amps { change = "replaced" };
        /// Output power it gives without end, where its plate tells that instead of a current.
        power: may Watts { change = "replaced" };
        /// Output voltage it is set to.
        output_voltage: must Volts { change = "replaced" };
        /// Output power as a share of input power at full load.
        efficiency: must Ratio { min = "50 %"; max = "100 %" };
        /// Input voltage at which it switches off. The highest input current flows just above it.
        low_cutoff: must Volts;
        /// Power it takes when it is on without load.
        idle_draw: must Watts;
        /// Current at which it limits itself, as a share of its rating: all that it drives into a short.
        current_limit: must Ratio { min = "100 %"; max = "500 %" };
    }
}
