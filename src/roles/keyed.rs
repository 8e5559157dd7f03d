//! Is locked with a key or a code: the role `keyed`.

use super::contract::role;
use crate::fields::Choice;

role! {
    /// Is locked with a key or a code.
    Keyed = "keyed" in Other {
        /// Keys that come with it.
        keys: may i64;
        /// How it locks.
        lock: may Choice;
    }
}
