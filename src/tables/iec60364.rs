//! IEC 60364-5-52 Tables B.52.2 (PVC, 70 °C) and B.52.3 (cross-linked, 90 °C): amperes of two loaded copper conductors
//! in air of 30 °C, by how they are installed. Sources: [`super::sources::IEC_B_52_2`], [`super::sources::IEC_B_52_3`].
//!
//! The reprints that were compared have the rows from 1.5 mm² to 95 mm². Below and above them the formula of Annex D
//! stands in, which gives the rows within 2 %; above 95 mm² 5 % less of it, since nobody held it to a row there.
//! Source: [`super::sources::IEC_ANNEX_D`]. A size that has no row takes that of the largest below it.

use super::ampacity::TableAmpacity;
use super::citation::Citation;
use super::insulation::Insulation;
use super::sources;
use crate::units::{Amps, ConductorSize};
use serde::Serialize;
use std::fmt;

/// A reference method of installation of Table B.52.1.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub enum Method {
    /// Single conductors in conduit in an insulated wall.
    A1,
    /// A cable in conduit in an insulated wall.
    A2,
    /// Single conductors in conduit on a wall, or loose in a cavity.
    B1,
    /// A cable in conduit on a wall, or in a cavity.
    B2,
    /// Clipped to a surface, open to the air.
    C,
}

impl Method {
    /// All, in the order of the tables' columns.
    pub const ALL: [Self; 5] = [Self::A1, Self::A2, Self::B1, Self::B2, Self::C];

    /// In words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::A1 => "single conductors within insulation",
            Self::A2 => "a cable within insulation",
            Self::B1 => "single conductors in conduit or a cavity",
            Self::B2 => "a cable in conduit or a cavity",
            Self::C => "open on a surface",
        }
    }

    const fn column(self) -> usize {
        self as usize
    }
}

impl fmt::Display for Method {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{self:?}")
    }
}

/// Amperes by method.
type Row = (f64, [f64; 5]);

const PVC: [Row; 11] = [
    (1.5, [14.5, 14.0, 17.5, 16.5, 19.5]),
    (2.5, [19.5, 18.5, 24.0, 23.0, 27.0]),
    (4.0, [26.0, 25.0, 32.0, 30.0, 36.0]),
    (6.0, [34.0, 32.0, 41.0, 38.0, 46.0]),
    (10.0, [46.0, 43.0, 57.0, 52.0, 63.0]),
    (16.0, [61.0, 57.0, 76.0, 69.0, 85.0]),
    (25.0, [80.0, 75.0, 101.0, 90.0, 112.0]),
    (35.0, [99.0, 92.0, 125.0, 111.0, 138.0]),
    (50.0, [119.0, 110.0, 151.0, 133.0, 168.0]),
    (70.0, [151.0, 139.0, 192.0, 168.0, 213.0]),
    (95.0, [182.0, 167.0, 232.0, 201.0, 258.0]),
];

const XLPE: [Row; 11] = [
    (1.5, [19.0, 18.5, 23.0, 22.0, 24.0]),
    (2.5, [26.0, 25.0, 31.0, 30.0, 33.0]),
    (4.0, [35.0, 33.0, 42.0, 40.0, 45.0]),
    (6.0, [45.0, 42.0, 54.0, 51.0, 58.0]),
    (10.0, [61.0, 57.0, 75.0, 69.0, 80.0]),
    (16.0, [81.0, 76.0, 100.0, 91.0, 107.0]),
    (25.0, [106.0, 99.0, 133.0, 119.0, 138.0]),
    (35.0, [131.0, 121.0, 164.0, 146.0, 171.0]),
    (50.0, [158.0, 145.0, 198.0, 175.0, 209.0]),
    (70.0, [200.0, 183.0, 253.0, 221.0, 269.0]),
    (95.0, [241.0, 220.0, 306.0, 265.0, 328.0]),
];

/// Sizes outside the rows that the formula stands in for, mm².
const THIN: [f64; 2] = [0.75, 1.0];
const THICK: [f64; 4] = [120.0, 150.0, 185.0, 240.0];

/// Share of the formula that counts above the rows.
const ABOVE: f64 = 0.95;

/// A and m of `I = A · S^m` by method, for sizes up to 16 mm².
type Curve = [(f64, f64); 5];
const PVC_THIN: Curve = [(11.2, 0.6118), (10.8, 0.6015), (13.5, 0.625), (13.1, 0.6), (15.0, 0.6218)];
const XLPE_THIN: Curve = [(14.9, 0.611), (14.46, 0.598), (17.76, 0.625), (17.25, 0.6), (18.77, 0.628)];
/// Above 16 mm² method C has a curve of its own.
const PVC_THICK_C: (f64, f64) = (15.0, 0.625);
const XLPE_THICK_C: (f64, f64) = (17.0, 0.65);

struct Table {
    rows: &'static [Row; 11],
    thin: Curve,
    thick_c: (f64, f64),
    source: &'static Citation,
}

/// Up to 70 °C the table of PVC, above it that of cross-linked insulation.
const fn table(insulation: Insulation) -> Table {
    match insulation {
        Insulation::C60 | Insulation::C70 => {
            Table { rows: &PVC, thin: PVC_THIN, thick_c: PVC_THICK_C, source: &sources::IEC_B_52_2 }
        }
        _ => Table { rows: &XLPE, thin: XLPE_THIN, thick_c: XLPE_THICK_C, source: &sources::IEC_B_52_3 },
    }
}

