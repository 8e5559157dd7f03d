//! AC outlet: the role `outlet`.

use super::contract::role;
use crate::fields::Choice;
use crate::units::{Amps, Watts};

role! {
    /// AC outlet.
    Outlet = "outlet" in Electric {
        /// Rated current.
        rating: must Amps { change = "replaced" };
        /// Number of sockets in it.
        gangs: must i64;
        /// It also works away from shore power.
        on_inverter: may bool;
        /// It is outside, or within reach of water. Then it needs a lid and a residual-current device of its own or upstream.
        wet_zone: may bool;
        /// How several of them on one circuit are wired: on from one to the next (chain), or from a joint at the first to each of the others (star).
        legs: may Choice { choices = ["chain", "star"]; default = "chain"; change = "moved" };
        /// Power of USB sockets built into it.
        usb_watts: may Watts;
    }
}
