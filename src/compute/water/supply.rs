//! How long the water lasts, and the grey tank.

/// Water that is drunk or cooked away, litres per person and day. Source: [`crate::tables::sources::WATER_SHARE`].
pub const DRUNK: f64 = 2.5;

/// Days that `litres` last `people` who use `each` litres a day. `None` without people or use.
///
/// Source: [`crate::tables::sources::WATER_BALANCE`].
#[must_use]
pub fn days(litres: f64, people: f64, each: f64) -> Option<f64> {
    (people > 0.0 && each > 0.0 && litres >= 0.0).then(|| litres / (people * each))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tanks_last_by_division() {
        assert_eq!(days(96.0, 4.0, 8.0), Some(3.0));
        assert_eq!(days(96.0, 0.0, 8.0), None);
        assert_eq!(days(-1.0, 2.0, 8.0), None);
    }
}
