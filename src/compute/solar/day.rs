//! A typical day: the day's irradiation spread over its hours, split into beam and diffuse, and laid on a plane.

use super::extraterrestrial;
use super::geometry::{Convention, cos_incidence, cos_zenith, day_length, declination, hour_angle, sunset_angle};
use super::split::{diffuse_share_of_month, hourly_shares};
use super::tilt::isotropic;
use serde::Serialize;

const MJ_PER_KWH: f64 = 3.6;

/// Directions an array of no fixed direction is averaged over: a van parks any way round.
const DIRECTIONS: u8 = 12;

/// Steps within an hour for the angle of the beam.
const STEPS: u8 = 12;

/// The sun on the typical day of a season.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SunDay {
    /// Latitude, degrees.
    pub latitude: f64,
    /// Day of the year: the mean day of the month.
    pub day_of_year: f64,
    /// Declination, degrees.
    pub declination: f64,
    /// From sunrise to sunset, hours.
    pub day_length: f64,
    /// Irradiation above the air, kWh/m².
    pub above_air: f64,
    /// Irradiation of the level ground as the spec gives it, kWh/m².
    pub irradiation: f64,
    /// Share of the irradiation above the air that arrives. `None` in the polar night.
    pub clearness: Option<f64>,
    /// Share of it that is diffuse.
    pub diffuse_share: f64,
    /// Mean diffuse irradiance of the level plane by hour, W/m².
    pub diffuse: [f64; 24],
    /// Mean beam irradiance of the level plane by hour, W/m².
    pub beam: [f64; 24],
}

/// Which way a tilted plane faces.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Facing {
    /// Towards the equator: someone sets it up so.
    Equator,
    /// As the vehicle happens to stand: the average of twelve directions.
    Any,
}

impl SunDay {
    /// The sun at `latitude` (degrees) on the mean day of `month`, where the level ground gets `irradiation` kWh/m².
    /// `None` where `month` is not 1 to 12. In the polar night nothing arrives, whatever `irradiation` says.
    #[must_use]
    pub fn of(latitude: f64, month: i64, irradiation: f64) -> Option<Self> {
        let day_of_year = extraterrestrial::mean_day(month)?;
        let declination = declination(day_of_year, Convention::Cooper);
        let above_air = extraterrestrial::daily(latitude, day_of_year, Convention::Cooper) / MJ_PER_KWH;
        let clearness = (above_air > 1e-9).then(|| irradiation / above_air);
        let share = clearness.map_or(1.0, |kt| diffuse_share_of_month(kt, sunset_angle(latitude, declination)));
        let (total, diffuse) = hourly_shares(latitude, declination);
        let day = irradiation * 1000.0;
        // At the ends of the day the two ratios cross: no hour has more diffuse than it has light.
        let diffuse: [f64; 24] = std::array::from_fn(|h| (day * share * diffuse[h]).min(day * total[h]));
        let beam = std::array::from_fn(|h| day * total[h] - diffuse[h]);
        let day_length = day_length(latitude, declination);
        Some(Self {
            latitude,
            day_of_year,
            declination,
            day_length,
            above_air,
            irradiation,
            clearness,
            diffuse_share: share,
            diffuse,
            beam,
        })
    }

    /// Mean irradiance by hour on a plane, W/m².
    #[must_use]
    pub fn on_plane(&self, tilt: f64, facing: Facing, albedo: f64) -> [f64; 24] {
        let equator = if self.latitude < 0.0 { 180.0 } else { 0.0 };
        let azimuths: Vec<f64> = match facing {
            _ if tilt.abs() < 1e-9 => vec![0.0],
            Facing::Equator => vec![equator],
            Facing::Any => (0..DIRECTIONS).map(|d| f64::from(d) * 360.0 / f64::from(DIRECTIONS)).collect(),
        };
        std::array::from_fn(|h| {
            let rb = self.beam_ratio(h, tilt, &azimuths);
            isotropic(self.beam[h], self.diffuse[h], rb, tilt, albedo).total()
        })
    }

