//! Shore inlet: the role `inlet`.

use super::contract::role;
use crate::fields::Choice;
use crate::units::{Amps, ConductorSize, Metres, Watts};

role! {
    /// Shore inlet.
    Inlet = "inlet" in Electric {
        /// Rating of the inlet: for example 30 A at 120 V, or 16 A at 230 V.
        rating: must Amps { change = "replaced" };
        /// Side of the van it is on.
        side: must Choice { choices = ["left", "right", "rear"] };
        /// Lines that arrive: two of a split-phase supply of 120/240 V, like the 50 A one of a campsite; else one.
        lines: may i64 { min = 1; max = 2; change = "replaced" };
        /// Length of the shore cable carried aboard.
        cord: may Metres;
        /// Conductors of the shore cable carried aboard.
        cord_conductor: may ConductorSize;
        /// Continuous power of a portable generator that is plugged in here where there is no supply, from its plate. Left out, none is.
        portable_power: may Watts;
        /// The neutral of that generator is joined to its frame.
        portable_bonded: may bool;
    }
}
