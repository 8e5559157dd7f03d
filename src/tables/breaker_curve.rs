//! Tripping curves of AC breakers: at how many times its rating one opens at once.
//!
//! IEC 60898-1, from memory: it tells limits of tests, it is no error by itself.

use super::citation::Citation;
use super::sources;
use serde::{Deserialize, Serialize};
use std::fmt;

/// A curve.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Curve {
    /// For wiring: opens at once between three and five times its rating.
    B,
    /// For what starts hard: between five and ten times.
    C,
}

impl Curve {
    /// The curve of a spec's word.
    #[must_use]
    pub fn parse(word: &str) -> Option<Self> {
        match word {
            "b" | "B" => Some(Self::B),
            "c" | "C" => Some(Self::C),
            _ => None,
        }
    }

    /// How many times its rating opens every breaker of the curve at once.
    #[must_use]
    pub const fn opens_at(self) -> f64 {
        match self {
            Self::B => 5.0,
            Self::C => 10.0,
        }
    }

    /// Where that is read.
    #[must_use]
    pub const fn source(self) -> &'static Citation {
        &sources::IEC_60898_CURVES
    }
}

impl fmt::Display for Curve {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::B => "B",
            Self::C => "C",
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// IEC 60898-1, from memory: 5 times for B, 10 times for C.
    #[test]
    fn curves_open_where_their_standard_says() {
        let opens = |word: &str| Curve::parse(word).map(Curve::opens_at);
        assert_eq!([opens("b"), opens("C"), opens("d")], [Some(5.0), Some(10.0), None]);
        assert!(!Curve::B.source().status.may_carry_error());
    }
}
