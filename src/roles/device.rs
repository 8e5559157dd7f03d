//! What the people aboard plug into an outlet: the role `device`, of which `[use]` has one for each.

use super::contract::role;
use crate::fields::{Choice, Component, Text};
use crate::units::{Seconds, Watts};

role! {
    /// What is plugged into an outlet: a laptop, a kettle.
    Device = "device" in Other {
        /// What to call it. Left out, its id.
        name: may Text;
        /// Outlet it is plugged into.
        plugged_into: must Component { required = true; tells_place = false };
        /// What it takes while it runs, as its plate says.
        power: must Watts { required = true; min = "1 W"; max = "8000 W" };
        /// How long it runs on a day.
        hours: must Seconds { required = true; min = "0 h"; max = "24 h" };
        /// Part of the day for its hours.
        at: may Choice { choices = ["always", "waking", "day", "evening", "night", "meals", "washing", "hot", "driving"]; default = "waking" };
        /// Word for those of which one runs at a time: two of the same word never run together.
        one_of: may Text;
    }
}
