//! Heavy enough that bolts must hold it: the role `held`.

use super::contract::role;
use crate::fields::Choice;

role! {
    /// Heavy enough that bolts must hold it.
    Held = "held" in Mechanics {
        /// Bolts that hold it to the body.
        bolts: may i64 { min = 1; max = 100 };
        /// Size of these bolts, class 8.8.
        bolt_size: may Choice { choices = ["M5", "M6", "M8", "M10", "M12"] };
    }
}
