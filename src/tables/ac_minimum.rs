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

/// The size above the last that the rules name: behind more, none of theirs is thick enough, and ampacity decides.
const ABOVE: (ConductorSize, ConductorSize) = (ConductorSize::Awg(8), ConductorSize::Metric(10.0));

/// The least size behind a breaker, and its source.
#[must_use]
pub(crate) fn behind_breaker(rating: Amps, series: Series) -> (ConductorSize, &'static Citation) {
    let fits = |limit: f64| rating.0 <= limit * (1.0 + 1e-9);
    match series {
        Series::Awg => {
            let row = AWG.iter().find(|(limit, _)| fits(*limit));
            (row.map_or(ABOVE.0, |(_, gauge)| ConductorSize::Awg(*gauge)), &sources::NEC_240_4_D)
        }
        Series::Metric => {
            let row = METRIC.iter().find(|(limit, _)| fits(*limit));
            (row.map_or(ABOVE.1, |(_, area)| ConductorSize::Metric(*area)), &sources::METRIC_BREAKERS)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// NEC 240.4(D): 15 A on 14 AWG, 20 A on 12 AWG, 30 A on 10 AWG, copper.
    #[test]
    fn small_conductors_follow_nec_240_4_d() {
        let size = |amps| behind_breaker(Amps(amps), Series::Awg).0.to_string();
        assert_eq!([15.0, 15.1, 20.0, 30.0].map(size), ["14 AWG", "12 AWG", "12 AWG", "10 AWG"]);
        // No size of the rule stands behind more than its rating.
        assert_eq!(size(30.1), "8 AWG");
        let metric = |amps| behind_breaker(Amps(amps), Series::Metric).0.to_string();
        assert_eq!([16.0, 32.0, 40.0].map(metric), ["2.5 mm²", "6 mm²", "10 mm²"]);
    }
}
