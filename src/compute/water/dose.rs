//! Bleach for sanitising.

/// Chlorine of the treatment, mg/L. Source: [`crate::tables::sources::BLEACH_DOSE`].
pub const TARGET: f64 = 50.0;

/// Litres of bleach of `strength` (a share, read as grams in 100 mL) that bring `litres` to `target` mg/L.
///
/// Source: [`crate::tables::sources::BLEACH_DOSE`]. `None` without a strength.
#[must_use]
pub fn bleach(litres: f64, strength: f64, target: f64) -> Option<f64> {
    (strength > 0.0 && strength <= 1.0 && litres >= 0.0).then(|| target * litres / (strength * 1e6))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::reference::{num, rows};

    #[test]
    fn doses_as_computed_outside() {
        for row in rows("bleach-dose") {
            let got =
                bleach(num(&row, "tank_L"), num(&row, "label_pct") / 100.0, num(&row, "target_ppm")).expect("dose");
            assert!((got * 1000.0 - num(&row, "bleach_mL")).abs() < 0.006, "{row:?}");
        }
    }

    /// The dose that public instructions name gives the concentration that they name, read the same way.
    #[test]
    fn strengths_are_read_as_grams_in_100_ml() {
        for row in rows("bleach") {
            let litres = num(&row, "water_L");
            let got = bleach(litres, num(&row, "label_pct") / 100.0, num(&row, "ppm_wv_NaOCl")).expect("dose");
            assert!((got * 1000.0 / num(&row, "bleach_mL") - 1.0).abs() < 2e-3, "{row:?}");
        }
        assert_eq!(bleach(100.0, 0.0, 50.0), None);
    }
}
