//! Way out in an emergency: the role `escape-route`.

use super::contract::role;
use crate::fields::{Choice, Component, Components, Texts};
use crate::units::Metres;

role! {
    /// Way out in an emergency.
    EscapeRoute = "escape-route" in Safety {
        /// Clear width when open. 610 × 430 mm is the least in United States practice (from memory).
        width: must Metres { change = "replaced" };
        /// Clear height when open.
        height: must Metres { change = "replaced" };
        /// The window, door or hatch itself, where it is a component of its own.
        leads_through: may Component;
        /// Side of the van it is in; left out, that of the window it leads through, or of the skin its place lies at.
        side: may Choice { choices = ["left", "right", "rear", "front", "roof"] };
        /// What can stand in its way outside or inside: a loaded carrier, a ladder, a made-up bed. It is no free way out then.
        blocked_by: may Components;
        /// What stands outside in front of it and was tried, loaded: the way out opens all the same.
        clear_of: may Components;
        /// Steps that free it from inside. Left out: it cannot be freed from inside.
        to_free: may Texts;
        /// The beds and seats whose way out this is. Left out: all of them.
        serves: may Components;
    }
}
