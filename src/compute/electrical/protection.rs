//! Rating of the fuse or breaker of a conductor.

use crate::tables::bundling::SCOPE_FROM;
use crate::tables::citation::Status;
use crate::tables::fuse_series::Family;
use crate::units::{Amps, Volts};
use serde::Serialize;
use std::fmt;

/// Share of the ampacity that 33 CFR 183.455(c) lets a rating reach.
const CFR_SHARE: f64 = 1.5;

/// A rating that fits.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Chosen {
    /// The rating.
    pub rating: Amps,
    /// Family it is made in.
    pub family: Family,
    /// How well it was checked that it is made.
    pub status: Status,
}

/// Why no rating fits.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum WhyNot {
    /// The family does not reach that high.
    AboveSeries {
        /// Current that was sought.
        needed: Amps,
        /// Largest rating that is made.
        largest: Amps,
    },
    /// The next rating is more than the conductor may carry.
    AboveConductor {
        /// The rating.
        rating: Amps,
        /// What the conductor may carry.
        cap: Amps,
    },
    /// An input is negative or no number.
    BadInput,
}

impl fmt::Display for WhyNot {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        use crate::units::System::Metric;
        match self {
            Self::AboveSeries { needed, largest } => {
                write!(f, "{} needed, the largest made is {}", needed.show(Metric), largest.show(Metric))
            }
            Self::AboveConductor { rating, cap } => {
                write!(f, "{} is the next rating, the conductor may carry {}", rating.show(Metric), cap.show(Metric))
            }
            Self::BadInput => f.write_str("a current is negative or no number"),
        }
    }
}

impl std::error::Error for WhyNot {}

/// The smallest standard rating not below the `design` current (continuous factor included) and not above
/// `conductor_cap`, what the conductor may carry as installed. Source: [`crate::tables::sources::FUSE_CAP`].
///
/// # Errors
/// [`WhyNot`] where no rating of the family lies between the two.
pub fn choose_rating(design: Amps, conductor_cap: Amps, family: Family) -> Result<Chosen, WhyNot> {
    let usable = |current: Amps| current.0.is_finite() && current.0 >= 0.0;
    if !usable(design) || !usable(conductor_cap) {
        return Err(WhyNot::BadInput);
    }
    let series = family.series();
    let rated =
        series.rated_at_least(design).ok_or(WhyNot::AboveSeries { needed: design, largest: series.largest() })?;
    let rating = Amps(rated.amps);
    if rating.0 > conductor_cap.0 * (1.0 + 1e-9) {
        return Err(WhyNot::AboveConductor { rating, cap: conductor_cap });
    }
    Ok(Chosen { rating, family, status: rated.status })
}

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
    use crate::tables::insulation::Insulation;
    use crate::units::{Celsius, ConductorSize};

    fn installed(gauge: i8, surroundings: Surroundings) -> Amps {
        let installation = Installation {
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

    #[test]
    fn the_next_rating_between_load_and_conductor_is_chosen() {
        let choose = |design, cap| choose_rating(Amps(design), Amps(cap), Family::Blade);
        assert_eq!(choose(8.6, 20.0).map(|c| c.rating), Ok(Amps(10.0)));
        assert_eq!(choose(15.0, 15.0).map(|c| c.rating), Ok(Amps(15.0)));
        assert_eq!(choose(33.0, 60.0).map(|c| c.status), Ok(Status::Memory), "35 A is from memory");
        let above = WhyNot::AboveConductor { rating: Amps(15.0), cap: Amps(12.0) };
        assert_eq!(choose(11.0, 12.0), Err(above));
        assert_eq!(choose(45.0, 60.0), Err(WhyNot::AboveSeries { needed: Amps(45.0), largest: Amps(40.0) }));
        assert_eq!(choose(f64::NAN, 60.0), Err(WhyNot::BadInput));
        assert_eq!(choose(-1.0, 60.0), Err(WhyNot::BadInput));
        assert_eq!(above.to_string(), "15 A is the next rating, the conductor may carry 12 A");
    }
}
