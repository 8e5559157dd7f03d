//! Gas struts of a lid: force that holds it open, force at the edge to close it, at any temperature.

use super::fasteners::G;
use crate::units::{Kilograms, Metres};
use serde::Serialize;

/// More force than just holds the lid, for age and friction; makers publish 1.10 to 1.20.
pub const RESERVE: f64 = 1.1;

/// Force of a strut pushed in over that of the same strut run out; published 1.2 to 1.4.
const PROGRESSION: f64 = 1.3;

/// Temperature at which the force of a strut is stated, °C.
pub const STATED_AT: f64 = 20.0;

/// Absolute zero, °C.
const ZERO: f64 = -273.15;

/// Lever arms shorter than this hold nothing that a builder could set: 1 mm.
const LEAST_LEVER: f64 = 0.001;

/// Share of its stated force that a strut has at `celsius`: an ideal gas at a constant volume.
#[must_use]
pub fn share_at(celsius: f64) -> f64 {
    ((celsius - ZERO) / (STATED_AT - ZERO)).max(0.0)
}

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
    /// Closed lid above level, seen from the hinge: below it where the lid hangs.
    pub rest_angle: f64,
}

/// Why no force can be given.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum NoForce {
    /// A measure is missing or nothing.
    NoMeasure(&'static str),
    /// Open, the strut's line passes the hinge or lies beyond it: it no longer pushes the lid open.
    DeadCentre,
    /// Open, the lid leans past upright: its own weight keeps it open.
    FallsOpen,
}

impl Lid {
    /// The first measure, by its field, that is not above nothing.
    fn unsound(&self) -> Option<&'static str> {
        let lengths = [
            ("struts", self.struts),
            ("lid_mass", self.mass.0),
            ("lid_length", self.length.0),
            ("centre_of_gravity", self.centre.0),
            ("arm_lid", self.arm_lid.0),
            ("arm_body", self.arm_body.0),
        ];
        let angles =
            [("body_angle", self.body_angle), ("open_angle", self.open_angle), ("lid_at_rest", self.rest_angle)];
        let length = lengths.into_iter().find(|(_, v)| !(v.is_finite() && *v > 0.0));
        length.or_else(|| angles.into_iter().find(|(_, v)| !v.is_finite())).map(|(field, _)| field)
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

    /// Force of one strut, in newtons, that just holds the lid open.
    ///
    /// # Errors
    /// Why there is none.
    pub fn holding_force(&self) -> Result<f64, NoForce> {
        if let Some(field) = self.unsound() {
            return Err(NoForce::NoMeasure(field));
        }
        let lever = self.lever(self.open_angle).filter(|e| e.0 > LEAST_LEVER).ok_or(NoForce::DeadCentre)?;
        let moment = self.weight_moment(self.open_angle);
        if moment <= 0.0 {
            return Err(NoForce::FallsOpen);
        }
        Ok(moment / (self.struts * lever.0))
    }

