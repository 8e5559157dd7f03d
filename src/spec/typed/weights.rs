//! `[recorded.weights]`: the weighing of the finished van.

use crate::fields::{Text, typed};
use crate::units::{Kilograms, Ratio};
use jiff::civil::Date;

typed! {
    /// `[recorded.weights]`: the weighing of the finished van.
    Weights = "recorded.weights" {
        /// Load on the front axle.
        front_axle: Kilograms;
        /// Load on the rear axle.
        rear_axle: Kilograms;
        /// Load on the wheels of the left side.
        left: Kilograms;
        /// Load on the wheels of the right side.
        right: Kilograms;
        /// Load on all wheels.
        total: Kilograms;
        /// Day of the weighing.
        date: Date;
        /// Who weighed.
        by: Text;
        /// Scale and number of its slip.
        scale: Text;
        /// How full the fuel tank was. Left out, what the weighbridge component says.
        fuel_share: Ratio;
        /// How full the fresh tank was. Left out, what the weighbridge component says.
        fresh_share: Ratio;
        /// How full the grey tank was. Left out, what the weighbridge component says.
        grey_share: Ratio;
        /// People on the front seats. Left out, what the weighbridge component says.
        people: i64;
    }
}
