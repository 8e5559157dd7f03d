//! A switch on a panel: the role `switch`, of which a kind `has` several.

use super::contract::role;
use crate::fields::Text;
use crate::units::{Amps, Volts};

role! {
    /// Switch on a panel, with a positive that arrives and one that leaves.
    Switch = "switch" in Other {
        /// Words on it; left out, its id.
        label: may Text;
        /// What it does, in words.
        does: may Text;
        /// Row on the panel, from the top.
        row: may i64 { min = 1; max = 60 };
        /// Column on the panel, from the left.
        column: may i64 { min = 1; max = 60 };
        /// Current it may carry without end.
        rating: must Amps { change = "replaced" };
        /// Highest DC voltage it is rated for, as marked on it or in its data sheet.
        rated_voltage: may Volts;
    }
}
