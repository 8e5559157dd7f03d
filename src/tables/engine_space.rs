//! 33 CFR 183.425 Table 5 note 1: factors for engine spaces, and for any other air temperature.

use super::ampacity::REFERENCE_AMBIENT;
use super::citation::Citation;
use super::insulation::Insulation;
use super::sources;
use crate::units::{Celsius, Ratio};
use serde::Serialize;

/// Air temperature note 1 stands for, °C.
pub(crate) const ENGINE_SPACE_AMBIENT: f64 = 50.0;

/// A factor and where it comes from.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub(crate) struct EngineSpaceFactor {
    /// Share of the table's ampacity that is left, 0 to 1.
    pub factor: Ratio,
    /// Its source.
    pub source: &'static Citation,
}

/// Note 1 as printed (105 °C) or as remembered (the others).
const fn remembered(insulation: Insulation) -> f64 {
    match insulation {
        Insulation::C60 | Insulation::C70 => 0.58,
        Insulation::C75 => 0.75,
        Insulation::C80 => 0.78,
        Insulation::C90 => 0.82,
        Insulation::C105 => 0.85,
        Insulation::C125 => 0.89,
        Insulation::C200 => 1.0,
    }
}

/// Factor of note 1. Only the one of 105 °C was read in a reprint; for the others the heat balance stands in
/// wherever it is the smaller, so that no value rests on memory alone.
#[must_use]
pub(crate) fn note_1(insulation: Insulation) -> EngineSpaceFactor {
    let note = remembered(insulation);
    if insulation == Insulation::C105 {
        return EngineSpaceFactor { factor: Ratio(note), source: &sources::CFR_ENGINE_SPACE };
    }
    let physics = ambient_factor(insulation, Celsius(ENGINE_SPACE_AMBIENT)).0;
    let source = if physics <= note { &sources::HEAT_BALANCE } else { &sources::CFR_ENGINE_SPACE_MEMORY };
    EngineSpaceFactor { factor: Ratio(note.min(physics)), source }
}

/// Factor for air of `ambient`: `√((Tc − Ta)/(Tc − 30 °C))`. 1 at and below 30 °C (cold gives no bonus, as the
/// conductor also has to serve in summer), 0 at and above the insulation's limit.
/// Source: [`sources::HEAT_BALANCE`].
#[must_use]
pub(crate) fn ambient_factor(insulation: Insulation, ambient: Celsius) -> Ratio {
    let limit = insulation.limit().0;
    let share = (limit - ambient.0) / (limit - REFERENCE_AMBIENT);
    // NaN clamps to NaN; a temperature that is no number leaves no ampacity.
    Ratio(if share.is_finite() { share.clamp(0.0, 1.0).sqrt() } else { 0.0 })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::reference::{num, rows};

    #[test]
    fn factors_are_the_smaller_of_note_and_physics() {
        let table = rows("cfr-33-183-425-table5-notes");
        for class in Insulation::CFR {
            let key = format!("t{}C", class.limit().0);
            let row = table.iter().find(|r| r["key"] == key).expect("row");
            let (note, physics) = (num(row, "factor"), num(row, "physics_check_sqrt"));
            let expected = if row["status"] == "verified" { note } else { note.min(physics) };
            let got = note_1(*class);
            assert!((got.factor.0 - expected).abs() < 5e-5, "{class:?}");
            assert!(got.source.status.may_carry_error(), "{class:?} rests on memory");
        }
    }

    #[test]
    fn air_temperature_leaves_between_nothing_and_all() {
        let factor = |ambient| ambient_factor(Insulation::C105, Celsius(ambient)).0;
        assert!((factor(30.0) - 1.0).abs() < 1e-12);
        assert!((factor(-20.0) - 1.0).abs() < 1e-12);
        assert!((factor(50.0) - 0.8563).abs() < 5e-5);
        assert!((factor(105.0)).abs() < 1e-12 && factor(200.0).abs() < 1e-12 && factor(f64::NAN).abs() < 1e-12);
    }
}
