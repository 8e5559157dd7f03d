//! Bowl or tray that sends waste on: the role `basin`.

use super::contract::role;
use crate::fields::Component;

role! {
    /// Bowl or tray that sends waste on.
    Basin = "basin" in Plumbing {
        /// Grey tank the sink drains to.
        drains_to: may Component;
        /// It has no waste: what is in it is carried out by hand.
        dry: may bool { change = "replaced" };
    }
}
