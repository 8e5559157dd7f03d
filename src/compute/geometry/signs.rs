//! Measures for signs: rounded up, so that what the sign promises is kept.

use crate::units::Metres;

/// Whole centimetres up: "3.53 m".
#[must_use]
pub(crate) fn metric(value: Metres) -> String {
    format!("{:.2} m", (value.0 * 100.0 - SLACK).ceil() / 100.0)
}

/// Whole inches up: "11 ft 7 in".
#[must_use]
pub(crate) fn us(value: Metres) -> String {
    let inches = (value.0 / 0.0254 - SLACK).ceil();
    let feet = (inches / 12.0).floor();
    format!("{feet:.0} ft {:.0} in", inches - feet * 12.0)
}

/// A hair above the last step is no reason for the next: rounding of the figures themselves.
const SLACK: f64 = 1e-6;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sign_never_shows_less_than_the_van_is() {
        assert_eq!(metric(Metres(3.5201)), "3.53 m");
        assert_eq!(metric(Metres(3.52)), "3.52 m");
        // NIST SP 811, appendix B.8: 1 ft = 0.3048 m exactly.
        assert_eq!(us(Metres(3.048)), "10 ft 0 in");
        assert_eq!(us(Metres(3.049)), "10 ft 1 in");
        assert_eq!(us(Metres(3.5254)), "11 ft 7 in");
    }
}
