//! Irradiation of a level plane above the air (Duffie & Beckman 1.4 and 1.10).

use super::geometry::{Convention, day_angle, declination, sunset_angle};

/// Solar constant of Duffie & Beckman, W/m².
pub const SOLAR_CONSTANT: f64 = 1367.0;

/// Recommended mean day of each month (Klein 1977, Duffie & Beckman Table 1.6.1): the day whose irradiation above
/// the air is nearest to the month's average.
pub const MEAN_DAYS: [f64; 12] = [17.0, 47.0, 75.0, 105.0, 135.0, 162.0, 198.0, 228.0, 258.0, 288.0, 318.0, 344.0];

/// Days before the first of each month of a common year, with its end.
const MONTH_STARTS: [u16; 13] = [0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334, 365];

/// Mean day of a month, 1 to 12. `None` for any other number.
#[must_use]
pub fn mean_day(month: i64) -> Option<f64> {
    MEAN_DAYS.get(usize::try_from(month).ok()?.checked_sub(1)?).copied()
}

/// Solar constant corrected for the distance of the sun on a day of the year.
fn at_distance(day: f64, convention: Convention) -> f64 {
    SOLAR_CONSTANT
        * match convention {
            Convention::Cooper => 1.0 + 0.033 * (std::f64::consts::TAU * day / 365.0).cos(),
            Convention::Spencer => {
                let b = day_angle(day);
                1.000_11
                    + 0.034_221 * b.cos()
                    + 0.001_28 * b.sin()
                    + 0.000_719 * (2.0 * b).cos()
                    + 0.000_077 * (2.0 * b).sin()
            }
        }
}

/// Irradiation of one day on a level plane above the air, MJ/m² (Duffie & Beckman 1.10.3); 0 in the polar night.
#[must_use]
pub fn daily(latitude: f64, day: f64, convention: Convention) -> f64 {
    let d = declination(day, convention);
    let w = sunset_angle(latitude, d).to_radians();
    let (l, d) = (latitude.to_radians(), d.to_radians());
    let shape = l.cos() * d.cos() * w.sin() + w * l.sin() * d.sin();
    (86_400.0 * at_distance(day, convention) / std::f64::consts::PI * shape / 1e6).max(0.0)
}

/// Highest of [`daily`] over all days of a month, MJ/m². `None` where `month` is not 1 to 12.
#[must_use]
pub fn month_highest(latitude: f64, month: i64, convention: Convention) -> Option<f64> {
    Some(days_of(month)?.map(|day| daily(latitude, f64::from(day), convention)).fold(0.0, f64::max))
}

/// Days of the year in a month of a common year.
fn days_of(month: i64) -> Option<std::ops::RangeInclusive<u16>> {
    let month = usize::try_from(month).ok()?.checked_sub(1)?;
    Some(*MONTH_STARTS.get(month)? + 1..=*MONTH_STARTS.get(month + 1)?)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::reference::{num, rows};

    /// Average of [`daily`] over all days of a month, MJ/m². This, not the value of the mean day, is what Duffie &
    /// Beckman print in Table 1.10.1. `None` where `month` is not 1 to 12.
    fn month_average(latitude: f64, month: i64, convention: Convention) -> Option<f64> {
        let days = days_of(month)?;
        let count = days.end() + 1 - days.start();
        Some(days.map(|day| daily(latitude, f64::from(day), convention)).sum::<f64>() / f64::from(count))
    }

    /// Duffie & Beckman Table 1.10.1 (4th ed. 2013), four latitudes, twelve months.
    #[test]
    fn month_averages_are_those_of_the_printed_table() {
        let table = rows("duffie-beckman-table-1-10-1");
        assert_eq!(table.len(), 48);
        for row in table {
            #[expect(clippy::cast_possible_truncation, reason = "a month")]
            let month = num(&row, "month") as i64;
            let got = month_average(num(&row, "lat_deg"), month, Convention::Cooper).expect("month");
            let printed = num(&row, "H0_published_MJ_m2");
            assert!((got - printed).abs() < 0.06, "{row:?}: {got}");
            assert!((got - num(&row, "H0_monthavg_MJ_m2")).abs() < 6e-4, "{row:?}: {got}");
            let mean = daily(num(&row, "lat_deg"), mean_day(month).expect("month"), Convention::Cooper);
            assert!((mean - num(&row, "H0_meanday_MJ_m2")).abs() < 6e-4);
        }
    }

    /// pvlib 0.16.1 in both conventions, 0.1 %.
    #[test]
    fn days_agree_with_pvlib() {
        for row in rows("solar-extraterrestrial-daylength") {
            let (latitude, day) = (num(&row, "lat_deg"), num(&row, "day_of_year"));
            for (convention, column) in [(Convention::Cooper, "H0_db_MJ_m2"), (Convention::Spencer, "H0_spencer_MJ_m2")]
            {
                let (got, expected) = (daily(latitude, day, convention), num(&row, column));
                assert!((got - expected).abs() <= 1e-3 * expected + 6e-5, "{row:?}: {got}");
            }
        }
    }

    /// Duffie & Beckman Examples 1.10.1 (33.8), 2.12.1 (41.8), and 2.11.1 (33.0, which the formula meets within 1 %).
    #[test]
    fn published_examples() {
        let at = |latitude, day| daily(latitude, day, Convention::Cooper);
        assert!((at(43.0, 105.0) - 33.8).abs() < 0.06);
        assert!((at(43.0, 162.0) - 41.8).abs() < 0.06);
        assert!((at(38.6, 246.0) / 33.0 - 1.0).abs() < 0.01);
    }

    #[test]
    fn polar_night_gives_nothing_and_odd_months_none() {
        assert!(daily(75.0, 355.0, Convention::Cooper).abs() < 1e-12);
        assert!(daily(-75.0, 355.0, Convention::Cooper) > 40.0);
        assert_eq!(month_average(40.0, 0, Convention::Cooper), None);
        assert_eq!(month_average(40.0, 13, Convention::Cooper), None);
        assert_eq!(mean_day(-1), None);
    }
}
