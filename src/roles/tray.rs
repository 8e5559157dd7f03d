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
        /// What they go into: body sheet with washers, rivet nuts in it, sheet with backing plates, or a rail or frame
        /// member made for them.
        fixed_to: may Choice { choices = ["sheet", "rivet-nut", "plate", "frame"] };
        /// Thickness of the sheet that they go through.
        sheet: may Metres { min = "0.5 mm"; max = "6 mm" };
        /// From a bolt to the edge of the sheet.
        edge_distance: may Metres { min = "5 mm"; max = "500 mm"; bound = "least" };
        /// Side of a backing plate.
        backing_plate: may Metres { min = "20 mm"; max = "500 mm"; bound = "least" };
        /// How far it slides out.
        extension: must Metres;
        /// Direction it slides.
        opens: must Choice { choices = ["rearward", "left", "right"] };
    }
}
