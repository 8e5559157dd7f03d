//! In-line fuse or breaker: the role `protection`.

use super::contract::role;
use crate::fields::Choice;
use crate::units::{Amps, Volts};

role! {
    /// In-line fuse or breaker.
    Protection = "protection" in Electric {
        /// Rating. Left out, it is sized from the load and the conductor.
        rating: may Amps { change = "replaced" };
        /// DC voltage marked on it, where that is more than its family's. A class T fuse is for what stands on it.
        rated_voltage: may Volts;
        /// Fuse family.
        family: must Choice { change = "replaced" };
    }
}
