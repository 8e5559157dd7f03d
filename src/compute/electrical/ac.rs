//! Load on an AC supply.

use super::positive;
use crate::units::{Amps, Volts, Watts};
use serde::Serialize;

/// One load.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct AcLoad {
    /// Apparent power in volt-amperes.
    pub apparent: Watts,
    /// Whether it runs three hours or more.
    pub continuous: bool,
}

/// The sum of loads.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct AcDemand {
    /// Apparent power in volt-amperes.
    pub apparent: Watts,
    /// Current that flows.
    pub current: Amps,
    /// Current that device and conductor are chosen for.
    pub design_current: Amps,
}

/// Sum of loads that run together on one phase, with `continuous_factor` (1.25) on the continuous ones for the design
/// current. `None` where the voltage is not above zero, or a load is negative or no number.
/// Source: [`crate::tables::sources::NEC_CONTINUOUS`].
#[must_use]
pub fn demand(loads: &[AcLoad], volts: Volts, continuous_factor: f64) -> Option<AcDemand> {
    let volts = positive(volts.0)?;
    let factor = positive(continuous_factor)?;
    if loads.iter().any(|load| !(load.apparent.0.is_finite() && load.apparent.0 >= 0.0)) {
        return None;
    }
    let apparent: Watts = loads.iter().map(|load| load.apparent).sum();
    let weighted: Watts = loads.iter().map(|load| load.apparent * if load.continuous { factor } else { 1.0 }).sum();
    let (current, design) = (apparent.0 / volts, weighted.0 / volts);
    (design.is_finite() && current.is_finite()).then_some(AcDemand {
        apparent,
        current: Amps(current),
        design_current: Amps(design),
    })
}

/// Volt-amperes of a single-phase supply.
#[must_use]
pub fn supply_capacity(rating: Amps, volts: Volts) -> Watts {
    volts * rating
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::fuse_series::Family;
    use crate::tables::shore_supply::site_va;

    /// NEC 210.20: a continuous load of 16 A takes a 20 A breaker (published example).
    #[test]
    fn continuous_loads_count_a_quarter_more() {
        let load = |apparent, continuous| AcLoad { apparent: Watts(apparent), continuous };
        let one = demand(&[load(1920.0, true)], Volts(120.0), 1.25).expect("demand");
        assert_eq!((one.current, one.design_current), (Amps(16.0), Amps(20.0)));
        let breaker = Family::AcBreakerUs.series().at_least(one.design_current);
        assert_eq!(breaker, Some(Amps(20.0)));
        let two = demand(&[load(1920.0, true), load(600.0, false)], Volts(120.0), 1.25).expect("demand");
        assert_eq!((two.apparent, two.design_current), (Watts(2520.0), Amps(25.0)));
    }

    /// NEC 551.73(A): a 30 A site counts its whole 3600 VA, a 50 A site 80 % of 50 A at 240 V.
    #[test]
    fn supplies_agree_with_nec_551_73() {
        assert_eq!(Some(supply_capacity(Amps(30.0), Volts(120.0))), site_va(Amps(30.0)));
        assert_eq!(Some(supply_capacity(Amps(50.0), Volts(240.0)) * 0.8), site_va(Amps(50.0)));
    }

    #[test]
    fn inputs_without_an_answer_have_none() {
        let bad = AcLoad { apparent: Watts(f64::NAN), continuous: false };
        assert_eq!(demand(&[bad], Volts(120.0), 1.25), None);
        assert_eq!(demand(&[], Volts(0.0), 1.25), None);
        assert_eq!(demand(&[], Volts(230.0), 1.25).map(|d| d.current), Some(Amps(0.0)));
    }
}
