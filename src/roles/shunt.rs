//! In-line measuring shunt: the role `shunt`.

use super::contract::role;
use crate::fields::{Component, Place, Text};
use crate::units::{Amps, Volts};

role! {
    /// In-line measuring shunt.
    Shunt = "shunt" in Electric {
        /// Rating of the shunt.
        rating: must Amps { change = "replaced" };
        /// Highest DC voltage it is rated for, as marked on it or in its data sheet.
        rated_voltage: may Volts;
        /// Where its cable leads back to: the bank, or the monitor or negative busbar before it.
        returns_to: may Component;
        /// Place of the display.
        display_at: may Place { change = "moved" };
        /// Where the display is, in plain words, where that is no place of the spec.
        display_place: may Text { change = "moved" };
    }
}
