//! Least AC conductor behind a breaker of a rating.
//!
//! US: the small-conductor rule of NEC 240.4(D). Metric sizes: common practice, no source; it sizes, it is no error.

use super::citation::Citation;
use super::conductor_series::Series;
use super::sources;
use crate::units::{Amps, ConductorSize};

/// Breaker rating up to which a size may be used, smallest first (NEC 240.4(D)).
const AWG: &[(f64, i8)] = &[(15.0, 14), (20.0, 12), (30.0, 10)];
/// The same in mm².
const METRIC: &[(f64, f64)] = &[(10.0, 1.5), (20.0, 2.5), (25.0, 4.0), (32.0, 6.0)];

/// The least size behind a breaker, and its source. `None` above the largest rating of the rule: ampacity decides.
#[must_use]
pub(crate) fn behind_breaker(rating: Amps, series: Series) -> Option<(ConductorSize, &'static Citation)> {
    let fits = |limit: f64| rating.0 <= limit * (1.0 + 1e-9);
    match series {
        Series::Awg => {
            let (_, gauge) = AWG.iter().find(|(limit, _)| fits(*limit))?;
            Some((ConductorSize::Awg(*gauge), &sources::NEC_240_4_D))
        }
        Series::Metric => {
            let (_, area) = METRIC.iter().find(|(limit, _)| fits(*limit))?;
            Some((ConductorSize::Metric(*area), &sources::METRIC_BREAKERS))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// NEC 240.4(D): 15 A on 14 AWG, 20 A on 12 AWG, 30 A on 10 AWG, copper.
    #[test]
    fn small_conductors_follow_nec_240_4_d() {
        let size = |amps| behind_breaker(Amps(amps), Series::Awg).map(|(s, _)| s.to_string());
        assert_eq!(size(15.0).as_deref(), Some("14 AWG"));
        assert_eq!(size(15.1).as_deref(), Some("12 AWG"));
        assert_eq!(size(20.0).as_deref(), Some("12 AWG"));
        assert_eq!(size(30.0).as_deref(), Some("10 AWG"));
        assert_eq!(size(30.1), None);
        assert_eq!(behind_breaker(Amps(16.0), Series::Metric).map(|(s, _)| s.to_string()).as_deref(), Some("2.5 mm²"));
    }
}
