//! Where the sun stands: declination, sunset, day length, height and angle on a plane (Duffie & Beckman 1.6).
//!
//! Cooper's declination is the one in force. Irradiation, diffuse share and hourly ratios of the handbook were fitted
//! with it and its tables are printed by it; mixing conventions costs more than the up to 0.9° by which it is off.
//! Spencer's series is here to show what the choice is worth.

use serde::Serialize;

/// How the declination is reckoned.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Convention {
    /// Cooper 1969: `δ = 23.45°·sin(360°·(284 + n)/365)`. Up to 0.9° off.
    Cooper,
    /// Spencer 1971, a Fourier series. Up to 0.5° off.
    Spencer,
}

/// Angle of the day in Spencer's series, radians.
pub(super) fn day_angle(day: f64) -> f64 {
    std::f64::consts::TAU * (day - 1.0) / 365.0
}

/// Declination in degrees on a day of the year (1 to 366).
#[must_use]
pub fn declination(day: f64, convention: Convention) -> f64 {
    match convention {
        Convention::Cooper => 23.45 * (std::f64::consts::TAU * (284.0 + day) / 365.0).sin(),
        Convention::Spencer => {
            let b = day_angle(day);
            (0.006_918 - 0.399_912 * b.cos() + 0.070_257 * b.sin() - 0.006_758 * (2.0 * b).cos()
                + 0.000_907 * (2.0 * b).sin()
                - 0.002_697 * (3.0 * b).cos()
                + 0.001_48 * (3.0 * b).sin())
            .to_degrees()
        }
    }
}

/// Hour angle of sunset in degrees: 0 in the polar night, 180 in the polar day (Duffie & Beckman 1.6.10).
#[must_use]
pub fn sunset_angle(latitude: f64, declination: f64) -> f64 {
    let cos = -latitude.to_radians().tan() * declination.to_radians().tan();
    cos.clamp(-1.0, 1.0).acos().to_degrees()
}

/// Hours from sunrise to sunset by geometry alone (Duffie & Beckman 1.6.11): without refraction and the sun's disc,
/// which add 0.1 to 0.3 h.
#[must_use]
pub fn day_length(latitude: f64, declination: f64) -> f64 {
    sunset_angle(latitude, declination) * 2.0 / 15.0
}

/// Hour angle in degrees of a solar time in hours: 0 at noon, afternoon above zero.
#[must_use]
pub fn hour_angle(solar_hours: f64) -> f64 {
    (solar_hours - 12.0) * 15.0
}

/// Cosine of the zenith angle (Duffie & Beckman 1.6.5); below zero under the horizon.
#[must_use]
pub fn cos_zenith(latitude: f64, declination: f64, hour_angle: f64) -> f64 {
    let (l, d, w) = (latitude.to_radians(), declination.to_radians(), hour_angle.to_radians());
    l.cos() * d.cos() * w.cos() + l.sin() * d.sin()
}

/// Cosine of the angle between the sun and the normal of a plane tilted by `tilt` that faces `azimuth` (0 south,
/// west above zero; Duffie & Beckman 1.6.2). Below zero behind the plane.
#[must_use]
pub fn cos_incidence(latitude: f64, declination: f64, hour_angle: f64, tilt: f64, azimuth: f64) -> f64 {
    let [latitude, tilt, azimuth] = [latitude, tilt, azimuth].map(f64::to_radians);
    let (d, w) = (declination.to_radians(), hour_angle.to_radians());
    d.sin() * latitude.sin() * tilt.cos() - d.sin() * latitude.cos() * tilt.sin() * azimuth.cos()
        + d.cos() * latitude.cos() * tilt.cos() * w.cos()
        + d.cos() * latitude.sin() * tilt.sin() * azimuth.cos() * w.cos()
        + d.cos() * tilt.sin() * azimuth.sin() * w.sin()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::reference::{num, rows};

    /// pvlib 0.16.1, both conventions, 72 rows.
    #[test]
    fn declination_sunset_and_day_length_agree_with_pvlib() {
        for row in rows("solar-extraterrestrial-daylength") {
            let (latitude, day) = (num(&row, "lat_deg"), num(&row, "day_of_year"));
            let [cooper, spencer] = [Convention::Cooper, Convention::Spencer].map(|c| declination(day, c));
            assert!((cooper - num(&row, "decl_cooper_deg")).abs() < 6e-5, "day {day}: {cooper}");
            assert!((spencer - num(&row, "decl_spencer_deg")).abs() < 6e-5, "day {day}: {spencer}");
            assert!((sunset_angle(latitude, cooper) - num(&row, "sunset_hour_angle_cooper_deg")).abs() < 6e-5);
            for (declination, column) in [(cooper, "daylength_cooper_h"), (spencer, "daylength_spencer_h")] {
                assert!((day_length(latitude, declination) - num(&row, column)).abs() < 6e-5);
            }
        }
    }

    /// Duffie & Beckman Examples 1.6.1, 1.6.2 and 1.6.3 (latitude 43°), as quoted in public test suites.
    #[test]
    fn published_examples_of_the_suns_place() {
        let day = 44.0; // 13 February
        let d = declination(day, Convention::Cooper);
        assert!((d - -14.0).abs() < 0.5);
        let cos = cos_incidence(43.0, d, hour_angle(10.5), 45.0, 15.0);
        assert!((cos - 0.817).abs() < 0.001, "{cos}");
        let zenith = cos_zenith(43.0, d, hour_angle(9.5)).acos().to_degrees();
        assert!((zenith - 66.5).abs() < 0.1, "{zenith}");
        let july = declination(182.0, Convention::Cooper);
        let zenith = cos_zenith(43.0, july, hour_angle(18.5)).acos().to_degrees();
        assert!((zenith - 79.6).abs() < 0.1, "{zenith}");
        let march = declination(75.0, Convention::Cooper);
        assert!((sunset_angle(43.0, march) - 87.7).abs() < 0.1);
        let zenith = cos_zenith(43.0, march, hour_angle(16.0)).acos().to_degrees();
        assert!((zenith - 70.3).abs() < 0.1, "{zenith}");
    }

    #[test]
    fn polar_night_and_polar_day_are_answers() {
        let (june, december) = (declination(172.0, Convention::Cooper), declination(355.0, Convention::Cooper));
        assert!(sunset_angle(75.0, december).abs() < 1e-9);
        assert!((sunset_angle(75.0, june) - 180.0).abs() < 1e-9);
        assert!((day_length(-75.0, december) - 24.0).abs() < 1e-9);
        for latitude in [-90.0, 90.0] {
            assert!(day_length(latitude, june).is_finite() && day_length(latitude, 0.0).is_finite());
        }
    }

    /// A level plane sees the sun as the horizon does, whichever way it is said to face.
    #[test]
    fn a_level_plane_has_no_azimuth() {
        for azimuth in [-120.0, 0.0, 77.0] {
            let level = cos_incidence(50.0, 12.0, 40.0, 0.0, azimuth);
            assert!((level - cos_zenith(50.0, 12.0, 40.0)).abs() < 1e-12);
        }
    }
}
