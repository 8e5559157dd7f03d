//! Bolted down, and slides out with a load: the role `tray`.

use super::contract::role;
use crate::fields::Choice;
use crate::units::Metres;

role! {
    /// Bolted down, and slides out with a load.
    Tray = "tray" in Mechanics {
        /// Bolts that hold the tray frame to the body structure.
        bolts: must i64 { min = 1; max = 100 };
        /// Size of these bolts.
        bolt_size: must Choice { choices = ["M5", "M6", "M8", "M10", "M12"] };
        /// How far it slides out.
        extension: must Metres;
        /// Direction it slides.
        opens: must Choice { choices = ["rearward", "left", "right"] };
    }
}
