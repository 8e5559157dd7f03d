//! The heat figures of a build, each entered in the ledger.

use super::{Burnt, Cooling, FuelSupply, Held, Run, air, envelope, of_cooling, of_fuel, of_pipes, psychrometrics};
use crate::build::{Build, Part};
use crate::compute::formulas::heat as f;
use crate::compute::ledger::{Amount, Ledger, at_least};
use crate::compute::network::Electrical;
use crate::fields::Field;
use crate::kinds::ThermalRole;
use crate::spec::Climate;
use crate::units::{Celsius, Dimension, Watts, significant};
use indexmap::IndexMap;
use serde::Serialize;

/// Height of a van inside where its volume is not given, m. Source: [`crate::tables::sources::AIR_CHANGE`].
const HEIGHT: f64 = 1.8;

/// What it is like outside in one season.
#[derive(Clone, Debug, Serialize)]
pub struct Outdoors {
    /// Id of the climate.
    pub climate: String,
    /// Temperature, °C.
    pub celsius: f64,
    /// Relative humidity, a share.
    pub humidity: f64,
    /// Height above the sea, m.
    pub altitude: f64,
}

/// A surface that heat passes.
#[derive(Clone, Debug, Serialize)]
pub struct Surface {
    /// `shell.<id>` or the id of a window.
    pub id: String,
    /// Area, m².
    pub area: f64,
    /// W/(m²K).
    pub u_value: f64,
    /// Which way it faces.
    pub faces: Option<String>,
    /// Temperature of its inner face at the design low, °C.
    pub inner: Option<f64>,
    /// Share of the sun on it that comes in.
    pub solar_gain: Option<f64>,
}

/// The heat figures.
#[derive(Clone, Debug, Default, Serialize)]
pub struct Heat {
    /// The coldest usual night of all climates.
    pub coldest: Option<Outdoors>,
    /// The lowest temperature on record of all climates, °C; `None` where none is colder than the usual ones.
    pub record_low: Option<f64>,
    /// Temperature held inside, °C.
    pub inside: f64,
    /// Surfaces with a U-value, windows included.
    pub surfaces: Vec<Surface>,
    /// Surfaces of the shell of which too little is given.
    pub unknown: Vec<String>,
    /// Loss through the surfaces, W/K. `None` where no surface is known.
    pub transmission: Option<f64>,
    /// Air inside, m³.
    pub volume: Option<f64>,
    /// Loss with the air at the design low, W/K.
    pub infiltration: Option<f64>,
    /// Loss at the design low, W.
    pub loss: Option<f64>,
    /// Dew point of the air inside, °C.
    pub dew_point: Option<f64>,
    /// Heat output of all heaters, W.
    pub output: Option<f64>,
    /// Fuel of the heaters by id.
    pub heaters: IndexMap<String, Burnt>,
    /// Fuels by name: need and supply.
    pub fuels: IndexMap<String, FuelSupply>,
    /// Cooling on the hottest usual day.
    pub cooling: Option<Cooling>,
    /// Pipe runs that hold water, by id.
    pub runs: IndexMap<String, Run>,
    /// Heat trace by id.
    pub traces: IndexMap<String, Held>,
    /// Tank pads by id.
    pub pads: IndexMap<String, Held>,
}

/// Parts that play `role`.
pub(crate) fn of_role<'a>(build: &'a Build<'_>, role: ThermalRole) -> impl Iterator<Item = &'a Part<'a>> {
    build.parts.values().filter(move |p| p.kind.thermal.is_some_and(|t| t.role == role))
}

/// A climate at one of its temperatures.
pub(super) fn outdoors(id: &str, climate: &Climate, celsius: &Field<Celsius>) -> Option<Outdoors> {
    Some(Outdoors {
        climate: id.to_owned(),
        celsius: celsius.get()?.0,
        humidity: climate.humidity.get().map_or(0.7, |r| r.0),
        altitude: climate.altitude.get().map_or(0.0, |m| m.0),
    })
}

impl Outdoors {
    pub(super) fn air(&self) -> air::Outside {
        air::Outside { celsius: self.celsius, humidity: self.humidity, altitude: self.altitude }
    }
}

