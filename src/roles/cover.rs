//! Goes over a pane: the role `cover`.

use super::contract::role;
use crate::fields::Components;
use crate::units::{Ratio, SquareMetres, Watts};

role! {
    /// Goes over a pane.
    Cover = "cover" in Thermal {
        /// The windows it covers.
        window: may Components;
        /// Area covered, of all windows together.
        area: must SquareMetres;
        /// Heat lost through window and cover together, per square metre and kelvin.
        heat_loss: must Watts;
        /// Share of the sun's heat that still comes in with the cover closed.
        solar_gain: must Ratio;
        /// It goes on from outside, so the pane under it stays as warm as the room makes it.
        outside: may bool;
    }
}
