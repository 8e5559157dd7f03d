//! Legs that lift the parked vehicle: the role `levelling`.

use super::contract::role;
use crate::units::Kilograms;

role! {
    /// Legs that lift the parked vehicle, half of them at each axle.
    Levelling = "levelling" in Other {
        /// Number of legs.
        leg_count: must i64 { min = 2; max = 8 };
        /// Load that one leg may lift.
        leg_rating: must Kilograms { min = "100 kg"; max = "20000 kg"; bound = "most" };
    }
}
