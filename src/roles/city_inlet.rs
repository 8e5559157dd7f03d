//! Takes water from a campsite hose: the role `city-inlet`.

use super::contract::role;
use crate::units::{Kilopascals, LitresPerMinute};

role! {
    /// Takes water from a campsite hose.
    CityInlet = "city-inlet" in Plumbing {
        /// Flow through the regulator with one tap open.
        flow: must LitresPerMinute { change = "replaced" };
        /// Pressure after the regulator.
        regulated_pressure: must Kilopascals;
    }
}
