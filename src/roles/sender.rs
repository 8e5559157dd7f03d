//! Measures the level of a tank: the role `sender`.

use super::contract::role;
use crate::fields::Component;

role! {
    /// Measures the level of a tank.
    Sender = "sender" in Plumbing {
        /// Tank whose level it measures.
        tank: may Component;
    }
}
