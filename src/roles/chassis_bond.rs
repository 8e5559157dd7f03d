//! Joins the negative and protective earth to the body: the role `chassis-bond`.

use super::contract::role;
use crate::fields::{Components, Text};
use crate::units::ConductorSize;

role! {
    /// Joins the negative and protective earth to the body.
    ChassisBond = "chassis-bond" in Other {
        /// Where on the chassis the point is, in plain words.
        bond_point: may Text;
        /// How many studs or bolts the point has, side by side. Left out, it is one.
        studs: may i64 { min = 1; max = 12; change = "replaced" };
        /// Conductor from the negative busbar to the chassis. Not smaller than the bank's largest lead, nor than 8 AWG (after NEC 552.10) or 10 mm².
        bond_conductor: may ConductorSize;
        /// Components whose metal cases are bonded.
        equipment: may Components;
        /// Conductor from equipment cases and the AC earth bar to the chassis point. Left out, it is that of the rules: 8 AWG (after NEC 551.56), or 10 mm² under metric rules.
        equipment_conductor: may ConductorSize;
    }
}
