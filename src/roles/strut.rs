//! Gas struts of a lid: the role `strut`.

use super::contract::role;
use crate::fields::{Choice, Component};
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
