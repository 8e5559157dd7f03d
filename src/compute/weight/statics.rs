//! Statics of a vehicle on two axles: loads by moments, left against right, centre of gravity.

use crate::units::{Kilograms, Metres};
use serde::Serialize;

/// A mass and where it is: aft of the front axle, left of the middle, above the load floor.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct PointMass {
    /// Mass.
    pub mass: Kilograms,
    /// Aft of the front axle; negative ahead of it.
    pub x: Metres,
    /// Left of the middle; negative on the right.
    pub y: Metres,
    /// Height, of a datum the caller keeps.
    pub z: Metres,
}

/// Loads on the two axles.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Axles {
    /// Front axle.
    pub front: Kilograms,
    /// Rear axle.
    pub rear: Kilograms,
}

impl Axles {
    /// Both together.
    #[must_use]
    pub fn total(self) -> Kilograms {
        self.front + self.rear
    }
}

/// Axle loads with `items` added to the empty loads: rear gains m·x/L, front m·(1 − x/L).
///
/// An item behind the rear axle lightens the front. `None` where the wheelbase is not positive.
#[must_use]
pub fn axles(wheelbase: Metres, empty: Axles, items: impl IntoIterator<Item = PointMass>) -> Option<Axles> {
    if wheelbase.0.is_nan() || wheelbase.0 <= 0.0 {
        return None;
    }
    let add = |at: Axles, item: PointMass| {
        let share = item.x / wheelbase;
        Axles { front: at.front + item.mass * (1.0 - share), rear: at.rear + item.mass * share }
    };
    Some(items.into_iter().fold(empty, add))
}

/// Distance of the centre of gravity behind the front axle: L · rear / total. `None` where nothing weighs.
#[must_use]
pub fn behind_front(wheelbase: Metres, loads: Axles) -> Option<Metres> {
    (loads.total().0 > 0.0).then(|| wheelbase * (loads.rear / loads.total()))
}

/// Load on the left wheels: M/2 + Σ m·y / track, the empty vehicle taken as even.
///
/// `None` where the track is not positive.
#[must_use]
pub fn left_side(track: Metres, total: Kilograms, items: impl IntoIterator<Item = PointMass>) -> Option<Kilograms> {
    if track.0.is_nan() || track.0 <= 0.0 {
        return None;
    }
    let moment: f64 = items.into_iter().map(|i| i.mass.0 * i.y.0).sum();
    Some(total / 2.0 + Kilograms(moment / track.0))
}

/// Height of the common centre of gravity. `None` where nothing weighs.
#[must_use]
pub fn height(items: impl IntoIterator<Item = PointMass>) -> Option<Metres> {
    let (mass, moment) = items.into_iter().fold((0.0, 0.0), |(m, t), i| (m + i.mass.0, t + i.mass.0 * i.z.0));
    (mass > 0.0).then(|| Metres(moment / mass))
}

/// Static stability factor: half the track over the height of the centre of gravity.
#[must_use]
pub fn stability(track: Metres, height: Metres) -> Option<f64> {
    (height.0 > 0.0).then(|| track.0 / (2.0 * height.0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::reference::{num, rows};

    fn near(got: f64, expected: f64, tolerance: f64, what: &str) {
        assert!((got - expected).abs() <= tolerance, "{what}: {got}, expected {expected}");
    }

    /// Axle loads solved with an independent linear solver; rounded to 1e-3 kg and 1e-5 m in the table.
    #[test]
    fn axle_loads_as_the_reference_has_them() {
        for row in rows("axle-statics") {
            let items: Vec<_> = row["items"]
                .split(';')
                .map(|item| {
                    let (mass, x) = item.trim().split_once('@').expect("mass@x");
                    PointMass {
                        mass: Kilograms(mass.parse().expect("mass")),
                        x: Metres(x.parse().expect("x")),
                        ..PointMass::default()
                    }
                })
                .collect();
            let empty =
                Axles { front: Kilograms(num(&row, "empty_front_kg")), rear: Kilograms(num(&row, "empty_rear_kg")) };
            let wheelbase = Metres(num(&row, "wheelbase_m"));
            let loads = axles(wheelbase, empty, items).expect("a wheelbase");
            near(loads.front.0, num(&row, "front_kg"), 5e-4, &row["case"]);
            near(loads.rear.0, num(&row, "rear_kg"), 5e-4, &row["case"]);
            near(loads.total().0, num(&row, "total_kg"), 5e-4, &row["case"]);
            near(behind_front(wheelbase, loads).expect("weighs").0, num(&row, "cg_behind_front_m"), 5e-6, &row["case"]);
            near(num(&row, "gawr_rear") - loads.rear.0, num(&row, "margin_rear"), 5e-4, &row["case"]);
            near(100.0 * (loads.front / loads.total()), num(&row, "front_pct"), 5e-4, &row["case"]);
        }
    }

    #[test]
    fn nothing_gives_no_figure_and_no_nan() {
        assert_eq!(axles(Metres(0.0), Axles::default(), []), None);
        assert_eq!(behind_front(Metres(3.0), Axles::default()), None);
        assert_eq!(left_side(Metres(0.0), Kilograms(1.0), []), None);
        assert_eq!(height([]), None);
        assert_eq!(stability(Metres(1.7), Metres(0.0)), None);
    }

    /// Two equal masses as far left as right leave the sides even; one at a wheel stands on that wheel.
    #[test]
    fn sides_by_moments() {
        let at = |y: f64| PointMass { mass: Kilograms(80.0), y: Metres(y), ..PointMass::default() };
        assert_eq!(left_side(Metres(1.6), Kilograms(1160.0), [at(0.5), at(-0.5)]), Some(Kilograms(580.0)));
        assert_eq!(left_side(Metres(1.6), Kilograms(1080.0), [at(0.8)]), Some(Kilograms(580.0)));
    }
}
