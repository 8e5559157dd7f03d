//! Needs room about it on its board: the role `clearance`.

use super::contract::role;
use crate::units::Metres;

role! {
    /// Needs room about it on its board, which the board by rule keeps.
    Clearance = "clearance" in Other {
        /// Free air it needs above and below it.
        air: may Metres { min = "0 mm"; max = "500 mm"; bound = "least" };
        /// Least distance between its bare metal and that of the other pole.
        bars_apart: may Metres { min = "0 mm"; max = "500 mm"; bound = "least" };
    }
}
