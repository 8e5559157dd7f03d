//! The weighing of the finished van: the role `weighing`.

use super::contract::role;
use crate::units::Ratio;

role! {
    /// The weighing of the finished van.
    Weighing = "weighing" in Other {
        /// Fuel in the tank when weighed.
        fuel_share: must Ratio;
        /// Fresh water in the tank at the first weighing.
        fresh_share: must Ratio;
        /// Grey water in the tank at the first weighing.
        grey_share: must Ratio;
        /// People in the vehicle when weighed.
        people: must i64;
        /// Largest difference of measured from computed, each axle.
        tolerance: must Ratio;
    }
}
