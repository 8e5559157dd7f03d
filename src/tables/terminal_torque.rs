//! Tightening torque of screw clamps by conductor, where the maker gives none (UL 486A-486B).

use crate::units::ConductorSize;

/// Largest conductor, and torque in N m: slotted screws of No. 10 and larger, slot to 1.2 mm wide and 6.4 mm long.
const SLOTTED: [(ConductorSize, f64); 4] = [
    (ConductorSize::Awg(10), 2.3),
    (ConductorSize::Awg(8), 2.8),
    (ConductorSize::Awg(3), 4.0),
    (ConductorSize::Awg(2), 4.5),
];

/// Torque in N m of a clamp with a slotted screw of No. 10 or larger on `size`; a size between two rows takes the
/// larger one. `None` above 2 AWG, for which the table has other screws.
///
/// Source: UL 486A-486B as reprinted in NFPA 70 (NEC) Informative Annex I, Table I.1.
#[must_use]
pub(crate) fn slotted(size: ConductorSize) -> Option<f64> {
    // A metric size that is sold for an AWG one is a hair larger: 5.26 and 5.3 mm² are the same row.
    let fits = |row: ConductorSize| size.area().0 <= row.area().0 * 1.01;
    SLOTTED.iter().find(|(row, _)| fits(*row)).map(|(_, torque)| *torque)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::reference::{num, rows};

    #[test]
    fn torques_are_those_of_the_reference() {
        for row in rows("terminal-torque") {
            let size = ConductorSize::parse(&row["size"]).expect("size");
            assert_eq!(slotted(size), Some(num(&row, "torque_nm")), "{size}");
            // Pounds and newtons of the table say the same, to their rounding.
            assert!((num(&row, "torque_lbf_in") * 0.112_985 - num(&row, "torque_nm")).abs() < 0.06, "{size}");
        }
        assert_eq!(slotted(ConductorSize::Awg(0)), None, "another screw");
        assert_eq!(slotted(ConductorSize::Metric(6.0)), Some(2.8), "between 10 and 8 AWG");
    }
}