/// The lowest usual temperature of all climates and the lowest on record, °C. The latter is left out where it is no
/// colder.
#[must_use]
pub fn lows(build: &Build<'_>) -> (Option<f64>, Option<f64>) {
    let lowest = |of: fn(&Climate) -> &Field<Celsius>| {
        build.climates.values().filter_map(|c| of(c).get()).map(|t| t.0).reduce(f64::min)
    };
    let usual = lowest(|c| &c.low);
    (usual, lowest(|c| &c.record_low).filter(|record| usual.is_none_or(|usual| *record < usual)))
}

impl Heat {
    /// Computes the heat of `build`; every figure is entered in `ledger`.
    #[must_use]
    pub fn compute(build: &Build<'_>, electrical: &Electrical, ledger: &mut Ledger) -> Self {
        let usage = &build.usage;
        let climates = build.climates.iter().filter_map(|(id, c)| outdoors(id, c, &c.low));
        let coldest = climates.reduce(|a, b| if b.celsius < a.celsius { b } else { a });
        let record_low = lows(build).1;
        let mut heat = Self {
            coldest,
            record_low,
            inside: usage.inside_temperature.get().map_or(20.0, |t| t.0),
            ..Self::default()
        };
        heat.surfaces(build);
        heat.losses(build, ledger);
        heat.dew(build, ledger);
        of_fuel::fuel(&mut heat, build, ledger);
        of_cooling::cooling(&mut heat, build, electrical, ledger);
        of_pipes::pipes(&mut heat, build, ledger);
        heat
    }

    fn surfaces(&mut self, build: &Build<'_>) {
        for (id, record) in &build.shell {
            let faces = record.faces.text().map(str::to_owned);
            let area = record.area.get().map(|a| a.0);
            match area.zip(u_value_of(record, faces.as_deref())) {
                Some((area, u_value)) => {
                    let solar_gain = record.solar_gain.get().map(|r| r.0);
                    self.surfaces.push(Surface {
                        id: format!("shell.{id}"),
                        area,
                        u_value,
                        faces,
                        inner: None,
                        solar_gain,
                    });
                }
                None => self.unknown.push(id.clone()),
            }
        }
        self.surfaces.extend(of_role(build, ThermalRole::Window).filter_map(|w| window(build, w)));
        let Some(coldest) = &self.coldest else { return };
        for surface in &mut self.surfaces {
            let resistance = envelope::inside_resistance(surface.faces.as_deref());
            surface.inner = Some(envelope::inner_face(surface.u_value, resistance, self.inside, coldest.celsius));
        }
    }

    fn losses(&mut self, build: &Build<'_>, ledger: &mut Ledger) {
        for s in &self.surfaces {
            let inputs = vec![
                Amount::Of(Dimension::Area, s.area),
                Amount::Of(Dimension::HeatTransfer, s.u_value),
                Amount::Of(Dimension::ThermalResistance, envelope::inside_resistance(s.faces.as_deref())),
            ];
            ledger.enter(&f::SURFACE, &s.id, per_kelvin(s.area * s.u_value), inputs, None);
        }
        if !self.surfaces.is_empty() && !build.shell.is_empty() {
            self.transmission = Some(self.surfaces.iter().map(|s| s.area * s.u_value).sum());
        }
        let floors = self.surfaces.iter().filter(|s| s.faces.as_deref() == Some("down")).map(|s| s.area);
        let floor: f64 = floors.sum();
        let given = build.vehicle.inside_volume.get().map(|l| l.0 / 1000.0);
        self.volume = given.or_else(|| (floor > 0.0).then_some(floor * HEIGHT));
        let Some(coldest) = self.coldest.clone() else { return };
        let changes = build.usage.air_change.get().map_or(1.0, |r| r.0);
        self.infiltration = self.volume.and_then(|v| air::per_kelvin(v, changes, &coldest.air()));
        if let (Some(ua), Some(volume)) = (self.infiltration, self.volume) {
            let density = coldest.air().density().unwrap_or_default();
            let inputs = vec![
                Amount::Of(Dimension::Density, density),
                Amount::Word(format!("{} per h", significant(changes, 3))),
                Amount::Of(Dimension::Volume, volume * 1000.0),
            ];
            ledger.enter(&f::INFILTRATION, "heat", per_kelvin(ua), inputs, None);
        }
        let Some(transmission) = self.transmission else { return };
        let difference = (self.inside - coldest.celsius).max(0.0);
        let loss = (transmission + self.infiltration.unwrap_or(0.0)) * difference;
        self.loss = Some(loss);
        let heaters: Vec<_> = of_role(build, ThermalRole::Heater).collect();
        let output: f64 = heaters.iter().filter_map(|p| Some(p.roles.heat_output().get()?.0 * p.times())).sum();
        self.output = (!heaters.is_empty()).then_some(output);
        let inputs = vec![
            per_kelvin(transmission),
            per_kelvin(self.infiltration.unwrap_or(0.0)),
            Amount::Of(Dimension::Temperature, self.inside),
            Amount::Of(Dimension::Temperature, coldest.celsius),
        ];
        ledger.enter(&f::HEAT_LOSS, "heat", Watts(loss), inputs, None);
        if let Some(output) = self.output {
            ledger.enter(&f::HEATER, "heat", Watts(output), vec![Watts(loss).into()], Some(at_least(Watts(loss))));
        }
    }

