//! The heat figures of a build, each entered in the ledger.

use super::figures::{Heat, Outdoors, lows, of_role};
use super::{air, closed, envelope, of_gas, of_pipes, of_surfaces, vents};
use crate::build::Build;
use crate::compute::formulas::heat as f;
use crate::compute::ledger::{Amount, Ledger, at_least};
use crate::kinds::ThermalRole;
use crate::units::{Dimension, Ratio, Watts, significant};

/// Height of a van inside where its volume is not given, m. Source: [`crate::tables::sources::AIR_CHANGE`].
pub const HEIGHT: f64 = 1.8;

impl Heat {
    /// Computes the heat of `build`; every figure is entered in `ledger`.
    #[must_use]
    pub fn compute(build: &Build<'_>, ledger: &mut Ledger) -> Self {
        // Declared with a default: where it is missing it cannot be read, and a finding says so.
        let Some(inside) = build.goals.inside_temperature.get().map(|t| t.0) else { return Self::default() };
        let climates = build.climates.iter().filter_map(|(id, c)| Outdoors::of(id, c, &c.low));
        let coldest = climates.reduce(|a, b| if b.celsius < a.celsius { b } else { a });
        let record_low = lows(build).1;
        let mut heat = Self { coldest, record_low, inside, ..Self::default() };
        of_surfaces::surfaces(&mut heat, build);
        heat.closed = closed::judge(&heat, build, ledger);
        heat.vents = vents::judge(&heat, build, ledger);
        heat.losses(build, ledger);
        of_gas::gas(&mut heat, build, ledger);
        of_pipes::pipes(&mut heat, build, ledger);
        heat
    }

    /// Area of the floor, m²; `None` where no surface is one.
    pub(crate) fn floor(&self) -> Option<f64> {
        let floors = self.surfaces.iter().filter(|s| s.faces.as_deref() == Some("down")).map(|s| s.area);
        Some(floors.sum()).filter(|area: &f64| *area > 0.0)
    }

    fn losses(&mut self, build: &Build<'_>, ledger: &mut Ledger) {
        for s in &self.surfaces {
            let inputs = vec![
                Amount::Of(Dimension::Area, s.area),
                Amount::Of(Dimension::HeatTransfer, s.u_value),
                Amount::Of(Dimension::ThermalResistance, envelope::inside_resistance(s.faces.as_deref())),
            ];
            if let Some(ribs) = &s.ribs {
                let u = |value: f64| Amount::Of(Dimension::HeatTransfer, value);
                let inputs = vec![u(ribs.clear), u(ribs.rib), Ratio(ribs.share).into()];
                ledger.enter(&f::RIBS, &s.id, u(ribs.whole), inputs, None);
            }
            ledger.enter(&f::SURFACE, &s.id, per_kelvin(s.area * s.u_value), inputs, None);
        }
        if !self.surfaces.is_empty() && !build.shell.is_empty() {
            self.transmission = Some(self.surfaces.iter().map(|s| s.area * s.u_value).sum());
        }
        let given = build.vehicle.inside_volume.get().map(|l| l.0 / 1000.0);
        let height = build.vehicle.inside_height.get().map(|m| m.0);
        self.volume = given.or_else(|| self.floor().map(|area| area * height.unwrap_or(HEIGHT)));
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
            self.at_record(build, output, changes, ledger);
        }
    }

    /// What the heaters still hold inside when it is as cold outside as ever on record.
    fn at_record(&mut self, build: &Build<'_>, output: f64, changes: f64, ledger: &mut Ledger) {
        let (Some(transmission), Some(coldest), Some(record)) = (self.transmission, &self.coldest, self.record_low)
        else {
            return;
        };
        // Colder air is denser, and as much of it comes in.
        let air = Outdoors { celsius: record, ..coldest.clone() }.air();
        let infiltration = self.volume.and_then(|v| air::per_kelvin(v, changes, &air)).unwrap_or(0.0);
        let each_kelvin = transmission + infiltration;
        let Some(goal) = build.goals.least_inside.get().filter(|_| each_kelvin > 0.0) else { return };
        let held = (record + output / each_kelvin).min(self.inside);
        self.inside_at_record = Some(held);
        let celsius = |t: f64| Amount::Of(Dimension::Temperature, t);
        let inputs = vec![Watts(output).into(), per_kelvin(each_kelvin), celsius(record), celsius(self.inside)];
        // Whoever wants it colder inside all the time does not want it warmer then.
        let least = goal.0.min(self.inside);
        ledger.enter(&f::HELD_AT_RECORD, "heat", celsius(held), inputs, Some(at_least(celsius(least))));
    }
}

pub(super) const fn per_kelvin(value: f64) -> Amount {
    Amount::Of(Dimension::HeatLoss, value)
}
