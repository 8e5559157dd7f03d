//! What a spec or a stock item says of one post of a part: the role `post`, of which every part with posts has one for each.

use super::contract::role;
use crate::fields::Choice;
use crate::units::NewtonMetres;

role! {
    /// One post of a part, by its own id: what its maker says of the screw or stud on it.
    PostGiven = "post" in Other {
        /// Tightening torque that the maker gives. Left out, the packets leave a blank for it.
        torque: may NewtonMetres { min = "0.1 N m"; max = "100 N m" };
        /// Thread of the stud or screw, which says what ring to take. Left out, that of the kind.
        thread: may Choice { choices = ["M3", "M4", "M5", "M6", "M8", "M10", "M12", "No. 4", "No. 8", "No. 10", "1/4 in", "5/16 in", "3/8 in", "1/2 in"]; change = "replaced" };
        /// How a conductor ends there: a ring on a stud or under a screw, a ferrule in a clamp, a push-on receptacle, the maker's plug, a splice to the device's own lead. Left out, as the kind says.
        form: may Choice { choices = ["ring", "clamp", "push-on", "plug", "splice"]; change = "replaced" };
    }
}
