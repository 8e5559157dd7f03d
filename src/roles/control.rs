//! In-line switch, dimmer or relay: the role `control`.

use super::contract::role;
use crate::fields::{Choice, Places, Text};
use crate::units::{Amps, Ratio, Volts};

role! {
    /// In-line switch, dimmer or relay.
    Control = "control" in Electric {
        /// Current it may carry without end.
        rating: must Amps { change = "replaced" };
        /// Highest DC voltage it is rated for, as marked on it or in its data sheet.
        rated_voltage: may Volts;
        /// Lead that the dimmer chops. A negative dimmer needs its own negative from every light; no light on it may share a negative with another circuit.
        switched_lead: may Choice { choices = ["positive", "negative"] };
        /// Brightness at the lowest setting.
        lowest: may Ratio;
        /// Where the second switch sits; `place` is the first one.
        second_place: may Text { change = "moved" };
        /// Where the switches between the first and the second are, in the order of the wire: with them it is worked from as many places more.
        between: may Places { change = "moved" };
        /// What keeps others from turning it on.
        guard: may Choice { choices = ["keyed", "hidden"] };
    }
}
