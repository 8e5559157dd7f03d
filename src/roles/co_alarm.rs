//! Tells of carbon monoxide: the role `co-alarm`.

use super::contract::role;
use jiff::civil::Date;

role! {
    /// Tells of carbon monoxide.
    CoAlarm = "co-alarm" in Safety {
        /// Date of manufacture printed on the alarm.
        made: may Date;
        /// Replace-by date printed on the alarm. It wins over the life limit of this kind.
        replace_by: may Date;
    }
}
