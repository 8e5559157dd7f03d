//! Masses for signs: what is allowed rounded down, what is there rounded up, so that what the sign promises is kept.

use crate::units::{Bound, Kilograms, System, print_whole};

/// Mass that may be reached: whole units down, "7716 lb".
#[must_use]
pub fn allowed(mass: Kilograms, system: System) -> String {
    print_whole(mass.0, system, Bound::Most)
}

/// Mass that is there: whole units up.
#[must_use]
pub fn present(mass: Kilograms, system: System) -> String {
    print_whole(mass.0, system, Bound::Least)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Kilograms in a pound: NIST SP 811, appendix B.8, exact.
    const POUND: f64 = 0.453_592_37;

    /// 3500 kg are 7716.18 lb, 1000 lb are 453.592 kg.
    #[test]
    fn a_sign_never_allows_more_than_the_limit() {
        assert_eq!(allowed(Kilograms(3500.0), System::Us), "7716 lb");
        assert_eq!(allowed(Kilograms(3500.0), System::Metric), "3500 kg");
        assert_eq!(allowed(Kilograms(1000.0 * POUND), System::Us), "1000 lb");
        assert_eq!(allowed(Kilograms(1000.0 * POUND), System::Metric), "453 kg");
        assert_eq!(present(Kilograms(3500.0), System::Us), "7717 lb");
        assert_eq!(present(Kilograms(1000.0 * POUND), System::Us), "1000 lb");
    }
}
