//! Valve with a motor: the role `motor-valve`.

use super::contract::role;
use crate::fields::Component;
use crate::units::Metres;

role! {
    /// Valve with a motor.
    MotorValve = "motor-valve" in Plumbing {
        /// Tank it drains.
        tank: may Component;
        /// Inside diameter.
        diameter: must Metres { change = "replaced" };
    }
}
