//! Force that a crimped end must hold, by conductor: UL 486A as three makers reprint it.
//! Source: [`super::sources::UL_486A_PULL`]. Not to be mixed with UL 486E, whose figures are for set screws.

use super::citation::Status;
use crate::units::{ConductorSize, Newtons};
use serde::Serialize;

/// Newtons a pound-force.
const POUND: f64 = 4.448_221_615_260_5;

/// Conductor, pounds-force, how well it was checked.
const UL_486A: [(ConductorSize, f64, Status); 15] = [
    (ConductorSize::Awg(20), 13.0, Status::Secondary),
    (ConductorSize::Awg(18), 20.0, Status::Secondary),
    (ConductorSize::Awg(16), 30.0, Status::Secondary),
    (ConductorSize::Awg(14), 50.0, Status::Secondary),
    (ConductorSize::Awg(12), 70.0, Status::Secondary),
    (ConductorSize::Awg(10), 80.0, Status::Secondary),
    (ConductorSize::Awg(8), 90.0, Status::Secondary),
    (ConductorSize::Awg(6), 100.0, Status::Secondary),
    (ConductorSize::Awg(4), 140.0, Status::Secondary),
    (ConductorSize::Awg(2), 180.0, Status::Secondary),
    (ConductorSize::Awg(1), 200.0, Status::Memory),
    (ConductorSize::Awg(0), 250.0, Status::Secondary),
    (ConductorSize::Awg(-1), 300.0, Status::Secondary),
    (ConductorSize::Awg(-2), 350.0, Status::Memory),
    (ConductorSize::Awg(-3), 450.0, Status::Memory),
];

/// What an end must hold.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub(crate) struct PullOut {
    /// The force, at least.
    pub force: Newtons,
    /// How well it was checked.
    pub status: Status,
}

/// What an end of `size` must hold: the row of the largest AWG not above it, since no list in mm² is usable. `None` below
/// 20 AWG (0.52 mm²).
#[must_use]
pub(crate) fn pull_out(size: ConductorSize) -> Option<PullOut> {
    let area = size.area().0 * (1.0 + 1e-9);
    let (_, pounds, status) = UL_486A.iter().rev().find(|(row, _, _)| row.area().0 <= area)?;
    Some(PullOut { force: Newtons(pounds * POUND), status: *status })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::reference::{num, rows};

    /// UL 486A, each row of the reprints from 20 AWG on, with what is from memory marked so.
    #[test]
    fn forces_are_those_of_the_reprints() {
        let mut held = 0;
        for row in rows("crimp-pullout") {
            let size = ConductorSize::parse(&format!("{} AWG", row["awg"])).expect("size");
            let Some(got) = pull_out(size) else {
                assert!(size.area().0 < 0.5, "{size} has a row");
                continue;
            };
            assert!((got.force.0 / POUND - num(&row, "ul486a_lbf")).abs() < 1e-9, "{size}");
            assert!((got.force.0 - num(&row, "N")).abs() < 0.1, "{size}");
            assert_eq!(got.status.may_carry_error(), row["status"] == "S", "{size}");
            held += 1;
        }
        assert_eq!(held, UL_486A.len());
    }

    /// The table of UL 486E for set screws is a third to a fifth of it: no figure here comes near.
    #[test]
    fn set_screws_are_another_matter() {
        let lowest = pull_out(ConductorSize::Awg(18)).expect("row").force.0 / POUND;
        assert!(lowest > 6.75 * 2.0, "18 AWG in a set screw holds 6.75 lbf");
    }

    #[test]
    fn metric_conductors_take_the_next_smaller_row() {
        let pounds = |mm2| pull_out(ConductorSize::Metric(mm2)).map(|p| (p.force.0 / POUND).round());
        assert_eq!(pounds(0.5), None);
        assert_eq!(pounds(0.75), Some(13.0));
        assert_eq!(pounds(1.5), Some(30.0));
        assert_eq!(pounds(50.0), Some(200.0));
        assert_eq!(pounds(95.0), Some(350.0));
        assert_eq!(pounds(240.0), Some(450.0));
    }
}