    fn dew(&mut self, build: &Build<'_>, ledger: &mut Ledger) {
        let humidity = build.usage.inside_humidity.get().map_or(0.5, |r| r.0);
        let Some(coldest) = &self.coldest else { return };
        if self.surfaces.is_empty() || coldest.celsius >= self.inside {
            return;
        }
        self.dew_point = psychrometrics::dew_point(self.inside, humidity);
        let Some(dew) = self.dew_point else { return };
        let celsius = |t: f64| Amount::Of(Dimension::Temperature, t);
        for s in &self.surfaces {
            let Some(inner) = s.inner else { continue };
            let inputs = vec![celsius(self.inside), crate::units::Ratio(humidity).into(), celsius(coldest.celsius)];
            ledger.enter(&f::INNER_FACE, &s.id, celsius(inner), inputs, Some(at_least(celsius(dew))));
        }
    }
}

pub(super) const fn per_kelvin(value: f64) -> Amount {
    Amount::Of(Dimension::HeatLoss, value)
}

fn u_value_of(record: &crate::spec::Surface, faces: Option<&str>) -> Option<f64> {
    record.u_value.get().map(|u| u.0).or_else(|| {
        let thickness = record.thickness.get()?.0;
        let conductivity = record.conductivity.get()?.0;
        envelope::u_value(envelope::inside_resistance(faces), &[(thickness, conductivity)], envelope::OUTSIDE)
    })
}

/// A window with what covers it at night.
fn window(build: &Build<'_>, part: &Part<'_>) -> Option<Surface> {
    let area = part.roles.glazed_area().get().map(|q| q.0)? * part.times();
    let bare = part.roles.heat_loss().get()?.0;
    let mut u_value = bare;
    if area > 0.0 {
        for cover in of_role(build, ThermalRole::Cover) {
            let covered = cover.roles.window().all();
            if !covered.iter().any(|w| w.value == part.id) {
                continue;
            }
            let (Some(whole), Some(u)) = (cover.roles.area().get().map(|q| q.0), cover.roles.heat_loss().get()) else {
                continue;
            };
            let panes: f64 = covered
                .iter()
                .filter_map(|w| build.parts.get(&w.value))
                .filter_map(|w| Some(w.roles.glazed_area().get().map(|q| q.0)? * w.times()))
                .sum();
            let share = (whole * cover.times() / panes.max(1e-9)).min(1.0);
            u_value = u_value.min(envelope::parallel(bare, u.0, share));
        }
    }
    let faces = part.roles.side().text().map(|s| match s {
        "roof" => "up".to_owned(),
        "cab" => "front".to_owned(),
        other => other.to_owned(),
    });
    let solar_gain = part.roles.solar_gain().get().map(|r| r.0);
    Some(Surface { id: part.id.clone(), area, u_value, faces, inner: None, solar_gain })
}
