//! Brings gas to what burns it: the role `gas-line`.

use super::contract::role;
use crate::fields::Component;

role! {
    /// Brings gas to what burns it.
    GasLine = "gas-line" in Other {
        /// The regulator or line at its upstream end.
        from: may Component;
        /// The appliance it feeds, or the line that goes on.
        to: may Component;
        /// It has its own shut-off valve in reach.
        shut_off: must bool;
    }
}
