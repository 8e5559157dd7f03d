//! Keys on a data bus: the role `keypad`, of a panel whose switches carry nothing but messages.

use super::contract::role;
use crate::fields::Components;

role! {
    /// Keys on a data bus: what is pressed there is switched in the outputs of a module.
    Keypad = "keypad" in Other {
        /// Modules whose outputs its keys switch.
        works: must Components { tells_place = false };
    }
}
