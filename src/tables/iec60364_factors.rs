//! IEC 60364-5-52 Tables B.52.14 and B.52.17: factors for warm air and for circuits that lie together.
//! Sources: [`super::sources::IEC_B_52_14`], [`super::sources::IEC_B_52_17`].

use super::citation::Citation;
use super::insulation::Insulation;
use super::sources;
use crate::units::{Celsius, Ratio};

/// Temperature of the air, factor of PVC (70 °C), factor of cross-linked insulation (90 °C); above 30 °C.
const AMBIENT: [(f64, Option<f64>, f64); 10] = [
    (35.0, Some(0.94), 0.96),
    (40.0, Some(0.87), 0.91),
    (45.0, Some(0.79), 0.87),
    (50.0, Some(0.71), 0.82),
    (55.0, Some(0.61), 0.76),
    (60.0, Some(0.50), 0.71),
    (65.0, None, 0.65),
    (70.0, None, 0.58),
    (75.0, None, 0.50),
    (80.0, None, 0.41),
];

/// Air of the tables, °C.
const REFERENCE_AMBIENT: f64 = 30.0;

/// Factor for air of `ambient`, and its source where it is not 1. Between the rows of the table, above them, and for
/// insulation that stands less than PVC the heat balance counts, which gives the rows within 0.005. Cold gives no bonus,
/// as the conductor also has to serve in summer.
#[must_use]
pub(crate) fn ambient(insulation: Insulation, ambient: Celsius) -> (Ratio, Option<&'static Citation>) {
    let (pvc, base) = match insulation {
        Insulation::C60 | Insulation::C70 => (true, 70.0),
        _ => (false, 90.0),
    };
    let limit = insulation.limit().0.min(base);
    let low = limit < base;
    if !low && ambient.0 <= REFERENCE_AMBIENT {
        return (Ratio(1.0), None);
    }
    let row = AMBIENT.iter().find(|(air, _, _)| (air - ambient.0).abs() < 1e-9 && !low);
    if let Some(factor) = row.and_then(|(_, of_pvc, of_xlpe)| if pvc { *of_pvc } else { Some(*of_xlpe) }) {
        return (Ratio(factor), Some(&sources::IEC_B_52_14));
    }
    let share = (limit - ambient.0.max(REFERENCE_AMBIENT)) / (base - REFERENCE_AMBIENT);
    // A temperature that is no number leaves no ampacity.
    let share = if share.is_finite() && ambient.0.is_finite() { share.clamp(0.0, 1.0).sqrt() } else { 0.0 };
    (Ratio(share), Some(&sources::HEAT_BALANCE))
}

/// Circuits, factor: item 1, bunched in air, on a surface, embedded or enclosed.
const BUNCHED: [(u32, f64); 12] = [
    (1, 1.0),
    (2, 0.80),
    (3, 0.70),
    (4, 0.65),
    (5, 0.60),
    (6, 0.57),
    (7, 0.54),
    (8, 0.52),
    (9, 0.50),
    (12, 0.45),
    (16, 0.41),
    (20, 0.38),
];

/// Share of the ampacity left to each of `conductors` loaded conductors in one bunch: two make a circuit. Between two
/// columns the one of more circuits counts. Above 20 circuits, where the table ends, all together give off as much heat
/// as 20 do.
#[must_use]
pub(crate) fn grouping(conductors: u32) -> Ratio {
    let circuits = conductors.div_ceil(2).max(1);
    let listed = BUNCHED.iter().find(|(most, _)| circuits <= *most).map(|(_, factor)| *factor);
    Ratio(listed.unwrap_or_else(|| 0.38 * (20.0 / f64::from(circuits)).sqrt()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::reference::{num, rows};

    /// IEC 60364-5-52 Table B.52.14.
    #[test]
    fn warm_air_has_the_factors_of_the_standard() {
        let mut held = 0;
        for row in &rows("iec60364-b52-14-ambient") {
            let air = num(row, "ambient_C");
            for (column, insulation) in [("pvc70", Insulation::C70), ("xlpe90", Insulation::C90)] {
                let Ok(published) = row[column].parse::<f64>() else { continue };
                let (got, source) = ambient(insulation, Celsius(air));
                // Cold gives no bonus.
                assert!((got.0 - published.min(1.0)).abs() < 1e-12, "{air} °C {column}: {got:?}");
                assert_eq!(source.is_some(), air > 30.0);
                held += 1;
            }
        }
        assert_eq!(held, 26);
    }

    /// Between its rows: √((Tc − Ta)/(Tc − 30 °C)), as the columns `formula_…` have it. Lower insulation has less of it.
    #[test]
    fn other_air_goes_by_the_heat_balance() {
        let factor = |insulation, air| ambient(insulation, Celsius(air)).0.0;
        assert!((factor(Insulation::C70, 52.0) - (18.0_f64 / 40.0).sqrt()).abs() < 1e-12);
        assert!((factor(Insulation::C90, 85.0) - (5.0_f64 / 60.0).sqrt()).abs() < 1e-12);
        assert!((factor(Insulation::C60, 30.0) - (30.0_f64 / 40.0).sqrt()).abs() < 1e-12);
        assert!((factor(Insulation::C60, 50.0) - (10.0_f64 / 40.0).sqrt()).abs() < 1e-12);
        for air in [70.0, 200.0, f64::NAN, f64::INFINITY] {
            assert!(factor(Insulation::C70, air).abs() < 1e-12, "{air}");
        }
        assert!((factor(Insulation::C60, -20.0) - (30.0_f64 / 40.0).sqrt()).abs() < 1e-12, "cold gives no bonus");
    }

    /// IEC 60364-5-52 Table B.52.17, item 1.
    #[test]
    fn bunches_have_the_factors_of_the_standard() {
        let table = rows("iec60364-b52-17-grouping");
        let bunched: Vec<_> = table.iter().filter(|r| r["item"].starts_with('1')).collect();
        assert_eq!(bunched.len(), BUNCHED.len());
        let mut before = 1;
        for row in bunched {
            let circuits: u32 = row["circuits"].parse().expect("count");
            // From one more than the column before, in whole circuits and in odd conductors.
            for conductors in [before * 2 - 1, circuits * 2 - 1, circuits * 2] {
                assert_eq!(grouping(conductors), Ratio(num(row, "factor")), "{conductors} conductors");
            }
            before = circuits + 1;
        }
        assert_eq!(grouping(0), Ratio(1.0));
        assert!(grouping(42).0 < 0.38 && (grouping(160).0 - 0.19).abs() < 1e-12);
    }
}
