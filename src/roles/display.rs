//! Shows something and uses little: the role `display`.

use super::contract::role;
use crate::fields::{Component, Components};
use crate::units::Watts;

role! {
    /// Shows something and uses little.
    Display = "display" in Electric {
        /// Electrical power.
        draw: must Watts;
        /// Tank whose level it measures.
        tank: may Component;
        /// The tanks it shows, in order.
        tanks: may Components;
    }
}
