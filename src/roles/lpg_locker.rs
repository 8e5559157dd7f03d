//! Houses gas cylinders: the role `lpg-locker`.

use super::contract::role;
use crate::fields::Choice;
use crate::units::Kilograms;

role! {
    /// Houses gas cylinders.
    LpgLocker = "lpg-locker" in Safety {
        /// Number of cylinders it holds.
        cylinders: must i64;
        /// Gas in one full cylinder.
        cylinder_gas: must Kilograms;
        /// Gas in the cylinder.
        gas: must Choice { choices = ["propane", "butane", "mix"]; change = "replaced" };
    }
}
