//! Lashing points: the role `lashing`.

use super::contract::role;
use crate::fields::Choice;
use crate::units::{Kilograms, Newtons};

role! {
    /// Lashing points.
    Lashing = "lashing" in Mechanics {
        /// Bolts that hold the rail or rings.
        bolts: must i64 { min = 1; max = 100 };
        /// Size of these bolts.
        bolt_size: must Choice { choices = ["M5", "M6", "M8", "M10", "M12"] };
        /// Fittings or rings.
        points: must i64;
        /// Largest mass it holds, beside the parts that ride on it.
        secures: may Kilograms { bound = "most" };
        /// Working load limit of one fitting, in any direction it is meant for.
        working_load: must Newtons { bound = "most" };
    }
}
