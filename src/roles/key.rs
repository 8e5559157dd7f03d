//! A key of a keypad: the role `key`, of which a kind `has` several.

use super::contract::role;
use crate::fields::Text;

role! {
    /// Key on a data bus: it tells a module what to switch, and nothing of the current flows through it.
    Key = "key" in Other {
        /// Words on it; left out, its id.
        label: may Text;
        /// What it does, in words.
        does: may Text;
        /// Row on the keypad, from the top.
        row: may i64 { min = 1; max = 60 };
        /// Column on the keypad, from the left.
        column: may i64 { min = 1; max = 60 };
    }
}
