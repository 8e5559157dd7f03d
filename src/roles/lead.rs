//! What a spec says of one conductor of a part: the role `lead`, of which every part with conductors has one for each.

use super::contract::role;
use crate::fields::Places;
use crate::units::{Amps, ConductorSize, Metres};

role! {
    /// One conductor of a part, by its own id: a lead of its kind, or one of its supply, such as the leg behind a switch.
    Lead = "lead" in Other {
        /// Length of its route, one way. Left out, the way along the channels.
        run: may Metres { min = "0 m"; max = "60 m" };
        /// Its size.
        conductor: may ConductorSize;
        /// Fuse at its start.
        fuse: may Amps { min = "0.1 A"; max = "500 A" };
        /// Places it passes on its way.
        through: may Places;
    }
}
