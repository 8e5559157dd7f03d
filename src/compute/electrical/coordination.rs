//! Whether the fuse nearest the fault opens first.

use crate::units::Amps;
use serde::Serialize;

const SELECTIVE_FROM: f64 = 2.0;

/// What was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Coordination {
    /// The downstream device opens first.
    Selective,
    /// On an overload the downstream one opens first; on a short both may.
    Doubtful,
    /// The upstream one is not larger: it may open first and take more than the faulty circuit with it.
    Inverted,
}

/// Judges two devices in a row by their ratings. The makers' curves decide; this is a first look.
/// Common practice, no source: [`crate::tables::sources::COORDINATION`]. Numbers that are none count as inverted.
#[must_use]
pub fn coordinate(upstream: Amps, downstream: Amps) -> Coordination {
    if upstream.0 >= downstream.0 * SELECTIVE_FROM {
        Coordination::Selective
    } else if upstream > downstream {
        Coordination::Doubtful
    } else {
        Coordination::Inverted
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ratings_in_a_row() {
        assert_eq!(coordinate(Amps(100.0), Amps(50.0)), Coordination::Selective);
        assert_eq!(coordinate(Amps(100.0), Amps(60.0)), Coordination::Doubtful);
        assert_eq!(coordinate(Amps(60.0), Amps(60.0)), Coordination::Inverted);
        assert_eq!(coordinate(Amps(30.0), Amps(60.0)), Coordination::Inverted);
        assert_eq!(coordinate(Amps(f64::NAN), Amps(60.0)), Coordination::Inverted);
    }
}
