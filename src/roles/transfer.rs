//! Chooses between AC sources: the role `transfer`.

use super::contract::role;
use crate::units::Amps;

role! {
    /// Chooses between AC sources.
    Transfer = "transfer" in Electric {
        /// Rated current of its contacts.
        rating: must Amps { change = "replaced" };
        /// Poles it switches. Two for one live and the neutral.
        poles: must i64;
    }
}
