//! Gives heat off into the room: the role `gives-heat`.

use super::contract::role;
use crate::units::Watts;

role! {
    /// Gives heat off into the room, which a cooler must take out again.
    GivesHeat = "gives-heat" in Other {
        /// Heat it gives off into the room, the mean of the hours of a hot day.
        heat_given: may Watts { min = "0 W"; max = "5 kW" };
    }
}
