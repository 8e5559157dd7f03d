//! The thinnest conductors that may share a current side by side.

use super::conductor_series::Series;
use crate::units::ConductorSize;

/// The thinnest of a series.
///
/// US: NEC 310.10(G)(1), from memory: 1/0 AWG and larger. Metric: 50 mm², the size next to it that is sold.
#[must_use]
pub(crate) const fn least(series: Series) -> ConductorSize {
    match series {
        Series::Awg => ConductorSize::Awg(0),
        Series::Metric => ConductorSize::Metric(50.0),
    }
}
