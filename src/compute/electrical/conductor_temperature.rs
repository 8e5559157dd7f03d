//! Temperature of a loaded conductor.

use super::positive;
use crate::units::{Amps, Celsius};

/// Temperature of a conductor that carries `load` for good, in air of `ambient`.
///
/// `ampacity` is the current that brings it to `limit` (the insulation's) in that air and bundle. Above the ampacity
/// the result lies above the limit. `None` where the ampacity is not above zero, or an input is no number.
/// Source: [`crate::tables::sources::HEAT_BALANCE`].
#[must_use]
pub fn conductor_temperature(load: Amps, ampacity: Amps, ambient: Celsius, limit: Celsius) -> Option<Celsius> {
    let share = load.0 / positive(ampacity.0)?;
    let celsius = (limit.0 - ambient.0).mul_add(share * share, ambient.0);
    celsius.is_finite().then_some(Celsius(celsius))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rises_with_the_square_of_the_current() {
        let at = |load, ampacity| conductor_temperature(Amps(load), Amps(ampacity), Celsius(30.0), Celsius(105.0));
        assert_eq!(at(0.0, 60.0), Some(Celsius(30.0)));
        assert_eq!(at(30.0, 60.0), Some(Celsius(48.75)));
        assert_eq!(at(60.0, 60.0), Some(Celsius(105.0)));
        assert_eq!(at(120.0, 60.0), Some(Celsius(330.0)));
        assert_eq!(at(1.0, 0.0), None);
        assert_eq!(at(f64::NAN, 60.0), None);
    }
}
