//! Restraint of heavy items: forces by the public rule, and what lashing points must hold.

use super::fasteners::G;
use crate::units::Kilograms;

/// Decelerations of 49 CFR 393.102(a)(1) against breaking strength, in g: forward, rearward, to a side.
pub const BREAKING: [f64; 3] = [0.8, 0.5, 0.5];

/// Those of 393.102(a)(2) against working load limits.
pub const WORKING: [f64; 3] = [0.435, 0.5, 0.25];

/// Seat anchorages as an order of magnitude in a crash, in g; from memory.
pub const CRASH: f64 = 20.0;

/// Force in newtons on `mass` at `times` g.
#[must_use]
pub fn force(mass: Kilograms, times: f64) -> f64 {
    mass.0 * G * times
}

/// Working load, in newtons, that lashing points for `mass` must have together: the largest of the three directions,
/// which is also the half of the weight of 49 CFR 393.106.
#[must_use]
pub fn working_load(mass: Kilograms) -> f64 {
    force(mass, WORKING.into_iter().fold(0.0, f64::max))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hundred_kilograms() {
        assert!((force(Kilograms(100.0), BREAKING[0]) - 784.532).abs() < 1e-9);
        assert!((working_load(Kilograms(100.0)) - 490.3325).abs() < 1e-9);
    }
}
