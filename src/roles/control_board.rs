//! Brings switches, lamps and displays together in one face: the role `control-board`.

use super::contract::role;
use crate::fields::{Components, Texts};
use crate::units::Metres;

role! {
    /// Brings switches, lamps and displays together in one face.
    ControlBoard = "control-board" in Other {
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
