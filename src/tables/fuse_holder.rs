//! Holders of fuses that are screwed to a board: their face and the studs of their cables. Common practice, no source; the
//! maker's sheet wins. Source: [`super::sources::FUSE_HOLDERS`].

use super::fuse_series::Family;
use crate::units::Amps;

/// A holder.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct FuseHolder {
    /// Length along its fuse, width and depth, with its cover; metres.
    pub size: [f64; 3],
    /// Thread of the studs of its cables; "" where its clamps take them bare.
    pub stud: &'static str,
}

/// Family, up to which rating in A, length, width and depth in mm, studs.
const HOLDERS: [(Family, f64, [f64; 3], &str); 7] = [
    (Family::SmallBoltDown, 250.0, [80.0, 30.0, 35.0], "M5"),
    (Family::LargeBoltDown, 600.0, [120.0, 45.0, 50.0], "M8"),
    (Family::TerminalCube, 300.0, [50.0, 40.0, 40.0], "M8"),
    // Tubes with caps, in clips with screws for the bare conductor.
    (Family::ClassT, 60.0, [100.0, 40.0, 45.0], ""),
    (Family::ClassT, 100.0, [110.0, 50.0, 50.0], "M6"),
    (Family::ClassT, 200.0, [120.0, 55.0, 55.0], "M8"),
    (Family::ClassT, 600.0, [140.0, 65.0, 65.0], "M10"),
];

/// The holder of a fuse; `None` of a family whose holders hang in the line, or that is none.
#[must_use]
pub(crate) fn of(family: Family, rating: Amps) -> Option<FuseHolder> {
    let fits = |row: &&(Family, f64, [f64; 3], &'static str)| row.0 == family && rating.0 <= row.1;
    HOLDERS.iter().find(fits).map(|(_, _, size, stud)| FuseHolder { size: size.map(|mm| mm / 1000.0), stud })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::sources;

    /// Holes of strip fuses (ISO 8820-5) and of cubes (ISO 8820-6), from memory: M5, M8 and M8.
    #[test]
    fn studs_are_those_of_the_fuses() {
        for (family, rating, stud) in [
            (Family::SmallBoltDown, 100.0, "M5"),
            (Family::LargeBoltDown, 300.0, "M8"),
            (Family::TerminalCube, 75.0, "M8"),
            (Family::ClassT, 400.0, "M10"),
        ] {
            assert_eq!(of(family, Amps(rating)).map(|h| h.stud), Some(stud), "{family:?}");
        }
        assert_eq!(of(Family::ClassT, Amps(50.0)).map(|h| h.stud), Some(""), "clips for a tube");
        assert_eq!(of(Family::Blade, Amps(10.0)), None);
        assert!(!sources::FUSE_HOLDERS.status.may_carry_error());
    }
}
