//! Someone sleeps there: the role `sleeping`.

use super::contract::role;
use crate::fields::Choice;
use crate::units::Metres;

role! {
    /// Someone sleeps there.
    Sleeping = "sleeping" in Safety {
        /// Sleeping length.
        length: must Metres { change = "replaced" };
        /// Sleeping width.
        width: must Metres { change = "replaced" };
        /// How it becomes a bed.
        arrangement: may Choice { choices = ["fixed", "make-up", "lift", "bunk"] };
    }
}
