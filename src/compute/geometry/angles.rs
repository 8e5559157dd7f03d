//! Approach, departure and breakover angles: tangents from the lowest points to the loaded tyres.

use crate::units::Metres;

/// Angle in degrees between the ground and the line that touches the tyre and the point, seen from the tyre:
/// atan2(h − r, a) + asin(r / √(a² + (h − r)²)).
///
/// `distance` from the axle to the point along the ground, `height` of the point, `radius` static loaded radius of the
/// tyre (49 CFR 523.2, ISO 612). `None` where the point lies within the tyre or a figure is not positive.
#[must_use]
pub fn tangent(distance: Metres, height: Metres, radius: Metres) -> Option<f64> {
    let (a, rise, r) = (distance.0, height.0 - radius.0, radius.0);
    let reach = a.hypot(rise);
    let sound = a > 0.0 && r > 0.0 && height.0 >= 0.0 && reach >= r && reach.is_finite();
    sound.then(|| (rise.atan2(a) + (r / reach).asin()).to_degrees())
}

/// Breakover angle in degrees at a point below the floor: the tangents from both tyres together.
///
/// `aft` of the front axle. `None` where the point is not between the tyres.
#[must_use]
pub fn breakover(wheelbase: Metres, aft: Metres, height: Metres, radius: Metres) -> Option<f64> {
    Some(tangent(aft, height, radius)? + tangent(wheelbase - aft, height, radius)?)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::reference::{num, rows};

    /// Closed form checked outside with a brute-force search of the tangent; the table is rounded to 1e-4 degrees.
    #[test]
    fn angles_as_the_reference_has_them() {
        for row in rows("vehicle-angles") {
            let m = |column: &str| Metres(num(&row, column));
            let angle = |a: &str, h: &str| tangent(m(a), m(h), m("r_m")).expect("a point outside the tyre");
            let over =
                breakover(m("wheelbase_m"), m("x_belly_from_front_m"), m("h_belly_m"), m("r_m")).expect("between");
            for (got, column) in [
                (angle("a_front_m", "h_front_m"), "approach_deg"),
                (angle("a_rear_m", "h_rear_m"), "departure_deg"),
                (over, "breakover_deg"),
                (180.0 - over, "interior_angle_deg"),
            ] {
                assert!((got - num(&row, column)).abs() < 6e-5, "{} {column}: {got}", row["case"]);
            }
        }
    }

    #[test]
    fn points_within_the_tyre_or_without_sense_give_no_angle() {
        let r = Metres(0.35);
        assert_eq!(tangent(Metres(0.1), Metres(0.3), r), None);
        assert_eq!(tangent(Metres(-1.0), Metres(0.3), r), None);
        assert_eq!(tangent(Metres(1.0), Metres(0.3), Metres(0.0)), None);
        assert_eq!(tangent(Metres(f64::NAN), Metres(0.3), r), None);
        assert_eq!(breakover(Metres(3.0), Metres(3.5), Metres(0.2), r), None);
    }

    /// A point on the ground leaves no angle at all.
    #[test]
    fn a_point_on_the_ground_gives_none_of_it() {
        assert!(tangent(Metres(1.0), Metres(0.0), Metres(0.35)).expect("outside").abs() < 1e-9);
    }
}
