//! Pane that heat and sun pass: the role `window`.

use super::contract::role;
use crate::fields::Choice;
use crate::units::{Ratio, SquareMetres, Watts};

role! {
    /// Pane that heat and sun pass.
    Window = "window" in Thermal {
        /// Area that light and heat pass.
        glazed_area: must SquareMetres;
        /// U-value: heat lost through one square metre per kelvin.
        heat_loss: must Watts;
        /// Share of the sun's heat that comes in.
        solar_gain: must Ratio;
        /// Where it is.
        side: must Choice { choices = ["left", "right", "rear", "roof", "cab"] };
    }
}
