//! Rating of the fuse or breaker of a conductor.

use crate::tables::bundling::SCOPE_FROM;
use crate::tables::fuse_series::Family;
use crate::units::{Amps, Volts};

/// Share of the ampacity that 33 CFR 183.455(c) lets a rating reach.
const CFR_SHARE: f64 = 1.5;

/// The largest rating 33 CFR 183.455(c) allows for a conductor of `ampacity`: below 50 V 150 % of it; from 50 V the
/// ampacity, or the next larger `standard` rating where that is not above 150 %.
///
/// The regulation says "the amperage in Table 5". Give the corrected ampacity: that is the stricter reading, and the
/// one used here throughout. Source: [`crate::tables::sources::CFR_OVERCURRENT`]. 0 A where the ampacity is no number above zero.
#[must_use]
pub fn cfr_largest_rating(ampacity: Amps, volts: Volts, standard: Family) -> Amps {
    let Some(amps) = super::positive(ampacity.0) else { return Amps(0.0) };
    let most = Amps(amps * CFR_SHARE);
    if volts.0 < SCOPE_FROM {
        return most;
    }
    standard.series().at_least(ampacity).filter(|next| *next <= most).map_or(ampacity, |next| next.max(ampacity))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::compute::electrical::ampacity::{Installation, Surroundings, ampacity};
    use crate::tables::ampacity_rule::AmpacityRule;
    use crate::tables::iec60364::Method;
    use crate::tables::insulation::Insulation;
    use crate::units::{Celsius, ConductorSize};

    fn installed(gauge: i8, surroundings: Surroundings) -> Amps {
        let installation = Installation {
            rule: AmpacityRule::Cfr,
            method: Method::C,
            insulation: Insulation::C105,
            surroundings,
            bundled: 2,
            volts: Volts(12.8),
            bundle_at_all_voltages: true,
        };
        ampacity(ConductorSize::Awg(gauge), &installation).expect("row").corrected
    }

    /// 33 CFR 183.455(c)(1) on 33 CFR 183.425 Table 5: 60 A × 1.5, and 35 A × 0.85 × 1.5 on the corrected ampacity
    /// (on the table's own 35 A it would be 52.5 A).
    #[test]
    fn cfr_cap_below_50_volts() {
        let cap = |ampacity| cfr_largest_rating(ampacity, Volts(12.8), Family::Blade).0;
        assert!((cap(installed(10, Surroundings::Air(Celsius(30.0)))) - 90.0).abs() < 1e-9);
        assert!((cap(installed(14, Surroundings::EngineSpace(Celsius(50.0)))) - 44.625).abs() < 1e-9);
    }

    /// 33 CFR 183.455(c)(2) with the standard ratings of NEC 240.6(A).
    #[test]
    fn cfr_cap_from_50_volts() {
        let cap = |amps| cfr_largest_rating(Amps(amps), Volts(120.0), Family::AcBreakerUs).0;
        for (ampacity, expected) in [(35.0, 35.0), (29.75, 30.0), (17.5, 20.0), (14.0, 15.0), (9.0, 9.0), (0.0, 0.0)] {
            assert!((cap(ampacity) - expected).abs() < 1e-9, "{ampacity}");
        }
        assert!((cap(700.0) - 700.0).abs() < 1e-9, "above the series the ampacity holds");
    }
}
