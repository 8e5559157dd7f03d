//! Filling tyres from a compressor.

/// Standard atmosphere in kPa.
pub const ATMOSPHERE: f64 = 101.325;

/// Free air, in litres, to bring `tyres` of `volume` litres each from `from` to `to` kPa gauge: Boyle's law.
///
/// 0 where the pressure does not rise.
#[must_use]
pub fn free_air(tyres: f64, volume: f64, from: f64, to: f64) -> f64 {
    (tyres * volume * (to - from) / ATMOSPHERE).max(0.0)
}

/// Seconds to deliver `air` litres at `delivery` L/min. `None` where nothing is delivered.
#[must_use]
pub fn running_time(air: f64, delivery: f64) -> Option<f64> {
    (delivery > 0.0 && air.is_finite()).then(|| air / delivery * 60.0)
}

/// Seconds in all: one run where it is short enough, else running time over the duty.
#[must_use]
pub fn with_pauses(running: f64, longest_run: f64, duty: f64) -> Option<f64> {
    if running <= longest_run * (1.0 + 1e-9) {
        return Some(running);
    }
    (duty > 0.0).then(|| running / duty.min(1.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: four tyres of 70 L from 1.5 to 4.0 bar: 280 · 250 / 101.325 = 690.85 L; at 60 L/min 11.51 min.
    #[test]
    fn four_tyres_by_hand() {
        let air = free_air(4.0, 70.0, 150.0, 400.0);
        assert!((air - 690.85).abs() < 0.01);
        assert!((running_time(air, 60.0).expect("delivers") / 60.0 - 11.514).abs() < 1e-3);
        assert!((free_air(4.0, 70.0, 400.0, 150.0)).abs() < 1e-12);
        assert_eq!(running_time(air, 0.0), None);
    }

    #[test]
    fn pauses_only_where_a_run_is_too_long() {
        assert_eq!(with_pauses(600.0, 600.0, 0.5), Some(600.0));
        assert_eq!(with_pauses(601.0, 600.0, 0.5), Some(1202.0));
        assert_eq!(with_pauses(601.0, 600.0, 0.0), None);
    }
}