    /// `R_b` over the part of an hour in which the sun is up, averaged over directions (Duffie & Beckman 2.14.5).
    fn beam_ratio(&self, hour: usize, tilt: f64, azimuths: &[f64]) -> f64 {
        if tilt.abs() < 1e-9 {
            return 1.0;
        }
        #[expect(clippy::cast_precision_loss, reason = "an hour of the day")]
        let start = hour as f64;
        let (mut on_plane, mut on_level) = (0.0, 0.0);
        for step in 0..STEPS {
            let angle = hour_angle(start + (f64::from(step) + 0.5) / f64::from(STEPS));
            let level = cos_zenith(self.latitude, self.declination, angle);
            if level <= 0.0 {
                continue;
            }
            on_level += level;
            let one = |azimuth: &f64| cos_incidence(self.latitude, self.declination, angle, tilt, *azimuth).max(0.0);
            #[expect(clippy::cast_precision_loss, reason = "twelve at most")]
            let mean = azimuths.iter().map(one).sum::<f64>() / azimuths.len() as f64;
            on_plane += mean;
        }
        if on_level > 0.0 { on_plane / on_level } else { 0.0 }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::reference::{num, rows};

    #[test]
    fn the_hours_add_up_to_the_day() {
        for (latitude, month, level) in [(43.0, 1, 1.79), (-38.0, 1, 6.0), (52.5, 6, 5.2), (70.0, 6, 6.0)] {
            let day = SunDay::of(latitude, month, level).expect("month");
            let sum: f64 = day.beam.iter().chain(&day.diffuse).sum();
            assert!((sum / 1000.0 - level).abs() < 1e-9);
            let flat: f64 = day.on_plane(0.0, Facing::Any, 0.2).iter().sum();
            assert!((flat / 1000.0 - level).abs() < 1e-9);
        }
    }

    /// Hour by hour must come near the published monthly answers of Example 2.19.1, which take another way: within
    /// 7 %, below in winter and above in summer.
    #[test]
    fn hours_on_a_tilted_plane_come_near_the_published_months() {
        for row in rows("duffie-beckman-madison-2-19-1") {
            #[expect(clippy::cast_possible_truncation, reason = "a month")]
            let day = SunDay::of(43.0, num(&row, "month") as i64, num(&row, "H_published_MJ_m2") / 3.6).expect("month");
            let sum: f64 = day.on_plane(60.0, Facing::Equator, num(&row, "albedo")).iter().sum();
            let published = num(&row, "HT_published_MJ_m2");
            assert!((sum * 3.6e-3 / published - 1.0).abs() < 0.07, "{row:?}: {}", sum * 3.6e-3);
        }
    }

    /// A plane that may face any way gets less than the one that faces the equator in winter, and as long as the sun
    /// stands higher than the tilt, exactly what its lean lets through.
    #[test]
    fn any_direction_is_the_average() {
        let winter = SunDay::of(45.0, 12, 1.5).expect("month");
        let sum = |facing| winter.on_plane(30.0, facing, 0.2).iter().sum::<f64>();
        assert!(sum(Facing::Any) < sum(Facing::Equator));
        let noon = SunDay::of(0.0, 3, 6.0).expect("month");
        let plane = noon.on_plane(20.0, Facing::Any, 0.0)[12];
        let expected = isotropic(noon.beam[12], noon.diffuse[12], 20_f64.to_radians().cos(), 20.0, 0.0).total();
        assert!((plane - expected).abs() < 1e-6 * expected);
    }

    #[test]
    fn both_hemispheres_alike() {
        let north = SunDay::of(35.0, 6, 6.0).expect("month");
        let south = SunDay::of(-35.0, 6, 2.5).expect("month");
        let sum = |d: &SunDay| d.on_plane(35.0, Facing::Equator, 0.2).iter().sum::<f64>() / 1000.0 / d.irradiation;
        // Leaning towards the low sun of winter gains; in June the north loses by it.
        assert!(sum(&south) > 1.3 && sum(&north) < 1.0);
    }

    #[test]
    fn polar_night_and_no_sun_give_nothing() {
        let night = SunDay::of(75.0, 12, 0.4).expect("month");
        assert_eq!(night.clearness, None);
        assert!(night.on_plane(35.0, Facing::Any, 0.8).iter().all(|w| w.abs() < 1e-12));
        let dull = SunDay::of(50.0, 6, 0.0).expect("month");
        assert!(dull.on_plane(35.0, Facing::Equator, 0.2).iter().all(|w| w.abs() < 1e-12));
        assert_eq!(SunDay::of(50.0, 13, 1.0), None);
        let sun = SunDay::of(75.0, 6, 6.0).expect("month");
        assert!((sun.day_length - 24.0).abs() < 1e-9 && sun.on_plane(0.0, Facing::Any, 0.2).iter().all(|w| *w > 0.0));
    }
}
