//! Loads that follow the weather: by the heat of the climate day where the shell is told, else by straight lines of
//! the outside temperature. Common practice, no source.
//!
//! What is measured in a van depends on its walls, lids and habits; a straight line through what the kind declares is
//! as far as the data goes. Each gives the share of an hour that the load runs, from 0 to 1.

use crate::compute::climate_day::air::COOLING_ABOVE;

/// Temperature the people aboard keep inside while they heat, °C.
pub const INSIDE: f64 = 18.0;

/// Inside a cold box, °C.
const COLD_BOX: f64 = 4.0;

/// Surroundings for which the duty of a cold box is declared, °C.
const COLD_BOX_AT: f64 = 25.0;

/// Outside temperature below which people heat, °C.
pub const HEATING_BELOW: f64 = 15.0;

/// Outside temperature at which a heater runs as its duty says, °C.
const HEATING_FULL: f64 = -15.0;

/// Outside temperature at which an air conditioner runs as its duty says, °C: that of its rating.
const COOLING_FULL: f64 = 35.0;

/// How far below its switching point a frost thermostat runs as its duty says, K: a day of −15 °C for one that
/// switches on at 5 °C.
const FROST_SPAN: f64 = 20.0;

/// First and last hour in which people are aboard and heat at any temperature; below freezing they heat all day.
const HEATING_FROM: usize = 17;
const HEATING_TO: usize = 9;

fn share(share: f64) -> f64 {
    if share.is_finite() { share.clamp(0.0, 1.0) } else { 0.0 }
}

/// Whether people are aboard and heat in this hour of the day.
#[must_use]
pub fn is_night(hour: usize) -> bool {
    !(HEATING_TO..HEATING_FROM).contains(&hour)
}

/// A cold box with a declared `duty` at 25 °C around it, in surroundings of `around` °C: proportional to the
/// difference from 4 °C inside.
#[must_use]
pub fn cold_box(duty: f64, around: f64) -> f64 {
    share(duty * (around - COLD_BOX) / (COLD_BOX_AT - COLD_BOX))
}

/// Temperature around a cold box: outside, but not below the kept inside temperature where the van is heated.
#[must_use]
pub fn around_cold_box(outside: f64, heated: bool) -> f64 {
    if heated { outside.max(INSIDE) } else { outside }
}

/// A heater whose `duty` is that of a night of −15 °C: from nothing at 15 °C outside, in a straight line, up to all
/// the time. From 17:00 to 9:00, and around the clock below freezing.
#[must_use]
pub fn heating(duty: f64, outside: f64, hour: usize) -> f64 {
    if !is_night(hour) && outside >= 0.0 {
        return 0.0;
    }
    share(duty * (HEATING_BELOW - outside) / (HEATING_BELOW - HEATING_FULL))
}

/// An air conditioner whose `duty` is that at 35 °C outside: from nothing at 24 °C in a straight line.
#[must_use]
pub fn cooling(duty: f64, outside: f64) -> f64 {
    share(duty * (outside - COOLING_ABOVE) / (COOLING_FULL - COOLING_ABOVE))
}

/// Share of its output down to which a heater runs on; below it starts and stops. Common practice, no source.
const RUNS_ON_TO: f64 = 0.25;

/// Power of a heater that gives the share `given` of its output: `mean` while it runs, in proportion to `full` where
/// that is more.
#[must_use]
pub fn heater(mean: f64, full: f64, given: f64) -> f64 {
    (mean * share(given / RUNS_ON_TO)).max(full * share(given))
}

/// Share of the time that a pad or trace of `power` W runs which loses `per_kelvin` W/K below `warm` °C.
#[must_use]
pub fn kept_warm(power: f64, per_kelvin: f64, warm: f64, outside: f64) -> f64 {
    share(per_kelvin * (warm - outside).max(0.0) / power)
}

/// A pad, trace or bank heater whose `duty` is that of a day 20 K below its switching point `on_below`, `around`
/// it.
#[must_use]
pub fn frost(duty: f64, around: f64, on_below: f64) -> f64 {
    share(duty * (on_below - around) / FROST_SPAN)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn duties_are_met_where_they_are_declared() {
        assert!((cold_box(0.38, 25.0) - 0.38).abs() < 1e-12);
        assert!((heating(0.9, -15.0, 2) - 0.9).abs() < 1e-12);
        assert!((cooling(0.5, 35.0) - 0.5).abs() < 1e-12);
        assert!((frost(0.25, -17.0, 3.0) - 0.25).abs() < 1e-12);
    }

    #[test]
    fn nothing_on_the_idle_side_and_never_above_the_whole_hour() {
        assert!(cold_box(0.38, 4.0).abs() < 1e-12 && cold_box(0.38, -20.0).abs() < 1e-12);
        assert!(heating(1.0, 15.0, 2).abs() < 1e-12 && heating(1.0, 10.0, 13).abs() < 1e-12);
        assert!(heating(1.0, -5.0, 13) > 0.6);
        assert!(cooling(0.5, 24.0).abs() < 1e-12 && frost(0.5, 6.0, 5.0).abs() < 1e-12);
        for full in [cold_box(0.9, 60.0), heating(1.0, -60.0, 2), cooling(1.0, 60.0), frost(1.0, -60.0, 5.0)] {
            assert!((full - 1.0).abs() < 1e-12);
        }
        assert!(frost(f64::NAN, 0.0, 5.0).abs() < 1e-12);
    }

    #[test]
    fn what_the_day_asks_is_given_and_no_more() {
        // 2 W/K at 10 K below is 20 of 60 W; at 100 K below all of it.
        assert!((kept_warm(60.0, 2.0, 5.0, -5.0) - 1.0 / 3.0).abs() < 1e-12);
        assert!((kept_warm(60.0, 2.0, 5.0, -95.0) - 1.0).abs() < 1e-12 && kept_warm(60.0, 2.0, 5.0, 6.0) == 0.0);
        assert!(kept_warm(0.0, 0.0, 5.0, -5.0) == 0.0);
        // 20 W in the mean, 30 W at full output: an eighth of it is half the time, two thirds of it still 20 W.
        assert!(
            (heater(20.0, 30.0, 0.125) - 10.0).abs() < 1e-12 && (heater(20.0, 30.0, 2.0 / 3.0) - 20.0).abs() < 1e-12
        );
        assert!((heater(20.0, 30.0, 1.0) - 30.0).abs() < 1e-12 && heater(20.0, 30.0, 0.0) == 0.0);
    }

    #[test]
    fn a_heated_van_keeps_its_fridge_warm() {
        assert!((around_cold_box(-10.0, true) - 18.0).abs() < 1e-12);
        assert!((around_cold_box(30.0, true) - 30.0).abs() < 1e-12);
        assert!((around_cold_box(-10.0, false) - -10.0).abs() < 1e-12);
    }
}
