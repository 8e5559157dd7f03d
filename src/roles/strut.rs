//! Gas struts of a lid: the role `strut`.

use super::contract::role;
use crate::fields::{Choice, Component};
use crate::source::Span;
use crate::units::{Degrees, Kilograms, Metres, Newtons};

role! {
    /// Gas struts of a lid.
    Strut = "strut" in Mechanics {
        /// Bed, bench or locker whose lid it lifts. Left out: the bed at the same place.
        lid_of: may Component;
        /// Mass of the lid with everything fixed to it.
        lid_mass: must Kilograms;
        /// Mass of what lies on the lid when it is opened, such as a mattress. Left out: the bedding of the bed it belongs to.
        lid_load: may Kilograms;
        /// Length of the lid from the hinge to its free edge.
        lid_length: must Metres;
        /// Distance from the hinge to the centre of gravity of the lid.
        centre_of_gravity: must Metres;
        /// Edge at which a closed lid that is not level is hinged.
        hinge: must Choice { choices = ["top", "bottom"] };
        /// Distance from the hinge to the strut end on the lid.
        arm_lid: must Metres;
        /// Distance from the hinge to the strut end on the frame.
        arm_body: must Metres;
        /// Angle at the hinge between the closed lid and the line to the strut end on the frame.
        body_angle: must Degrees;
        /// Angle between the closed lid and the level; 0 for a bed base, 90 for an upright flap.
        lid_at_rest: must Degrees;
        /// Angle the lid opens.
        open_angle: must Degrees;
        /// Force of one strut at its long end (P1). Left out: it is sized.
        force: may Newtons;
        /// Number of struts on the lid.
        struts: must i64;
        /// Stroke of the strut.
        stroke: must Metres;
        /// Length of the open strut, centre to centre.
        length_open: must Metres;
    }
}

impl Strut {
    /// A measure by the name that `compute::mechanics::strut` has for it: as written, and where.
    #[must_use]
    pub fn measure(&self, name: &str) -> Option<(String, Span)> {
        let lengths = [&self.lid_length, &self.centre_of_gravity, &self.arm_lid, &self.arm_body];
        let angles = [&self.body_angle, &self.open_angle, &self.lid_at_rest];
        let shown = |written: Option<&str>| written.unwrap_or("not given").to_owned();
        let length = lengths.into_iter().find(|f| f.name == name).map(|f| (shown(f.written()), f.span));
        let angle = || angles.into_iter().find(|f| f.name == name).map(|f| (shown(f.written()), f.span));
        let other = || match name {
            "lid_mass" => Some((shown(self.lid_mass.written()), self.lid_mass.span)),
            "struts" => {
                let count = self.struts.get().map_or_else(|| shown(None), |n| n.to_string());
                Some((count, self.struts.span))
            }
            _ => None,
        };
        length.or_else(angle).or_else(other)
    }
}
