//! Shore inlet: the role `inlet`.

use super::contract::role;
use crate::fields::Choice;
use crate::units::{Amps, ConductorSize, Metres};

role! {
    /// Shore inlet.
    Inlet = "inlet" in Electric {
        /// Rating of the inlet: for example 30 A at 120 V, or 16 A at 230 V.
        rating: must Amps { change = "replaced" };
        /// Side of the van it is on.
        side: must Choice { choices = ["left", "right", "rear"] };
        /// Length of the shore cable carried aboard.
        cord: may Metres;
        /// Conductors of the shore cable carried aboard.
        cord_conductor: may ConductorSize;
    }
}
