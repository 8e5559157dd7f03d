//! The two series a conductor may be chosen from, and its finish.

use super::{awg, iec60228};
use crate::units::ConductorSize;
use serde::{Deserialize, Serialize};

/// A series of standard sizes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Series {
    /// American wire gauge, 18 to 4/0.
    Awg,
    /// IEC 60228 class 5, 0.5 mm² to 240 mm².
    Metric,
}

impl Series {
    /// The sizes a shop can buy, smallest first.
    #[must_use]
    pub const fn stocked(self) -> &'static [ConductorSize] {
        match self {
            Self::Awg => awg::STOCKED,
            Self::Metric => iec60228::SIZES,
        }
    }

    /// The thinnest of at least that many mm²; the thickest where none is.
    #[must_use]
    pub fn at_least(self, area: f64) -> ConductorSize {
        let sizes = self.stocked();
        // A size of as much copper does, whatever its last digit.
        let fits = |size: &&ConductorSize| size.area().0 >= area * (1.0 - 1e-9);
        sizes.iter().find(fits).or(sizes.last()).copied().unwrap_or(ConductorSize::Awg(0))
    }

    /// The series a size belongs to.
    #[must_use]
    pub const fn of(size: ConductorSize) -> Self {
        match size {
            ConductorSize::Awg(_) => Self::Awg,
            ConductorSize::Metric(_) => Self::Metric,
        }
    }
}

/// Surface of the strands.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Finish {
    /// Bare copper.
    #[default]
    Plain,
    /// Tinned copper: 1 % to 6 % more resistance.
    Tinned,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_rise() {
        for series in [Series::Awg, Series::Metric] {
            assert!(series.stocked().windows(2).all(|w| w[0] < w[1]));
            assert!(series.stocked().iter().all(|s| Series::of(*s) == series));
        }
    }
}
