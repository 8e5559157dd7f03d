//! Tells of LP gas: the role `lp-alarm`.

use super::contract::role;
use jiff::civil::Date;

role! {
    /// Tells of LP gas.
    LpAlarm = "lp-alarm" in Safety {
        /// Date of manufacture printed on the alarm.
        made: may Date;
        /// Replace-by date printed on the alarm. It wins over the life limit of this kind.
        replace_by: may Date;
        /// Also senses carbon monoxide.
        senses_co: may bool;
    }
}
