//! In-line measuring shunt: the role `shunt`.

use super::contract::role;
use crate::fields::Text;
use crate::units::Amps;

role! {
    /// In-line measuring shunt.
    Shunt = "shunt" in Electric {
        /// Rating of the shunt.
        rating: must Amps { change = "replaced" };
        /// Where the display is, in plain words.
        display_place: may Text { change = "moved" };
    }
}
