//! Heavy enough that bolts must hold it: the role `held`.

use super::contract::role;
use crate::fields::Choice;
use crate::units::Metres;

role! {
    /// Heavy enough that bolts must hold it.
    Held = "held" in Mechanics {
        /// Bolts that hold it to the body.
        bolts: may i64 { min = 1; max = 100 };
        /// Size of these bolts, class 8.8.
        bolt_size: may Choice { choices = ["M5", "M6", "M8", "M10", "M12"] };
        /// What they go into: body sheet with washers, rivet nuts in it, sheet with backing plates, or a rail or frame
        /// member made for them.
        fixed_to: may Choice { choices = ["sheet", "rivet-nut", "plate", "frame"] };
        /// Thickness of the sheet that they go through.
        sheet: may Metres { min = "0.5 mm"; max = "6 mm" };
        /// From a bolt to the edge of the sheet.
        edge_distance: may Metres { min = "5 mm"; max = "500 mm"; bound = "least" };
        /// Side of a backing plate.
        backing_plate: may Metres { min = "20 mm"; max = "500 mm"; bound = "least" };
    }
}
