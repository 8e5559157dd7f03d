//! Ampacity of a conductor where it lies: table value times the factors of its surroundings.

use crate::tables::ampacity::{TableAmpacity, table_5};
use crate::tables::ampacity_rule::AmpacityRule;
use crate::tables::citation::Citation;
use crate::tables::iec60364::{self, Method};
use crate::tables::insulation::Insulation;
use crate::tables::{bundling, engine_space, iec60364_factors, sources};
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

/// What touches a conductor on its way; the worst stretch counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Lies {
    /// Open on a surface.
    Open,
    /// In a conduit, a duct or a cavity.
    Enclosed,
    /// Within thermal insulation.
    Insulated,
}

/// The method of installation of IEC 60364-5-52, of a conductor by itself or in a `cable`, a jacket with others. A cable
/// in a conduit carries less than single conductors in one.
#[must_use]
pub const fn method(lies: Lies, cable: bool) -> Method {
    match (lies, cable) {
        (Lies::Open, _) => Method::C,
        (Lies::Enclosed, false) => Method::B1,
        (Lies::Enclosed, true) => Method::B2,
        (Lies::Insulated, false) => Method::A1,
        (Lies::Insulated, true) => Method::A2,
    }
}

/// How a conductor is installed.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Installation {
    /// Tables in force.
    pub rule: AmpacityRule,
    /// Method by which it is laid; the US table knows of none.
    pub method: Method,
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
    /// Tables it was read from.
    pub rule: AmpacityRule,
    /// Method of installation it was read for, where the tables have any.
    pub method: Option<Method>,
    /// Row it was read from.
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

impl Ampacity {
    /// The table, and the method of installation where it has any: "IEC 60364-5-52, method B2".
    #[must_use]
    pub fn table_words(&self) -> String {
        let method = self.method.map_or_else(String::new, |m| format!(", method {m}"));
        format!("{}{method}", self.rule.name())
    }
}

/// A factor and, where it is not 1, its source.
type Factor = (Ratio, Option<&'static Citation>);

/// What a conductor of `size` may carry for good as installed; `None` below 18 AWG (0.823 mm²) by 33 CFR, below 0.75 mm²
/// by IEC 60364-5-52, where the tables end.
#[must_use]
pub fn ampacity(size: ConductorSize, installation: &Installation) -> Option<Ampacity> {
    let Installation { rule, method, insulation, surroundings, bundled, volts, bundle_at_all_voltages } = *installation;
    let (table, mut cited) = from_table(size, installation)?;
    let (ambient_factor, of_air) = for_air(rule, insulation, surroundings);
    cited.extend(of_air);
    let bundle_factor = for_bundle(rule, bundled, volts, bundle_at_all_voltages);
    if bundle_factor.0 < 1.0 {
        cited.push(rule.bundling());
    }
    Some(Ampacity {
        size,
        rule,
        method: (rule == AmpacityRule::Iec).then_some(method),
        row: table.row,
        insulation,
        table: table.amps,
        ambient: surroundings.ambient(),
        ambient_factor,
        bundled,
        bundle_factor,
        corrected: table.amps * (ambient_factor.0 * bundle_factor.0),
        sources: cited,
    })
}

fn from_table(size: ConductorSize, installation: &Installation) -> Option<(TableAmpacity, Vec<&'static Citation>)> {
    match installation.rule {
        AmpacityRule::Cfr => Some((table_5(size, installation.insulation)?, vec![&sources::CFR_TABLE_5])),
        AmpacityRule::Iec => iec60364::two_loaded(size, installation.insulation, installation.method),
    }
}

fn for_air(rule: AmpacityRule, insulation: Insulation, surroundings: Surroundings) -> Factor {
    let ambient = surroundings.ambient();
    if rule == AmpacityRule::Iec {
        return iec60364_factors::ambient(insulation, ambient);
    }
    let physics = engine_space::ambient_factor(insulation, ambient);
    match surroundings {
        Surroundings::Air(_) => (physics, (physics.0 < 1.0).then_some(&sources::HEAT_BALANCE)),
        Surroundings::EngineSpace(_) => {
            let note = engine_space::note_1(insulation);
            let source = if note.factor.0 <= physics.0 { note.source } else { &sources::HEAT_BALANCE };
            (note.factor.min(physics), Some(source))
        }
    }
}

/// Share of its ampacity left to each of `conductors` loaded conductors that lie together.
#[must_use]
pub fn for_bundle(rule: AmpacityRule, conductors: u32, volts: Volts, at_all_voltages: bool) -> Ratio {
    match rule {
        AmpacityRule::Cfr => bundling::factor(conductors, volts, at_all_voltages),
        // Heat does not know the voltage, and neither does the standard.
        AmpacityRule::Iec => iec60364_factors::grouping(conductors),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::compute::electrical::resistance::per_metre;
    use crate::tables::conductor_series::{Finish, Series};

    const CABIN: Installation = Installation {
        rule: AmpacityRule::Cfr,
        method: Method::C,
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

    /// IEC 60364-5-52: 2.5 mm² in PVC by method B2 carries 23 A (B.52.2); at 50 °C 0.71 of it (B.52.14), two circuits
    /// together 0.8 of that (B.52.17), at 230 V and at 12 V alike.
    #[test]
    fn metric_conductors_have_the_products_of_the_iec() {
        let wall = Installation {
            rule: AmpacityRule::Iec,
            method: method(Lies::Enclosed, true),
            insulation: Insulation::C70,
            volts: Volts(230.0),
            ..CABIN
        };
        let of = |installation| ampacity(ConductorSize::Metric(2.5), &installation).expect("row");
        assert!((of(wall).corrected.0 - 23.0).abs() < 1e-9);
        let hot = Installation { surroundings: Surroundings::EngineSpace(Celsius(40.0)), bundled: 4, ..wall };
        for installation in [hot, Installation { volts: Volts(12.0), bundle_at_all_voltages: false, ..hot }] {
            let got = of(installation);
            assert!((got.corrected.0 - 23.0 * 0.71 * 0.8).abs() < 1e-9, "{got:?}");
            let ids: Vec<_> = got.sources.iter().map(|s| s.id).collect();
            assert_eq!(ids, ["iec-60364-5-52-b-52-2", "iec-60364-5-52-b-52-14", "iec-60364-5-52-b-52-17"]);
        }
        assert_eq!(of(wall).table_words(), "IEC 60364-5-52, method B2");
        let open = Installation { method: method(Lies::Open, false), insulation: Insulation::C90, ..wall };
        assert!((of(open).corrected.0 - 33.0).abs() < 1e-9, "B.52.3, method C");
    }

    /// The deeper a conductor lies, the less it carries; a cable carries no more than single conductors there.
    #[test]
    fn what_surrounds_a_conductor_takes_ampacity_from_it() {
        let amps = |lies, cable| {
            let installed = Installation {
                rule: AmpacityRule::Iec,
                method: method(lies, cable),
                insulation: Insulation::C90,
                ..CABIN
            };
            ampacity(ConductorSize::Metric(6.0), &installed).expect("row").corrected.0
        };
        for cable in [false, true] {
            let falling = [Lies::Open, Lies::Enclosed, Lies::Insulated].map(|lies| amps(lies, cable));
            assert!(falling.windows(2).all(|w| w[0] > w[1]), "{falling:?}");
        }
        for lies in [Lies::Open, Lies::Enclosed, Lies::Insulated] {
            assert!(amps(lies, true) <= amps(lies, false), "{lies:?}");
        }
    }
}
