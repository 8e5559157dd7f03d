//! A cloudless sky (Haurwitz 1945): what an irradiation can reach at all.

use super::geometry::{Convention, cos_zenith, declination, hour_angle};

/// Irradiance of a level plane under a cloudless sky, W/m²: `1098·cos θz·exp(−0.059/cos θz)`; 0 while the sun is
/// down. Other prints have 0.057; the difference is below 0.3 % with the sun 40° high.
#[must_use]
pub fn haurwitz(cos_zenith: f64) -> f64 {
    if cos_zenith <= 0.0 { 0.0 } else { 1098.0 * cos_zenith * (-0.059 / cos_zenith).exp() }
}

/// Irradiation of a level plane on a cloudless day of the year, kWh/m².
#[must_use]
pub fn daily(latitude: f64, day: f64) -> f64 {
    let d = declination(day, Convention::Cooper);
    let minute = |m: u16| haurwitz(cos_zenith(latitude, d, hour_angle((f64::from(m) + 0.5) / 60.0)));
    (0..1440).map(minute).sum::<f64>() / 60_000.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::reference::{num, rows};

    /// pvlib 0.16.1 `clearsky.haurwitz`, 0.1 %.
    #[test]
    fn clear_days_agree_with_pvlib() {
        for row in rows("solar-haurwitz-daily") {
            let got = daily(num(&row, "lat_deg"), num(&row, "day_of_year"));
            let expected = num(&row, "haurwitz_ghi_cooper_kWh_m2_day");
            assert!((got - expected).abs() <= 1e-3 * expected + 6e-5, "{row:?}: {got}");
        }
        assert!(daily(75.0, 355.0).abs() < 1e-12);
    }
}
