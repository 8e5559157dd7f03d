//! Busbar: the role `bus`.

use super::contract::role;
use crate::units::Amps;

role! {
    /// Busbar.
    Bus = "bus" in Electric {
        /// Continuous rating of the bar.
        rating: must Amps { change = "replaced" };
    }
}
