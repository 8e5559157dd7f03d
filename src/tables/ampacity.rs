//! 33 CFR 183.425 Table 5: amperes a copper conductor may carry in air of 30 °C. Source: [`super::sources::CFR_TABLE_5`].
//!
//! The table is in AWG. A size that is not in it takes the row of the largest AWG whose area does not exceed its own.
//! Areas compare as nominal mm² against ASTM B258 geometry. IEC 60228 lets a metric conductor hold less copper than
//! its name says: by resistance 35 mm², 70 mm² and 95 mm² at the limit of the standard should carry up to 3 % less
//! than the row they take here. That is within the table's own rounding to 5 A; every other size is on the safe side.

use super::insulation::Insulation;
use crate::units::Amps;
use crate::units::ConductorSize::{self, Awg};
use serde::Serialize;

/// Reference air temperature of the table, °C.
pub(crate) const REFERENCE_AMBIENT: f64 = 30.0;

/// Amperes at 60, 75, 80, 90, 105, 125 and 200 °C.
const TABLE_5: [(ConductorSize, [f64; 7]); 15] = [
    (Awg(18), [10.0, 10.0, 15.0, 20.0, 20.0, 25.0, 25.0]),
    (Awg(16), [15.0, 15.0, 20.0, 25.0, 25.0, 30.0, 35.0]),
    (Awg(14), [20.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0]),
    (Awg(12), [25.0, 25.0, 35.0, 40.0, 45.0, 50.0, 55.0]),
    (Awg(10), [40.0, 40.0, 50.0, 55.0, 60.0, 70.0, 70.0]),
    (Awg(8), [55.0, 65.0, 70.0, 70.0, 80.0, 90.0, 100.0]),
    (Awg(6), [80.0, 95.0, 100.0, 100.0, 120.0, 125.0, 135.0]),
    (Awg(4), [105.0, 125.0, 130.0, 135.0, 160.0, 170.0, 180.0]),
    (Awg(3), [120.0, 145.0, 150.0, 155.0, 180.0, 195.0, 210.0]),
    (Awg(2), [140.0, 170.0, 175.0, 180.0, 210.0, 225.0, 240.0]),
    (Awg(1), [165.0, 195.0, 210.0, 210.0, 245.0, 265.0, 280.0]),
    (Awg(0), [195.0, 230.0, 245.0, 245.0, 285.0, 305.0, 325.0]),
    (Awg(-1), [225.0, 265.0, 285.0, 285.0, 330.0, 355.0, 370.0]),
    (Awg(-2), [260.0, 310.0, 330.0, 330.0, 385.0, 410.0, 430.0]),
    (Awg(-3), [300.0, 360.0, 385.0, 385.0, 445.0, 475.0, 510.0]),
];

/// A value of a table.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub(crate) struct TableAmpacity {
    /// What the table allows.
    pub amps: Amps,
    /// Row it was read from: the size itself, or the next smaller AWG.
    pub row: ConductorSize,
}

/// Amperes of `size` in air of 30 °C, not bundled; `None` for conductors thinner than 18 AWG (0.823 mm²).
/// Sizes above 4/0 (107 mm²) take the row of 4/0.
#[must_use]
pub(crate) fn table_5(size: ConductorSize, insulation: Insulation) -> Option<TableAmpacity> {
    let column = Insulation::CFR.iter().rposition(|i| *i <= insulation)?;
    let area = size.area().0 * (1.0 + 1e-9);
    let (row, amps) = TABLE_5.iter().rev().find(|(row, _)| row.area().0 <= area)?;
    Some(TableAmpacity { amps: Amps(amps[column]), row: *row })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::reference::{num, rows};

    /// 33 CFR 183.425 Table 5, all 105 cells.
    #[test]
    fn every_cell_is_that_of_the_regulation() {
        let table = rows("cfr-33-183-425-table5");
        assert_eq!(table.len(), TABLE_5.len());
        for row in &table {
            let size = ConductorSize::parse(&format!("{} AWG", row["awg"])).expect("size");
            for class in Insulation::CFR {
                let expected = num(row, &format!("t{}C", class.limit().0));
                let got = table_5(size, *class).expect("row");
                assert_eq!((got.amps, got.row), (Amps(expected), size), "{size} {class:?}");
            }
        }
    }

    #[test]
    fn other_sizes_take_the_next_smaller_row() {
        let row = |mm2| table_5(ConductorSize::Metric(mm2), Insulation::C105).map(|t| (t.row, t.amps.0));
        assert_eq!(row(0.75), None);
        assert_eq!(row(1.0), Some((Awg(18), 20.0)));
        assert_eq!(row(1.5), Some((Awg(16), 25.0)));
        assert_eq!(row(6.0), Some((Awg(10), 60.0)));
        assert_eq!(row(35.0), Some((Awg(2), 210.0)));
        assert_eq!(row(240.0), Some((Awg(-3), 445.0)));
        assert_eq!(table_5(Awg(20), Insulation::C105), None);
        assert_eq!(table_5(Awg(7), Insulation::C105).map(|t| t.row), Some(Awg(8)));
        assert_eq!(row(f64::NAN), None);
    }
}
