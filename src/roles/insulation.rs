//! Keeps heat in, with the ribs that bridge it: the role `insulation`.

use super::contract::role;
use crate::fields::Choice;
use crate::units::{Metres, Ratio};

role! {
    /// Keeps heat in, with the ribs that bridge it.
    Insulation = "insulation" in Thermal {
        /// Which part of the body it covers.
        surface: must Choice { choices = ["walls", "roof", "floor", "doors", "cab", "bulkhead", "wheel-arches", "engine-cover"] };
        /// What it is for.
        purpose: must Choice { choices = ["thermal", "sound", "both"] };
        /// Share of the area where ribs bridge it.
        rib_share: must Ratio { min = "0 %"; max = "60 %" };
        /// Insulation over the ribs.
        rib_thickness: must Metres { min = "0 mm"; max = "200 mm" };
        /// Width of the face of one rib.
        rib_width: must Metres { min = "1 mm"; max = "500 mm" };
        /// What the ribs are of.
        rib_material: must Choice { choices = ["steel", "aluminium", "wood"] };
    }
}
