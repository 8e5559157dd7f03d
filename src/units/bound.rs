//! Rounding of limits: never to the side on which they would promise more than holds.

use serde::{Deserialize, Serialize};

/// Which side of a limit is allowed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Bound {
    /// At most this much: rounded down.
    Most,
    /// At least this much: rounded up.
    Least,
}

/// A hair beside a step is that step: rounding of the value itself in the conversion between units.
const HAIR: f64 = 1e-7;

/// `value` in whole steps of `1 / scale`, to the nearest, or to the safe side of a limit.
pub(super) fn in_steps(value: f64, scale: f64, bound: Option<Bound>) -> f64 {
    let steps = value * scale;
    let whole = match bound {
        None => steps.round(),
        Some(Bound::Most) => (steps + HAIR).floor(),
        Some(Bound::Least) => (steps - HAIR).ceil(),
    };
    whole / scale
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{Dimension, System, parse_quantity, print_bound, said_bound, significant_bound};

    /// NIST SP 811, appendix B.8: 1 lb = 0.453 592 37 kg, 1 ft = 0.3048 m, 1 psi = 6894.757 Pa; 4490 kg are 9898.76 lb.
    #[test]
    fn a_limit_is_never_rounded_to_its_unsafe_side() {
        let us = |dimension, value, bound| print_bound(dimension, value, System::Us, bound);
        assert_eq!(us(Dimension::Mass, 4490.0, Bound::Most), "9898 lb");
        assert_eq!(us(Dimension::Mass, 4490.0, Bound::Least), "9899 lb");
        assert_eq!(us(Dimension::Mass, 0.453_592_37 * 330.0, Bound::Most), "330 lb", "as given");
        assert_eq!(us(Dimension::Mass, 0.453_592_37 * 330.0, Bound::Least), "330 lb", "as given");
        assert_eq!(us(Dimension::Length, 2.1, Bound::Most), "6 ft 10.5 in", "82.677 in");
        assert_eq!(us(Dimension::Length, 2.1, Bound::Least), "6 ft 10.75 in");
        assert_eq!(us(Dimension::Temperature, -0.05, Bound::Most), "31.9 °F", "31.91 °F");
        assert_eq!(us(Dimension::Temperature, -20.04, Bound::Most), "−4.1 °F", "below zero down is away from it");
        assert_eq!(said_bound(Dimension::Temperature, -20.04, System::Us, Bound::Least), "−4 °F");
        assert_eq!(said_bound(Dimension::Pressure, 2.8 * 100.0, System::Us, Bound::Most), "40 psi", "40.61 psi");
        assert_eq!(significant_bound(999.99, 3, Bound::Least), "1000");
    }

    /// What is printed of a limit, read back, is never beyond it; and not far from it.
    #[test]
    fn printed_limits_read_back_on_the_safe_side() {
        for dimension in [Dimension::Mass, Dimension::Length, Dimension::Pressure, Dimension::Force, Dimension::Speed] {
            for n in 1..400_u32 {
                let value = 0.013 * f64::from(n).powf(1.7);
                for system in [System::Us, System::Metric] {
                    for bound in [Bound::Most, Bound::Least] {
                        let text = print_bound(dimension, value, system, bound);
                        let read = parse_quantity(&text, dimension).expect("reads back").value;
                        let beyond = if bound == Bound::Most { read - value } else { value - read };
                        assert!(beyond <= 1e-6 * value, "{dimension:?} {value} is not {text}");
                        assert!(-beyond <= 0.02 * value + 0.007, "{dimension:?} {value} is far from {text}");
                    }
                }
            }
        }
    }
}
