//! What part of the sun's energy is diffuse (Erbs), and how a day's energy falls on its hours (Collares-Pereira and
//! Rabl; Liu and Jordan).

use super::geometry::{hour_angle, sunset_angle};

/// Diffuse share of a month's mean daily irradiation at clearness `kt` (Erbs, Klein and Duffie 1982; Duffie &
/// Beckman 2.12.1). The fit holds from 0.3 to 0.8: above, the value at 0.8 stands; below, the polynomial goes on up
/// to all diffuse.
#[must_use]
pub fn diffuse_share_of_month(kt: f64, sunset_angle: f64) -> f64 {
    let k = kt.clamp(0.0, 0.8);
    let share = if sunset_angle <= 81.4 {
        1.391 - 3.560 * k + 4.189 * k * k - 2.137 * k * k * k
    } else {
        1.311 - 3.022 * k + 3.427 * k * k - 1.821 * k * k * k
    };
    share.clamp(0.0, 1.0)
}

/// `r_d`: diffuse energy of the hour around `hour_angle` as a share of the day's (Liu and Jordan; Duffie & Beckman
/// 2.13.4). 0 while the sun is down and in the polar night.
#[must_use]
pub fn diffuse_ratio(hour_angle: f64, sunset_angle: f64) -> f64 {
    let (w, ws) = (hour_angle.to_radians(), sunset_angle.to_radians());
    let area = ws.sin() - ws * ws.cos();
    if area <= 1e-12 || w.abs() >= ws {
        return 0.0;
    }
    (std::f64::consts::PI / 24.0 * (w.cos() - ws.cos()) / area).max(0.0)
}

/// `r_t`: energy of the hour around `hour_angle` as a share of the day's (Collares-Pereira and Rabl 1979; Duffie &
/// Beckman 2.13.1). Over the 24 hours of a day they add up to 0.99 to 1.00: see [`hourly_shares`].
#[must_use]
pub fn total_ratio(hour_angle: f64, sunset_angle: f64) -> f64 {
    let shift = (sunset_angle - 60.0).to_radians().sin();
    let (a, b) = (0.409 + 0.5016 * shift, 0.6609 - 0.4767 * shift);
    ((a + b * hour_angle.to_radians().cos()) * diffuse_ratio(hour_angle, sunset_angle)).max(0.0)
}

/// Shares of the day for its 24 hours by solar time, which add up to exactly the day: of all energy (`r_t`) and of
/// the diffuse part (`r_d`). All zero in the polar night. `latitude` and `declination` in degrees.
#[must_use]
pub fn hourly_shares(latitude: f64, declination: f64) -> ([f64; 24], [f64; 24]) {
    let sunset = sunset_angle(latitude, declination);
    let mut shares = ([0.0; 24], [0.0; 24]);
    for (hour, (total, diffuse)) in (0..24_u8).zip(shares.0.iter_mut().zip(shares.1.iter_mut())) {
        let angle = hour_angle(f64::from(hour) + 0.5);
        (*total, *diffuse) = (total_ratio(angle, sunset), diffuse_ratio(angle, sunset));
    }
    let any_day = sunset > 1e-6;
    for list in [&mut shares.0, &mut shares.1] {
        let sum: f64 = list.iter().sum();
        if sum > 0.0 {
            *list = list.map(|share| share / sum);
        } else if any_day {
            // A day shorter than an hour: all of it around noon.
            (list[11], list[12]) = (0.5, 0.5);
        }
    }
    shares
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::compute::solar::geometry::{Convention, declination};
    use crate::tables::reference::{num, rows};

    #[test]
    fn hourly_ratios_agree_with_the_reference() {
        for row in rows("solar-hourly-ratio") {
            let (latitude, hour) = (num(&row, "lat_deg"), num(&row, "solar_hour_mid"));
            let d = declination(num(&row, "day_of_year"), Convention::Cooper);
            let sunset = sunset_angle(latitude, d);
            let (rt, rd) = (total_ratio(hour_angle(hour), sunset), diffuse_ratio(hour_angle(hour), sunset));
            assert!((rt - num(&row, "r_t")).abs() < 6e-6, "{row:?}: {rt}");
            assert!((rd - num(&row, "r_d")).abs() < 6e-6, "{row:?}: {rd}");
            let sum: f64 = (0..24_u8).map(|h| total_ratio(hour_angle(f64::from(h) + 0.5), sunset)).sum();
            assert!((sum - num(&row, "sum_rt_24_hours")).abs() < 6e-6, "{row:?}: {sum}");
            assert!((rt * num(&row, "H_MJ_m2_day") - num(&row, "I_MJ_m2_h")).abs() < 2e-4);
        }
    }

    /// Duffie & Beckman Examples 2.13.1 and 2.13.2, as far as they are quoted (the answers are from memory).
    #[test]
    fn published_hours() {
        let sunset = sunset_angle(-38.0, declination(17.0, Convention::Cooper));
        assert!((total_ratio(hour_angle(8.5), sunset) - 0.076).abs() < 5e-4);
        let sunset = sunset_angle(43.0, declination(235.0, Convention::Cooper));
        let hour = total_ratio(hour_angle(13.5), sunset) * 31.4;
        assert!((3.66..3.71).contains(&hour), "{hour}");
    }

    #[test]
    fn shares_add_up_to_the_day_everywhere() {
        for latitude in [-75.0, -66.6, -40.0, 0.0, 23.0, 52.0, 66.5, 67.3, 75.0] {
            for day in 1..=365_u16 {
                let d = declination(f64::from(day), Convention::Cooper);
                let (total, diffuse) = hourly_shares(latitude, d);
                let expected = if sunset_angle(latitude, d) > 1e-6 { 1.0 } else { 0.0 };
                for sum in [total.iter().sum::<f64>(), diffuse.iter().sum::<f64>()] {
                    assert!((sum - expected).abs() < 1e-12, "{latitude} {day}: {sum}");
                }
                assert!(total.iter().chain(&diffuse).all(|s| (0.0..=1.0).contains(s)));
            }
        }
    }

    #[test]
    fn diffuse_share_stays_a_share() {
        for k in 0..=120_u8 {
            for sunset in [60.0, 100.0] {
                let share = diffuse_share_of_month(f64::from(k) / 100.0, sunset);
                assert!((0.0..=1.0).contains(&share));
            }
        }
        assert!((diffuse_share_of_month(0.0, 100.0) - 1.0).abs() < 1e-12);
    }
}
