//! Gas struts of a lid: force that holds it open, force at the edge to close it.

use super::fasteners::G;
use crate::units::{Kilograms, Metres};
use serde::Serialize;

/// More force than just holds the lid, for cold and age; common practice.
pub const RESERVE: f64 = 1.1;

/// Force of a strut pushed in over that of the same strut run out; common practice.
const PROGRESSION: f64 = 1.3;

/// A lid on struts. Angles in degrees.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Lid {
    /// Struts.
    pub struts: f64,
    /// Mass with everything on it.
    pub mass: Kilograms,
    /// Hinge to free edge.
    pub length: Metres,
    /// Hinge to centre of gravity.
    pub centre: Metres,
    /// Hinge to the strut end on the lid.
    pub arm_lid: Metres,
    /// Hinge to the strut end on the frame.
    pub arm_body: Metres,
    /// Between the closed lid and the line to the strut end on the frame.
    pub body_angle: f64,
    /// How far it opens.
    pub open_angle: f64,
    /// Closed lid above level.
    pub rest_angle: f64,
}

impl Lid {
    fn sound(&self) -> bool {
        let lengths = [self.struts, self.mass.0, self.length.0, self.centre.0, self.arm_lid.0, self.arm_body.0];
        lengths.iter().all(|v| v.is_finite() && *v > 0.0)
    }

    /// Length of the strut with the lid opened by `angle` degrees: law of cosines.
    #[must_use]
    pub fn strut_length(&self, angle: f64) -> Metres {
        let (a, b) = (self.arm_lid.0, self.arm_body.0);
        let between = (self.body_angle + angle).to_radians();
        Metres((a * a + b * b - 2.0 * a * b * between.cos()).max(0.0).sqrt())
    }

    /// Lever arm of the strut about the hinge; negative past the dead centre.
    #[must_use]
    pub fn lever(&self, angle: f64) -> Option<Metres> {
        let length = self.strut_length(angle).0;
        let between = (self.body_angle + angle).to_radians();
        (length > 1e-9).then(|| Metres(self.arm_lid.0 * self.arm_body.0 * between.sin() / length))
    }

    /// Moment of the lid's weight that closes it, N m; negative where it falls open.
    #[must_use]
    pub fn weight_moment(&self, angle: f64) -> f64 {
        self.mass.0 * G * self.centre.0 * (self.rest_angle + angle).to_radians().cos()
    }

    /// Force of one strut, in newtons, that just holds the lid open. `None` past the dead centre or without measures.
    #[must_use]
    pub fn holding_force(&self) -> Option<f64> {
        let lever = self.lever(self.open_angle).filter(|e| self.sound() && e.0 > 1e-6)?;
        Some((self.weight_moment(self.open_angle) / (self.struts * lever.0)).max(0.0))
    }

    /// Largest force at the free edge, in newtons, to close the lid against struts of `force` each, run out.
    #[must_use]
    pub fn closing_force(&self, force: f64) -> Option<f64> {
        if !self.sound() {
            return None;
        }
        let (open, shut) = (self.strut_length(self.open_angle).0, self.strut_length(0.0).0);
        let travel = open - shut;
        let at = |n: u32| {
            let angle = self.open_angle * f64::from(n) / 90.0;
            let pushed_in = if travel > 1e-9 { (open - self.strut_length(angle).0) / travel } else { 0.0 };
            let now = force * (1.0 + (PROGRESSION - 1.0) * pushed_in.clamp(0.0, 1.0));
            Some((self.struts * now * self.lever(angle)?.0 - self.weight_moment(angle)) / self.length.0)
        };
        (0..=90).filter_map(at).fold(None, |top: Option<f64>, f| Some(top.map_or(f, |t| t.max(f))))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bed() -> Lid {
        Lid {
            struts: 2.0,
            mass: Kilograms(16.0),
            length: Metres(1.2),
            centre: Metres(0.6),
            arm_lid: Metres(0.3),
            arm_body: Metres(0.32),
            body_angle: 90.0,
            open_angle: 80.0,
            rest_angle: 0.0,
        }
    }

    /// By hand: strut √(0.09 + 0.1024 − 0.192·cos 170°) = 0.6176 m, lever 0.096·sin 170°/0.6176 = 26.99 mm,
    /// weight 16·9.80665·0.6·cos 80° = 16.35 N m, so 302.8 N each.
    #[test]
    fn a_bed_base_by_hand() {
        let lid = bed();
        assert!((lid.strut_length(80.0).0 - 0.6176).abs() < 5e-5);
        assert!((lid.lever(80.0).expect("lever").0 - 0.026_99).abs() < 5e-6);
        assert!((lid.holding_force().expect("holds") - 302.8).abs() < 0.2);
        // Closed: 2·302.8·1.3·0.2189 − 94.14 = 78.2 N m over 1.2 m.
        assert!((lid.closing_force(302.8).expect("closes") - 65.2).abs() < 1.5);
    }

    #[test]
    fn past_the_dead_centre_or_without_measures_there_is_none() {
        assert_eq!(Lid { open_angle: 95.0, ..bed() }.holding_force(), None);
        assert_eq!(Lid { struts: 0.0, ..bed() }.holding_force(), None);
        assert_eq!(Lid { mass: Kilograms(0.0), ..bed() }.closing_force(100.0), None);
        // A lid that leans past upright needs no force to stay.
        assert_eq!(Lid { body_angle: 30.0, open_angle: 100.0, ..bed() }.holding_force(), Some(0.0));
    }
}
