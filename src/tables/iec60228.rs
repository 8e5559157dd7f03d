//! IEC 60228 class 5 (flexible) copper conductors: largest resistance at 20 °C. Source: [`super::sources::IEC_60228`].
//!
//! The limit lies 10 % to 16 % above that of solid copper of the nominal area, so the area alone understates
//! the voltage drop of a conductor that meets the standard.

use crate::units::ConductorSize::{self, Metric};
use serde::Serialize;

/// One size of the standard.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub(crate) struct Class5 {
    /// Nominal area, mm².
    pub area: f64,
    /// Plain copper, ohm per kilometre at 20 °C.
    pub plain: f64,
    /// Tinned copper, ohm per kilometre at 20 °C.
    pub tinned: f64,
}

const fn row(area: f64, plain: f64, tinned: f64) -> Class5 {
    Class5 { area, plain, tinned }
}

/// The table, smallest first.
pub(crate) const CLASS_5: &[Class5] = &[
    row(0.5, 39.0, 40.1),
    row(0.75, 26.0, 26.7),
    row(1.0, 19.5, 20.0),
    row(1.5, 13.3, 13.7),
    row(2.5, 7.98, 8.21),
    row(4.0, 4.95, 5.09),
    row(6.0, 3.3, 3.39),
    row(10.0, 1.91, 1.95),
    row(16.0, 1.21, 1.24),
    row(25.0, 0.78, 0.795),
    row(35.0, 0.554, 0.565),
    row(50.0, 0.386, 0.393),
    row(70.0, 0.272, 0.277),
    row(95.0, 0.206, 0.21),
    row(120.0, 0.161, 0.164),
    row(150.0, 0.129, 0.132),
    row(185.0, 0.106, 0.108),
    row(240.0, 0.0801, 0.0817),
];

/// The sizes, smallest first.
pub(crate) const SIZES: &[ConductorSize] = &[
    Metric(0.5),
    Metric(0.75),
    Metric(1.0),
    Metric(1.5),
    Metric(2.5),
    Metric(4.0),
    Metric(6.0),
    Metric(10.0),
    Metric(16.0),
    Metric(25.0),
    Metric(35.0),
    Metric(50.0),
    Metric(70.0),
    Metric(95.0),
    Metric(120.0),
    Metric(150.0),
    Metric(185.0),
    Metric(240.0),
];

/// The row of a nominal `area` in mm², if the standard has it.
#[must_use]
pub(crate) fn class_5(area: f64) -> Option<&'static Class5> {
    CLASS_5.iter().find(|row| (row.area - area).abs() < 1e-9)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::reference::{num, rows};

    /// IEC 60228 Table 3, every row.
    #[test]
    fn rows_are_those_of_the_standard() {
        let table = rows("iec60228-class5");
        assert_eq!((table.len(), SIZES.len()), (CLASS_5.len(), CLASS_5.len()));
        for (row, size) in table.iter().zip(SIZES) {
            let got = class_5(size.area().0).expect("row");
            let expected = row_of(row);
            assert_eq!(*got, expected);
        }
        assert_eq!(class_5(5.0), None);
    }

    fn row_of(row: &crate::tables::reference::Row) -> Class5 {
        super::row(num(row, "area_mm2"), num(row, "plain_max_ohm_km_20C"), num(row, "tinned_max_ohm_km_20C"))
    }
}
