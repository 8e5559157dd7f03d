//! Puts a fire out: the role `extinguisher`.

use super::contract::role;
use crate::units::Metres;
use jiff::civil::Date;

role! {
    /// Puts a fire out.
    Extinguisher = "extinguisher" in Safety {
        /// Date of manufacture printed on it.
        made: may Date;
        /// Replace-by date printed on it. It wins over the life limit of this kind.
        replace_by: may Date;
        /// Distance from the main exit.
        to_exit: must Metres;
    }
}
