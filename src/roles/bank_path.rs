//! The way of the current that a bank's own protection opens: the role `bank-path`, of a contactor.

use super::contract::role;
use crate::fields::Choice;

role! {
    /// One of the two ways between a bank and the rest, which the bank's own protection opens by itself.
    BankPath = "bank-path" in Other {
        /// What flows through it: what charges the bank, or what draws from it.
        path: must Choice { choices = ["charge", "load"]; change = "replaced" };
    }
}
