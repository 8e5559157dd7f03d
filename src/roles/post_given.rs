//! What a spec or a stock item says of one post of a part: the role `post`, of which every part with posts has one for each.

use super::contract::role;
use crate::units::NewtonMetres;

role! {
    /// One post of a part, by its own id: what its maker says of the screw or stud on it.
    PostGiven = "post" in Other {
        /// Tightening torque that the maker gives. Left out, the packets leave a blank for it.
        torque: may NewtonMetres { min = "0.1 N m"; max = "100 N m" };
    }
}
