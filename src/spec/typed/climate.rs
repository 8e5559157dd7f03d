//! `[climate.<season>]`: where and when it is used.

use crate::fields::{MonthDay, Text, typed};
use crate::units::{Celsius, Degrees, Irradiation, Metres, Ratio};

typed! {
    /// `[climate.<season>]`: where and when it is used.
    Climate = "climate" {
        /// Where and when, in a few words.
        about: Text;
        /// Month it stands for, 1 to 12.
        month: i64;
        /// Latitude; south of the equator is negative.
        latitude: Degrees;
        /// Energy of the sun on a level square metre, a day.
        irradiation: Irradiation;
        /// Usual lowest temperature of the night.
        low: Celsius;
        /// Usual highest temperature of the day.
        high: Celsius;
        /// Lowest temperature the van must take.
        record_low: Celsius;
        /// Highest temperature the van must take.
        record_high: Celsius;
        /// Height above the sea.
        altitude: Metres;
        /// Relative humidity outside.
        humidity: Ratio;
        /// Share of the light that the ground throws back. Fresh snow: 80 %.
        albedo: Ratio;
        /// Usual day of the first frost, month and day, like "10-15".
        first_frost: MonthDay;
    }
}
