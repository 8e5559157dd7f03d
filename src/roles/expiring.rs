//! Has a last day printed on it: the role `expiring`.

use super::contract::role;
use jiff::civil::Date;

role! {
    /// Has a last day printed on it.
    Expiring = "expiring" in Other {
        /// Date of manufacture printed on it.
        made: may Date;
        /// Last day of its use, as printed on it.
        replace_by: may Date;
    }
}
