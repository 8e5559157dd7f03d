//! Carries water: the role `pipe`.

use super::contract::role;
use crate::fields::{Choice, Component};
use crate::units::{Metres, WattsPerMetreKelvin};

role! {
    /// Carries water.
    Pipe = "pipe" in Plumbing {
        /// What runs in it.
        medium: must Choice { choices = ["fill", "suction", "cold", "hot", "waste", "vent", "drain"] };
        /// Component at the upstream end.
        from: may Component;
        /// Component at the downstream end.
        to: may Component;
        /// Length of the pipe as laid.
        length: must Metres { change = "replaced" };
        /// Inside diameter.
        inside_diameter: must Metres;
        /// Outside diameter.
        outside_diameter: must Metres;
        /// Pipe material.
        material: must Choice { choices = ["pex", "polyethylene", "reinforced-hose", "silicone-hose", "copper", "pvc-waste"] };
        /// Number of elbows and tees.
        bends: must i64;
        /// Height of the downstream end above the upstream end; negative if below.
        rise: must Metres;
        /// The pipe is sleeved with insulation.
        insulated: may bool;
        /// Thickness of the pipe insulation, where it is insulated.
        insulation_thickness: must Metres;
        /// Conductivity of the pipe insulation.
        insulation_conductivity: must WattsPerMetreKelvin;
        /// Inside the heated body, in a wall, or under the floor.
        position: must Choice { choices = ["inside", "in-wall", "under-floor"] };
    }
}
