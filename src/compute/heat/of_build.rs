//! The heat figures of a build, each entered in the ledger.

use super::figures::{Heat, Surface, lows, of_role, outdoors};
use super::{air, envelope, of_cooling, of_fuel, of_pipes, psychrometrics};
use crate::build::{Build, Part};
use crate::compute::formulas::heat as f;
use crate::compute::ledger::{Amount, Ledger, at_least};
use crate::compute::network::Electrical;
use crate::kinds::ThermalRole;
use crate::units::{Dimension, Watts, significant};

/// Height of a van inside where its volume is not given, m. Source: [`crate::tables::sources::AIR_CHANGE`].
const HEIGHT: f64 = 1.8;

impl Heat {
    /// Computes the heat of `build`; every figure is entered in `ledger`.
    #[must_use]
    pub fn compute(build: &Build<'_>, electrical: &Electrical, ledger: &mut Ledger) -> Self {
        // Declared with a default: where it is missing it cannot be read, and a finding says so.
        let Some(inside) = build.usage.inside_temperature.get().map(|t| t.0) else { return Self::default() };
        let climates = build.climates.iter().filter_map(|(id, c)| outdoors(id, c, &c.low));
        let coldest = climates.reduce(|a, b| if b.celsius < a.celsius { b } else { a });
        let record_low = lows(build).1;
        let mut heat = Self { coldest, record_low, inside, ..Self::default() };
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
        let (Some(coldest), Some(changes)) = (self.coldest.clone(), build.usage.air_change.get()) else { return };
        let changes = changes.0;
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
        let (Some(coldest), Some(humidity)) = (&self.coldest, build.usage.inside_humidity.get()) else { return };
        if self.surfaces.is_empty() || coldest.celsius >= self.inside {
            return;
        }
        self.dew_point = psychrometrics::dew_point(self.inside, humidity.0);
        let Some(dew) = self.dew_point else { return };
        let celsius = |t: f64| Amount::Of(Dimension::Temperature, t);
        for s in &self.surfaces {
            let Some(inner) = s.inner else { continue };
            let inputs = vec![celsius(self.inside), humidity.into(), celsius(coldest.celsius)];
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
