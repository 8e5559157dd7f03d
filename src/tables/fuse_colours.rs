//! ISO 8820-3 colours of blade fuses. A help to the eye: the printed rating counts.

use super::citation::Status::{self, Memory, Secondary};
use super::fuse_series::Family;
use crate::units::Amps;
use serde::Serialize;

/// The colour of a fuse.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub(crate) struct Colour {
    /// Its name.
    pub name: &'static str,
    /// How well it was checked.
    pub status: Status,
}

const TYPE_C: &[(f64, &str, Status)] = &[
    (1.0, "black", Memory),
    (2.0, "grey", Memory),
    (3.0, "violet", Memory),
    (4.0, "pink", Memory),
    (5.0, "light brown (tan)", Memory),
    (7.5, "brown", Memory),
    (10.0, "red", Memory),
    (15.0, "light blue", Secondary),
    (20.0, "yellow", Memory),
    (25.0, "natural/white", Memory),
    (30.0, "light green", Memory),
    (35.0, "blue-green", Memory),
    (40.0, "amber/orange", Memory),
];

const TYPE_E: &[(f64, &str, Status)] = &[
    (20.0, "yellow", Secondary),
    (30.0, "green", Secondary),
    (40.0, "orange/amber", Secondary),
    (50.0, "red", Secondary),
    (60.0, "blue", Secondary),
    (70.0, "brown/tan", Secondary),
    (80.0, "natural", Secondary),
];

/// Colour of a blade fuse of `rating`; `None` for other families and ratings. Types C and F share their colours.
#[must_use]
pub(crate) fn colour(family: Family, rating: Amps) -> Option<Colour> {
    let table = match family {
        Family::Blade | Family::MiniBlade => TYPE_C,
        Family::MaxiBlade => TYPE_E,
        _ => return None,
    };
    table
        .iter()
        .find(|(amps, ..)| (amps - rating.0).abs() < 1e-9)
        .map(|(_, name, status)| Colour { name, status: *status })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::reference::{num, rows};

    #[test]
    fn colours_are_those_of_the_reference() {
        for row in rows("fuse-colours") {
            let family = if row["type"] == "C" { Family::Blade } else { Family::MaxiBlade };
            let got = colour(family, Amps(num(&row, "rating_A"))).expect("colour");
            assert_eq!(got.name, row["colour"]);
            assert_eq!(got.status == Memory, row["status"] == "memory");
        }
        assert_eq!(colour(Family::ClassT, Amps(20.0)), None);
    }

    #[test]
    fn every_blade_rating_has_a_colour() {
        for family in [Family::Blade, Family::MiniBlade, Family::MaxiBlade] {
            for rating in family.series().ratings {
                assert!(colour(family, Amps(rating.amps)).is_some(), "{family:?} {}", rating.amps);
            }
        }
    }
}
