//! Lets water out: tap, shower: the role `water-outlet`.

use super::contract::role;
use crate::fields::Component;
use crate::units::{Kilopascals, LitresPerMinute};

role! {
    /// Lets water out: tap, shower.
    WaterOutlet = "water-outlet" in Plumbing {
        /// Flow with the outlet full open.
        flow: must LitresPerMinute { min = "1 L/min"; max = "15 L/min"; change = "replaced" };
        /// Pressure needed at the outlet for that flow.
        min_pressure: must Kilopascals;
        /// Hot and cold; false for one that gives cold water only.
        mixer: may bool { change = "replaced" };
        /// Grey tank the shower drains to.
        drains_to: may Component;
    }
}