    /// Largest force at the free edge, in newtons, to close the lid against struts of `force` each, run out.
    #[must_use]
    pub fn closing_force(&self, force: f64) -> Option<f64> {
        if self.unsound().is_some() {
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
    use crate::tables::reference::{num, rows};

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

    /// A lid that lies level when open, hung from its hinge when shut, with the strut square to it: the arm is the lever.
    fn level(mass: f64, centre: f64, arm: f64, struts: f64) -> Lid {
        Lid {
            struts,
            mass: Kilograms(mass),
            length: Metres(1.2),
            centre: Metres(centre),
            arm_lid: Metres(arm),
            arm_body: Metres(1e7),
            body_angle: 0.0,
            open_angle: 90.0,
            rest_angle: -90.0,
        }
    }

    /// The published lids whose figures agree with statics (g = 9.81): force of a strut, and of a hand at 1.2 m.
    #[test]
    fn published_lids() {
        let rows: Vec<_> = rows("gas-spring-lids").into_iter().filter(|r| r["note"].is_empty()).collect();
        assert!(rows.len() >= 2, "nothing read");
        for row in rows {
            let lid = level(num(&row, "m_kg"), num(&row, "x_g_m"), num(&row, "arm_m"), num(&row, "n"));
            let force = lid.holding_force().expect("holds");
            let published = num(&row, "F1_published_N");
            assert!((force / published - 1.0).abs() < 5e-4, "{force} N, published {published} N");
            let lever = lid.lever(90.0).expect("lever").0;
            let hand = lid.struts * force * lever / lid.length.0;
            assert!((hand / num(&row, "F_hand_published_N") - 1.0).abs() < 5e-4, "{hand} N by hand");
        }
    }

    /// Ideal gas against 20 °C; and between what makers publish for 10 K, 3 to 4 %.
    #[test]
    fn a_strut_is_weaker_in_the_cold() {
        let rows = rows("gas-spring-temperature");
        assert!(rows.len() >= 4, "nothing read");
        for row in rows {
            let difference = num(&row, "dT_K");
            assert!((share_at(STATED_AT + difference) - num(&row, "factor_vs_20C")).abs() < 5e-5, "{difference} K");
        }
        let lost = 1.0 - share_at(STATED_AT - 10.0);
        assert!((0.03..=0.04).contains(&lost), "{lost} for 10 K");
        // A tenth in reserve is gone at −6.6 °C: 293.15 K / 1.1 = 266.5 K.
        assert!(share_at(-6.0) * RESERVE > 1.0 && share_at(-7.0) * RESERVE < 1.0);
    }

    /// A flap of 4 kg, hinged on top, hanging when shut: opened by 90° it lies level, its whole weight on the struts.
    #[test]
    fn a_flap_that_hangs_from_its_hinge() {
        let flap = Lid { rest_angle: -90.0, open_angle: 90.0, body_angle: 40.0, ..bed() };
        let lever = flap.lever(90.0).expect("lever").0;
        let by_hand = 16.0 * G * 0.6 / (2.0 * lever);
        assert!((flap.holding_force().expect("holds") - by_hand).abs() < 1e-9);
        assert!(flap.weight_moment(0.0).abs() < 1e-9, "shut it hangs straight down");
    }

    #[test]
    fn where_there_is_no_force_it_says_why() {
        assert_eq!(Lid { open_angle: 95.0, ..bed() }.holding_force(), Err(NoForce::DeadCentre));
        assert_eq!(Lid { body_angle: 120.0, ..bed() }.holding_force(), Err(NoForce::DeadCentre));
        assert_eq!(Lid { struts: 0.0, ..bed() }.holding_force(), Err(NoForce::NoMeasure("struts")));
        assert_eq!(Lid { arm_body: Metres(0.0), ..bed() }.holding_force(), Err(NoForce::NoMeasure("arm_body")));
        assert_eq!(Lid { mass: Kilograms(0.0), ..bed() }.closing_force(100.0), None);
        // A lid that leans past upright stays by its own weight: not "0 N is enough".
        let standing = Lid { rest_angle: 90.0, body_angle: 30.0, open_angle: 60.0, ..bed() };
        assert_eq!(standing.holding_force(), Err(NoForce::FallsOpen));
    }

    /// Whatever the geometry: a force above nothing, or a reason.
    #[test]
    fn any_geometry_has_a_force_or_a_reason() {
        let mut held = 0;
        for n in 0..20_000_u32 {
            let part = |k: u32, of: f64| f64::from(n.wrapping_mul(2_654_435_761).rotate_left(k) % 1000) / 999.0 * of;
            let lid = Lid {
                struts: part(3, 4.0).floor(),
                mass: Kilograms(part(7, 60.0)),
                length: Metres(part(11, 2.0)),
                centre: Metres(part(13, 2.0)),
                arm_lid: Metres(part(17, 1.0)),
                arm_body: Metres(part(19, 1.0)),
                body_angle: part(23, 360.0) - 180.0,
                open_angle: part(27, 130.0),
                rest_angle: part(29, 180.0) - 90.0,
            };
            if let Ok(force) = lid.holding_force() {
                assert!(force > 0.0 && force.is_finite(), "{lid:?}");
                assert!(lid.closing_force(force).is_some(), "{lid:?}");
                held += 1;
            }
        }
        assert!(held > 1000, "{held} of 20000 can be held");
    }
}
