//! In-line fuse or breaker: the role `protection`.

use super::contract::role;
use crate::fields::Choice;
use crate::units::Amps;

role! {
    /// In-line fuse or breaker.
    Protection = "protection" in Electric {
        /// Rating. Left out, it is sized from the load and the conductor.
        rating: may Amps { change = "replaced" };
        /// Fuse family.
        family: must Choice { change = "replaced" };
    }
}
