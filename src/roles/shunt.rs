//! In-line measuring shunt: the role `shunt`.

use super::contract::role;
use crate::fields::Text;
use crate::units::{Amps, Volts};

role! {
    /// In-line measuring shunt.
    Shunt = "shunt" in Electric {
        /// Rating of the shunt.
        rating: must Amps { change = "replaced" };
        /// Highest DC voltage it is rated for, as marked on it or in its data sheet.
        rated_voltage: may Volts;
        /// Where the display is, in plain words.
        display_place: may Text { change = "moved" };
    }
}