fn on_curve(table: &Table, area: f64, method: Method) -> f64 {
    let (factor, power) = match method {
        Method::C if area > 16.0 => table.thick_c,
        _ => table.thin[method.column()],
    };
    factor * area.powf(power)
}

/// Amperes of `size` in air of 30 °C, not grouped, with its sources; `None` below 0.75 mm². Sizes above 240 mm² take
/// that of 240 mm².
#[must_use]
pub(crate) fn two_loaded(
    size: ConductorSize,
    insulation: Insulation,
    method: Method,
) -> Option<(TableAmpacity, Vec<&'static Citation>)> {
    let table = table(insulation);
    let area = size.area().0 * (1.0 + 1e-9);
    let fits = |row: &f64| *row <= area;
    let found = |row: f64, amps: f64, cited: Vec<&'static Citation>| {
        Some((TableAmpacity { amps: Amps(amps), row: ConductorSize::Metric(row) }, cited))
    };
    if let Some(thick) = THICK.into_iter().rev().find(fits) {
        let amps = (on_curve(&table, thick, method) * ABOVE).floor();
        return found(thick, amps, vec![table.source, &sources::IEC_ANNEX_D]);
    }
    if let Some((row, amps)) = table.rows.iter().rev().find(|(row, _)| fits(row)) {
        return found(*row, amps[method.column()], vec![table.source]);
    }
    let thin = THIN.into_iter().rev().find(fits)?;
    // To half an ampere and never up, as the rows of small sizes are printed.
    let amps = (on_curve(&table, thin, method) * 2.0).floor() / 2.0;
    found(thin, amps, vec![table.source, &sources::IEC_ANNEX_D])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::reference::{num, rows};

    const TABLES: [(&str, Insulation); 2] =
        [("iec60364-b52-2-pvc2", Insulation::C70), ("iec60364-b52-3-xlpe2", Insulation::C90)];

    fn amps(area: f64, insulation: Insulation, method: Method) -> f64 {
        two_loaded(ConductorSize::Metric(area), insulation, method).expect("row").0.amps.0
    }

    /// IEC 60364-5-52 Tables B.52.2 and B.52.3, all 110 cells of the reprints.
    #[test]
    fn every_cell_is_that_of_the_standard() {
        for (name, insulation) in TABLES {
            let table = rows(name);
            assert_eq!(table.len(), PVC.len());
            for row in &table {
                for method in Method::ALL {
                    let area = num(row, "mm2");
                    let expected = num(row, &format!("I_{method}_A"));
                    let (got, cited) = two_loaded(ConductorSize::Metric(area), insulation, method).expect("row");
                    assert_eq!((got.amps, got.row), (Amps(expected), ConductorSize::Metric(area)), "{name} {method}");
                    assert_eq!(cited.len(), 1, "{area} mm² is a row of the table itself");
                }
            }
        }
    }

    /// The curves are those of Annex D: its column in the reprints' check, to their last digit, and each row of the
    /// tables within 2 %.
    #[test]
    fn curves_give_the_rows_again() {
        for (name, insulation) in TABLES {
            let table = table(insulation);
            for row in &rows(name) {
                // The tables are made with 47.5 mm², which is what a conductor named 50 mm² holds.
                let area = if (num(row, "mm2") - 50.0).abs() < 1e-9 { 47.5 } else { num(row, "mm2") };
                for method in Method::ALL {
                    let curve = on_curve(&table, area, method);
                    let published = num(row, &format!("formula_{method}"));
                    assert!(
                        (curve - published).abs() < published.mul_add(0.003, 0.05),
                        "{name} {area} {method}: {curve}, {published}"
                    );
                    assert!((curve / num(row, &format!("I_{method}_A")) - 1.0).abs() < 0.02, "{name} {area} {method}");
                }
            }
        }
    }

    /// What the curves give outside the rows goes on from them: less below, more above, and from 120 mm² on less than
    /// the curve itself.
    #[test]
    fn sizes_outside_the_rows_go_on_from_them() {
        for (_, insulation) in TABLES {
            for method in Method::ALL {
                let got = |area| amps(area, insulation, method);
                let sizes = [0.75, 1.0, 1.5, 2.5, 70.0, 95.0, 120.0, 150.0, 185.0, 240.0];
                assert!(sizes.windows(2).all(|w| got(w[0]) < got(w[1])), "{insulation:?} {method}");
                let by_area = (120.0_f64 / 95.0).powf(0.65);
                assert!(got(120.0) < got(95.0) * by_area, "{insulation:?} {method}");
            }
        }
    }

    #[test]
    fn other_sizes_take_the_next_smaller_row() {
        let row = |size| two_loaded(size, Insulation::C70, Method::B2).map(|(t, _)| (t.row.to_string(), t.amps.0));
        let is = |area: &str, amps| Some((area.to_owned(), amps));
        assert_eq!(row(ConductorSize::Metric(0.5)), None);
        assert_eq!(row(ConductorSize::Awg(14)), is("1.5 mm²", 16.5), "2.08 mm²");
        assert_eq!(row(ConductorSize::Awg(-3)), is("95 mm²", 201.0), "107 mm²");
        assert_eq!(row(ConductorSize::Metric(2.5)), is("2.5 mm²", 23.0));
        assert_eq!(row(ConductorSize::Metric(f64::NAN)), None);
        assert_eq!(
            two_loaded(ConductorSize::Metric(2.5), Insulation::C60, Method::B2).map(|(t, _)| t.amps.0),
            Some(23.0)
        );
    }
}
