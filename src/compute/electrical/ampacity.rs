//! Ampacity of a conductor where it lies: table value times the factors of its surroundings.

use crate::tables::ampacity::table_5;
use crate::tables::citation::Citation;
use crate::tables::insulation::Insulation;
use crate::tables::{bundling, engine_space, sources};
use crate::units::{Amps, Celsius, ConductorSize, Ratio, Volts};
use serde::Serialize;

/// Where a conductor lies.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Surroundings {
    /// In air of this temperature.
    Air(Celsius),
    /// In an engine space of this temperature: the stricter of note 1 and the heat balance.
    EngineSpace(Celsius),
}

impl Surroundings {
    /// Temperature of the air.
    #[must_use]
    pub const fn ambient(self) -> Celsius {
        match self {
            Self::Air(ambient) => ambient,
            // Note 1 stands for 50 °C; a lower figure does not make its factor larger.
            Self::EngineSpace(ambient) if ambient.0 > engine_space::ENGINE_SPACE_AMBIENT => ambient,
            Self::EngineSpace(_) => Celsius(engine_space::ENGINE_SPACE_AMBIENT),
        }
    }
}

/// How a conductor is installed.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Installation {
    /// Class of its insulation.
    pub insulation: Insulation,
    /// What lies around it; the warmest stretch counts.
    pub surroundings: Surroundings,
    /// Current-carrying conductors that lie together with it, itself included; up to 2 need no factor.
    pub bundled: u32,
    /// Nominal voltage of the circuit.
    pub volts: Volts,
    /// Whether the bundling factor applies below 50 V as well.
    pub bundle_at_all_voltages: bool,
}

/// An ampacity with all it was made of.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Ampacity {
    /// The conductor.
    pub size: ConductorSize,
    /// Row of Table 5 it was read from.
    pub row: ConductorSize,
    /// Class of the insulation.
    pub insulation: Insulation,
    /// Value of the table, at 30 °C and not bundled.
    pub table: Amps,
    /// Temperature of the air.
    pub ambient: Celsius,
    /// Factor for the air.
    pub ambient_factor: Ratio,
    /// Conductors in the bundle.
    pub bundled: u32,
    /// Factor for the bundle.
    pub bundle_factor: Ratio,
    /// What the conductor may carry where it lies.
    pub corrected: Amps,
    /// Sources of the table and of the factors that are not 1.
    pub sources: Vec<&'static Citation>,
}

/// What a conductor of `size` may carry for good as installed; `None` below 18 AWG (0.823 mm²), where the table ends.
#[must_use]
pub fn ampacity(size: ConductorSize, installation: &Installation) -> Option<Ampacity> {
    let Installation { insulation, surroundings, bundled, volts, bundle_at_all_voltages } = *installation;
    let table = table_5(size, insulation)?;
    let mut cited: Vec<&'static Citation> = vec![&sources::CFR_TABLE_5];
    let ambient = surroundings.ambient();
    let physics = engine_space::ambient_factor(insulation, ambient);
    let ambient_factor = match surroundings {
        Surroundings::Air(_) => {
            if physics.0 < 1.0 {
                cited.push(&sources::HEAT_BALANCE);
            }
            physics
        }
        Surroundings::EngineSpace(_) => {
            let note = engine_space::note_1(insulation);
            cited.push(if note.factor.0 <= physics.0 { note.source } else { &sources::HEAT_BALANCE });
            note.factor.min(physics)
        }
    };
    let bundle_factor = bundling::factor(bundled, volts, bundle_at_all_voltages);
    if bundle_factor.0 < 1.0 {
        cited.push(&sources::CFR_BUNDLING);
    }
    Some(Ampacity {
        size,
        row: table.row,
        insulation,
        table: table.amps,
        ambient,
        ambient_factor,
        bundled,
        bundle_factor,
        corrected: table.amps * (ambient_factor.0 * bundle_factor.0),
        sources: cited,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::compute::electrical::resistance::per_metre;
    use crate::tables::conductor_series::{Finish, Series};

    const CABIN: Installation = Installation {
        insulation: Insulation::C105,
        surroundings: Surroundings::Air(Celsius(30.0)),
        bundled: 2,
        volts: Volts(12.8),
        bundle_at_all_voltages: false,
    };

    fn corrected(gauge: i8, installation: Installation) -> f64 {
        ampacity(ConductorSize::Awg(gauge), &installation).expect("row").corrected.0
    }

    /// 33 CFR 183.425 note 1: 35 A × 0.85; note 2 on 14 AWG of 105 °C: 24.5, 21 and 17.5 A.
    #[test]
    fn published_products_come_out() {
        assert!((corrected(14, CABIN) - 35.0).abs() < 1e-9);
        let engine = Installation { surroundings: Surroundings::EngineSpace(Celsius(50.0)), ..CABIN };
        assert!((corrected(14, engine) - 29.75).abs() < 1e-9);
        for (bundled, amps) in [(3, 24.5), (6, 21.0), (24, 17.5)] {
            let shore = Installation { bundled, volts: Volts(120.0), ..CABIN };
            assert!((corrected(14, shore) - amps).abs() < 1e-9, "{bundled}");
            assert!((corrected(14, Installation { bundled, ..CABIN }) - 35.0).abs() < 1e-9, "12 V has no factor");
            let house = Installation { bundled, bundle_at_all_voltages: true, ..CABIN };
            assert!((corrected(14, house) - amps).abs() < 1e-9, "the house rule has one");
        }
    }

    #[test]
    fn sources_name_every_factor_that_counts() {
        let all = Installation {
            surroundings: Surroundings::EngineSpace(Celsius(60.0)),
            bundled: 4,
            bundle_at_all_voltages: true,
            ..CABIN
        };
        let got = ampacity(ConductorSize::Metric(6.0), &all).expect("row");
        let ids: Vec<_> = got.sources.iter().map(|s| s.id).collect();
        assert_eq!(ids, ["33-cfr-183-425-table-5", "ampacity-heat-balance", "33-cfr-183-425-note-2"]);
        assert_eq!((got.row, got.ambient), (ConductorSize::Awg(10), Celsius(60.0)));
        let cabin = ampacity(ConductorSize::Awg(10), &CABIN).expect("row");
        assert_eq!(cabin.sources, [&sources::CFR_TABLE_5]);
        let cool = Installation { surroundings: Surroundings::EngineSpace(Celsius(30.0)), ..CABIN };
        assert!((corrected(10, cool) - 51.0).abs() < 1e-9, "note 1 holds however cool the spec says it is");
    }

    /// A metric conductor at the resistance limit of its standard should carry at most 3 % less than the row it takes,
    /// which is what the head of `tables::ampacity` says.
    #[test]
    fn the_row_a_metric_size_takes_is_near_its_own_resistance() {
        for size in Series::Metric.stocked() {
            let Some(found) = ampacity(*size, &CABIN) else { continue };
            let ohms = |size| per_metre(size, Finish::Plain, Celsius(20.0)).0;
            assert!((ohms(found.row) / ohms(*size)).sqrt() > 0.97, "{size} in the row of {}", found.row);
        }
    }
}
