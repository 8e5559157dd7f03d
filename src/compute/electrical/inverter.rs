//! What an inverter draws from the bank.

use super::positive;
use crate::units::{Amps, Ratio, Volts, Watts};
use serde::Serialize;

/// DC side of an inverter.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct InverterDraw {
    /// At its continuous power.
    pub continuous: Amps,
    /// At its surge power; the continuous one where no surge is stated.
    pub surge: Amps,
}

/// DC current for an AC power. `None` where efficiency (above 0, at most 1) or voltage make no sense, or the power
/// is negative or no number. Source: [`crate::tables::sources::POWER_BALANCE`].
#[must_use]
pub fn dc_current(ac: Watts, efficiency: Ratio, volts: Volts) -> Option<Amps> {
    let efficiency = positive(efficiency.0).filter(|share| *share <= 1.0)?;
    let current = ac.0 / (efficiency * positive(volts.0)?);
    (current.is_finite() && current >= 0.0).then_some(Amps(current))
}

/// DC currents at the lowest voltage the inverter works at, where they are largest.
#[must_use]
pub fn draw(continuous: Watts, surge: Option<Watts>, efficiency: Ratio, low: Volts) -> Option<InverterDraw> {
    let at = |power| dc_current(power, efficiency, low);
    let continuous = at(continuous)?;
    let surge = surge.map_or(Some(continuous), at)?;
    Some(InverterDraw { continuous, surge: surge.max(continuous) })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 2000 W at 90 % from 11 V: 202.02 A (power balance).
    #[test]
    fn current_rises_as_the_bank_falls() {
        let at = |volts| dc_current(Watts(2000.0), Ratio(0.9), Volts(volts)).expect("current").0;
        assert!((at(11.0) - 202.0202).abs() < 1e-3);
        assert!(at(10.5) > at(12.8));
        let draw = draw(Watts(2000.0), Some(Watts(4000.0)), Ratio(0.9), Volts(11.0)).expect("draw");
        assert!((draw.surge.0 - 2.0 * draw.continuous.0).abs() < 1e-9);
    }

    #[test]
    fn inputs_without_an_answer_have_none() {
        for (power, efficiency, volts) in
            [(2000.0, 0.0, 12.0), (2000.0, 1.1, 12.0), (2000.0, 0.9, 0.0), (-5.0, 0.9, 12.0), (f64::NAN, 0.9, 12.0)]
        {
            assert_eq!(dc_current(Watts(power), Ratio(efficiency), Volts(volts)), None);
        }
        let quiet = draw(Watts(300.0), None, Ratio(0.9), Volts(11.0)).expect("draw");
        assert_eq!(quiet.surge, quiet.continuous);
    }
}
