//! Way out where its `escape` field says so: the role `escape-window`.

use super::contract::role;
use crate::fields::Choice;
use crate::units::Metres;

role! {
    /// Way out where its `escape` field says so.
    EscapeWindow = "escape-window" in Safety {
        /// It is marked as an emergency exit.
        escape: may bool;
        /// Width of the cut-out.
        opening_width: must Metres;
        /// Height of the cut-out; of one in a roof its size along the vehicle.
        opening_height: must Metres;
        /// Where it is.
        side: must Choice { choices = ["left", "right", "rear", "roof", "cab"] };
    }
}
