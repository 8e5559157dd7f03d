//! Cools the air inside: the role `cooler`.

use super::contract::role;
use crate::units::{Ratio, Watts};

role! {
    /// Cools the air inside.
    Cooler = "cooler" in Thermal {
        /// Cooling output at 35 °C outside.
        cooling: must Watts { change = "replaced" };
        /// Electrical power at full output.
        draw: must Watts;
        /// Share of the time the compressor runs while it is on.
        duty: must Ratio;
    }
}
