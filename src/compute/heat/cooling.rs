//! Sun and people in a hot van, and how long a bank cools it.

use std::f64::consts::PI;

/// Heat of one person awake, W. Source: [`crate::tables::sources::GAINS`].
pub const PERSON: f64 = 75.0;
/// Heat in the moisture of one person, W. Source: [`crate::tables::sources::GAINS`].
pub const PERSON_MOISTURE: f64 = 55.0;
/// Appliances of a parked van, W. Source: [`crate::tables::sources::GAINS`].
pub const APPLIANCES: f64 = 60.0;

/// Day of the year that stands for `month` (1 to 12), after Duffie and Beckman.
fn middle_day(month: i64) -> f64 {
    const DAYS: [f64; 12] = [17.0, 47.0, 75.0, 105.0, 135.0, 162.0, 198.0, 228.0, 258.0, 288.0, 318.0, 344.0];
    usize::try_from(month - 1).ok().and_then(|m| DAYS.get(m)).copied().unwrap_or(198.0)
}

/// Hours from sunrise to sunset: 0 in the polar night, 24 where the sun does not set.
///
/// Source: [`crate::tables::sources::COOPER`].
#[must_use]
pub fn day_length(latitude: f64, month: i64) -> f64 {
    let declination = 23.45_f64.to_radians() * (2.0 * PI * (284.0 + middle_day(month)) / 365.0).sin();
    let cosine = -latitude.to_radians().tan() * declination.tan();
    24.0 / PI * cosine.clamp(-1.0, 1.0).acos()
}

/// Peak of the sun in W/m² on a level surface from its energy in a day, kWh/m². `None` without a day.
///
/// Source: [`crate::tables::sources::SUN_PEAK`].
#[must_use]
pub fn peak(irradiation: f64, hours: f64) -> Option<f64> {
    (hours > 0.5 && irradiation >= 0.0).then(|| PI * irradiation * 1000.0 / (2.0 * hours))
}

/// Share of the level surface's sun on a surface that faces `faces`. Source: [`crate::tables::sources::SUN_PEAK`].
#[must_use]
pub fn share(faces: Option<&str>) -> f64 {
    match faces {
        Some("up" | "roof") => 1.0,
        Some("down") => 0.0,
        _ => 0.5,
    }
}

/// Seconds that `watt_hours` run `watts` at `duty`. `None` without a draw. Source: [`crate::tables::sources::BANK_HOURS`].
#[must_use]
pub fn run_time(watt_hours: f64, watts: f64, duty: f64) -> Option<f64> {
    (watts > 0.0 && duty > 0.0 && watt_hours >= 0.0).then(|| watt_hours / (watts * duty) * 3600.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::reference::{num, rows};

    #[test]
    fn days_are_as_long_as_the_library_has_them() {
        for row in rows("solar-extraterrestrial-daylength") {
            #[expect(clippy::cast_possible_truncation, reason = "a month")]
            let month = num(&row, "month") as i64;
            let got = day_length(num(&row, "lat_deg"), month);
            assert!((got - num(&row, "daylength_cooper_h")).abs() < 1e-3, "{row:?}: {got}");
        }
        assert_eq!((day_length(70.0, 12), day_length(70.0, 6)), (0.0, 24.0));
        assert_eq!(peak(5.0, 0.0), None);
    }

    #[test]
    fn the_half_sine_holds_the_energy_of_the_day() {
        let (energy, hours) = (6.5, 14.0);
        let top = peak(energy, hours).expect("day");
        let steps = 10_000;
        let sum: f64 = (0..steps).map(|i| top * (PI * (f64::from(i) + 0.5) / f64::from(steps)).sin()).sum();
        assert!((sum * hours / f64::from(steps) / 1000.0 - energy).abs() < 1e-6);
    }

    /// Common practice, no source: over 60 h on 1,000 Ah; that is a third of the time of a 650 W compressor.
    #[test]
    fn sixty_hours_need_a_third_of_the_time() {
        let hours = run_time(12_800.0, 650.0, 1.0 / 3.0).expect("runs") / 3600.0;
        assert!((59.0..60.0).contains(&hours), "{hours}");
        let through = run_time(12_800.0, 600.0, 1.0).expect("runs") / 3600.0;
        assert!((through - 21.3).abs() < 0.05, "{through}");
        assert_eq!(run_time(12_800.0, 600.0, 0.0), None);
    }
}
