//! Comparing a figure with its limit.

/// Whether `value` is above `limit` by more than rounding: a figure that equals its limit keeps it.
#[must_use]
pub(crate) fn above(value: f64, limit: f64) -> bool {
    value > limit + limit.abs() * 1e-9
}

#[cfg(test)]
mod tests {
    use super::above;

    #[test]
    fn a_figure_at_its_limit_keeps_it() {
        assert!(!above(0.1 + 0.2, 0.3));
        assert!(!above(-1.0, 0.0));
        assert!(above(30.001, 30.0));
        assert!(!above(f64::NAN, 30.0));
    }
}
