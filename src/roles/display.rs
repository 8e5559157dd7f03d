//! Shows something and uses little: the role `display`.

use super::contract::role;
use crate::fields::{Component, Components, Texts};
use crate::units::{Metres, Watts};

role! {
    /// Shows something and uses little.
    Display = "display" in Electric {
        /// Electrical power.
        draw: must Watts;
        /// Tank whose level it measures.
        tank: may Component;
        /// The tanks it shows, in order.
        tanks: may Components;
        /// What each switch does, from the top left, row by row: "Water pump: runs the pump when a tap is open".
        switches: may Texts;
        /// What each lamp means: "Green at the pump switch: pump circuit live".
        indicators: may Texts;
        /// What each display shows: "Left: bank volts and amps".
        displays: may Texts;
        /// Components whose switch or display sits on this panel.
        holds: may Components;
        /// Width of the opening.
        width: may Metres { change = "replaced" };
        /// Height of the opening.
        height: may Metres { change = "replaced" };
    }
}
