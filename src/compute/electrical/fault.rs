//! Prospective fault current of a battery bank.

use super::positive;
use crate::tables::chemistries::Chemistry;
use crate::units::{AmpHours, Amps, Ohms, Volts};

/// Current of a dead short behind `path` (both conductors, cold: 20 °C gives the larger current).
/// `None` where the resistance is not above zero or an input is no number. Source: [`crate::tables::sources::FAULT_CURRENT`].
#[must_use]
pub fn prospective(volts: Volts, bank: Ohms, path: Ohms) -> Option<Amps> {
    let current = positive(volts.0)? / positive(bank.0 + path.0)?;
    positive(current).map(Amps)
}

/// Resistance of a bank whose maker states its short-circuit current.
#[must_use]
pub fn internal_from_fault(volts: Volts, fault: Amps) -> Option<Ohms> {
    positive(positive(volts.0)? / positive(fault.0)?).map(Ohms)
}

/// Usual internal resistance of a bank where the spec gives neither it nor a fault current: that of its chemistry, less
/// with capacity and in proportion to the voltage. The maker's figure wins.
/// Source: [`crate::tables::sources::USUAL_INTERNAL_RESISTANCE`].
#[must_use]
pub fn usual_internal_resistance(usual: &Chemistry, capacity: AmpHours, nominal: Volts) -> Option<Ohms> {
    positive(usual.ohm_amp_hours / positive(capacity.0)? * (positive(nominal.0)? / usual.nominal.0)).map(Ohms)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::chemistries;

    /// 12.8 V over 1 mΩ in all is 12.8 kA (Ohm's law).
    #[test]
    fn a_short_is_ohms_law_round_the_loop() {
        let near = |got: Option<Amps>, expected: f64| (got.expect("current").0 - expected).abs() < 1e-6;
        assert!(near(prospective(Volts(12.8), Ohms(0.001), Ohms(0.0)), 12_800.0));
        assert!(near(prospective(Volts(12.8), Ohms(0.001), Ohms(0.001)), 6400.0));
        let inside = internal_from_fault(Volts(12.8), Amps(6400.0)).expect("resistance");
        assert!((inside.0 - 0.002).abs() < 1e-12);
        assert_eq!(prospective(Volts(12.8), Ohms(0.0), Ohms(0.0)), None);
        assert_eq!(prospective(Volts(f64::NAN), Ohms(0.001), Ohms(0.0)), None);
    }

    #[test]
    fn the_usual_resistance_falls_with_capacity_and_parallel_is_the_same_as_one_large_bank() {
        let of = |word| chemistries::of(word).expect("chemistry");
        let lfp = |ah| usual_internal_resistance(of("lfp"), AmpHours(ah), Volts(12.8)).expect("resistance").0;
        assert!((lfp(100.0) - 0.002).abs() < 1e-12);
        assert!((lfp(200.0) - lfp(100.0) / 2.0).abs() < 1e-12);
        let agm = usual_internal_resistance(of("agm"), AmpHours(100.0), Volts(12.0)).expect("resistance");
        assert!(agm.0 > lfp(100.0));
        assert_eq!(usual_internal_resistance(of("lfp"), AmpHours(0.0), Volts(12.8)), None);
    }
}
