//! Keeps dirt out of a pump: the role `strainer`.

use super::contract::role;

role! {
    /// Keeps dirt out of a pump.
    Strainer = "strainer" in Plumbing {
    }
}
