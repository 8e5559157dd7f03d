//! The water figures of a build, each entered in the ledger.

use super::of_two::{self, Way};
use super::paths::{COLD, HOT, Line, is_hot, lines_to, of_role, pipe_of};
use super::pump::Pump;
use super::{dose, friction, hot, properties, supply};
use crate::build::{Build, Part};
use crate::compute::formulas::water as f;
use crate::compute::ledger::{Amount, Ledger, at_least};
use crate::fields::Field;
use crate::kinds::PlumbingRole;
use crate::units::{Dimension, Litres, Seconds, Watts, significant};
use indexmap::IndexMap;
use serde::Serialize;

/// Temperature of a shower, °C. Source: common practice, no source.
const WARM: f64 = 40.0;

/// A tank.
#[derive(Clone, Debug, Serialize)]
pub struct Tank {
    /// All of the same kind, litres.
    pub litres: f64,
    /// What of it can be used, litres.
    pub usable: f64,
    /// Bleach that sanitises it, litres, where the spec names the strength.
    pub bleach: Option<f64>,
}

/// What reaches an outlet by one way.
#[derive(Clone, Debug, Serialize)]
pub struct Outlet {
    /// The outlet.
    pub part: String,
    /// Hot water.
    pub hot: bool,
    /// The pump.
    pub pump: String,
    /// Flow it is meant to give, L/min.
    pub flow: f64,
    /// Open flow of the pump, L/min.
    pub open_flow: f64,
    /// Pressure of the pump at that flow, kPa.
    pub pump_pressure: f64,
    /// Friction in pipes, bends and filters, kPa.
    pub lost: f64,
    /// Pressure that the height takes, kPa.
    pub lift: f64,
    /// What is left at the outlet, kPa.
    pub pressure: f64,
    /// What it needs, kPa.
    pub needed: f64,
    /// Flow it really gives when open alone, L/min.
    pub gives: Option<f64>,
}

/// A water heater.
#[derive(Clone, Debug, Serialize)]
pub struct Heated {
    /// Energy from cold to its set temperature, Wh.
    pub energy: f64,
    /// Time for it, s.
    pub recovery: Option<f64>,
    /// Warm water from one full tank, litres.
    pub mixed: Option<f64>,
    /// How long it runs from the outlet that takes most, s; `None` where nothing tells, or it never runs cold.
    pub lasts: Option<f64>,
}

/// The water figures.
#[derive(Clone, Debug, Default, Serialize)]
pub struct Water {
    /// Fresh tanks by id.
    pub fresh: IndexMap<String, Tank>,
    /// Grey tanks by id.
    pub grey: IndexMap<String, Tank>,
    /// Days the fresh water lasts.
    pub fresh_days: Option<f64>,
    /// Days until the grey tank is full.
    pub grey_days: Option<f64>,
    /// Each way to each outlet.
    pub outlets: Vec<Outlet>,
    /// Heaters by id.
    pub heaters: IndexMap<String, Heated>,
    /// Water in the pressure and suction pipes, litres.
    pub in_pipes: Option<f64>,
    /// The same with the heaters.
    pub in_pipes_and_heaters: Option<f64>,
    /// Mass of all fresh water with tanks, pipes and heaters full, kg.
    pub mass: Option<f64>,
}

impl Water {
    /// Computes the water system of `build`; every figure is entered in `ledger`.
    #[must_use]
    pub fn compute(build: &Build<'_>, ledger: &mut Ledger) -> Self {
        let mut water = Self::default();
        water.tanks(build, ledger);
        water.days(build, ledger);
        water.outlets(build, ledger);
        water.heaters(build, ledger);
        water.volumes(build, ledger);
        water
    }

    fn tanks(&mut self, build: &Build<'_>, ledger: &mut Ledger) {
        for part in of_role(build, PlumbingRole::FreshTank) {
            let told = (litres_of(part.roles.capacity_litres()), litres_of(part.roles.residual()));
            let (Some(one), Some(residual)) = told else { continue };
            let strength = part.roles.bleach().get();
            let litres = one * part.times();
            let bleach = strength.and_then(|s| dose::bleach(litres, s.0, dose::TARGET));
            if let (Some(bleach), Some(strength)) = (bleach, strength) {
                let inputs = vec![
                    volume(litres),
                    strength.into(),
                    Amount::Word(format!("{} mg/L", significant(dose::TARGET, 3))),
                ];
                ledger.enter(&f::BLEACH, &part.id, volume(bleach), inputs, None);
            }
            let usable = (one - residual).max(0.0) * part.times();
            self.fresh.insert(part.id.clone(), Tank { litres, usable, bleach });
        }
        for part in of_role(build, PlumbingRole::GreyTank) {
            let Some(one) = litres_of(part.roles.capacity_litres()) else { continue };
            let litres = one * part.times();
            self.grey.insert(part.id.clone(), Tank { litres, usable: litres, bleach: None });
        }
    }

    fn days(&mut self, build: &Build<'_>, ledger: &mut Ledger) {
        let usage = &build.usage;
        let told = (usage.people.get(), build.goals.nights.get(), usage.water_per_person.get());
        let (Some(people), Some(nights), Some(Litres(each))) = told else { return };
        let [people, nights] = [people, nights].map(crate::compute::network::count);
        let usable: f64 = self.fresh.values().map(|t| t.usable).sum();
        let day = 86_400.0;
        if usable > 0.0 {
            self.fresh_days = supply::days(usable, people, each);
            if let Some(days) = self.fresh_days {
                let inputs = vec![volume(usable), people.into(), volume(each)];
                let limit = Some(at_least(Seconds(nights * day)));
                ledger.enter(&f::WATER_DAYS, "water", Seconds(days * day), inputs, limit);
            }
        }
        let grey: f64 = self.grey.values().map(|t| t.litres).sum();
        let drained = each - supply::DRUNK;
        if grey > 0.0 && drained > 0.0 {
            self.grey_days = supply::days(grey, people, drained);
            if let Some(days) = self.grey_days {
                let inputs = vec![volume(grey), people.into(), volume(each), volume(supply::DRUNK)];
                let limit = self.fresh_days.map(|fresh| at_least(Seconds(fresh * day)));
                ledger.enter(&f::GREY_DAYS, "water", Seconds(days * day), inputs, limit);
            }
        }
    }

    fn outlets(&mut self, build: &Build<'_>, ledger: &mut Ledger) {
        let mut ways: Vec<Way<'_>> = Vec::new();
        for part in of_role(build, PlumbingRole::Outlet) {
            ways.extend(lines_to(build, &part.id).into_iter().map(|line| (part, line)));
        }
        for (at, (part, line)) in ways.iter().enumerate() {
            let Some((outlet, inputs)) = outlet(part, line) else { continue };
            let formula = if line.hot { &f::HOT_PRESSURE } else { &f::COLD_PRESSURE };
            let limit = Some(at_least(pressure(outlet.needed)));
            ledger.enter(formula, &part.id, pressure(outlet.pressure), inputs, limit);
            if let Some(gives) = outlet.gives {
                let formula = if line.hot { &f::HOT_FLOW } else { &f::COLD_FLOW };
                let inputs = vec![litres_per_minute(outlet.flow), pressure(outlet.needed)];
                ledger.enter(formula, &part.id, litres_per_minute(gives), inputs, None);
            }
            if let Some(beside) = of_two::beside(&ways, at) {
                let formula = if line.hot { &f::HOT_BESIDE } else { &f::COLD_BESIDE };
                let inputs = vec![Amount::Word(build.name(beside.other).to_owned()), litres_per_minute(beside.flow)];
                ledger.enter(formula, &part.id, pressure(beside.pressure), inputs, None);
            }
            self.outlets.push(outlet);
        }
    }

    fn heaters(&mut self, build: &Build<'_>, ledger: &mut Ledger) {
        for part in of_role(build, PlumbingRole::Heater) {
            let roles = &part.roles;
            let told = (litres_of(roles.capacity_litres()), roles.set_temperature().get(), roles.standing_loss().get());
            let (Some(litres), Some(set), Some(loss)) = told else { continue };
            let litres = litres * part.times();
            let energy = hot::energy(litres, COLD, set.0);
            let output = part.roles.heat_output().get().map(|w| w * part.times());
            let loss = loss * part.times();
            let recovery = output.and_then(|w| hot::recovery(energy, w.0, loss.0));
            // A mixing valve set lower lets nothing warmer out.
            let use_at = roles.mixed_temperature().get().map(|valve| WARM.min(valve.0));
            let mixed = use_at.and_then(|warm| hot::mixed(litres, set.0, COLD, warm));
            let lasts = use_at.and_then(|warm| self.lasts(build, part, (litres, energy), (set.0, warm), ledger));
            let cold = || Amount::Of(Dimension::Temperature, COLD);
            ledger.enter(
                &f::WATER_HEAT,
                &part.id,
                Amount::Of(Dimension::Energy, energy),
                vec![volume(litres), cold(), set.into()],
                None,
            );
            if let (Some(time), Some(output)) = (recovery, output) {
                let inputs = vec![Amount::Of(Dimension::Energy, energy), output.into(), Watts(loss.0).into()];
                ledger.enter(&f::RECOVERY, &part.id, Amount::Of(Dimension::Duration, time), inputs, None);
            }
            if let (Some(mixed), Some(use_at)) = (mixed, use_at) {
                let inputs = vec![volume(litres), set.into(), cold(), Amount::Of(Dimension::Temperature, use_at)];
                ledger.enter(&f::MIXED, &part.id, volume(mixed), inputs, None);
            }
            self.heaters.insert(part.id.clone(), Heated { energy, recovery, mixed, lasts });
        }
    }

    /// How long warm water runs from the outlet that takes most, while the heater goes on with all it has where it can.
    fn lasts(
        &self,
        build: &Build<'_>,
        part: &Part<'_>,
        (litres, energy): (f64, f64),
        (set, use_at): (f64, f64),
        ledger: &mut Ledger,
    ) -> Option<f64> {
        // What the engine warms gets nothing while the van stands.
        let parked = part.roles.while_driving().get() != Some(true);
        let watts = part.roles.heat_output().get().map(|w| if parked { w.0 * part.times() } else { 0.0 })?;
        let piped = self.outlets.iter().filter(|o| o.hot).map(|o| o.flow).reduce(f64::max);
        let mixers = || {
            let mixers = of_role(build, PlumbingRole::Outlet).filter(|p| p.roles.mixer().get() == Some(true));
            mixers.filter_map(|p| p.roles.flow().get().map(|q| q.0)).reduce(f64::max)
        };
        let flow = piped.or_else(mixers).filter(|q| *q > 0.0)?;
        hot::mixed(litres, set, COLD, use_at)?;
        let lasts = hot::lasts(litres, (set, COLD, use_at), flow, watts);
        let goal = build.goals.hot_water.get();
        let inputs = vec![
            Amount::Of(Dimension::Energy, energy),
            litres_per_minute(flow),
            Amount::Of(Dimension::Temperature, use_at),
            Watts(watts).into(),
        ];
        let limit = goal.map(|goal| at_least(goal).judged(hot::reaches(lasts, goal)));
        let time = lasts.map_or_else(|| Amount::Word("as long as there is water".to_owned()), |t| Seconds(t).into());
        ledger.enter(&f::HOT_LASTS, &part.id, time, inputs, limit);
        lasts
    }

    fn volumes(&mut self, build: &Build<'_>, ledger: &mut Ledger) {
        let wet = |p: &&Part<'_>| matches!(p.roles.medium().text(), Some("cold" | "hot" | "suction"));
        let pipes: Vec<f64> = of_role(build, PlumbingRole::Pipe)
            .filter(wet)
            .filter_map(|p| pipe_of(p).map(|pipe| friction::litres(pipe.diameter, pipe.length) * p.times()))
            .collect();
        let in_pipes: f64 = pipes.iter().sum();
        let in_heaters: f64 = of_role(build, PlumbingRole::Heater)
            .filter_map(|p| litres_of(p.roles.capacity_litres()).map(|l| l * p.times()))
            .sum();
        if !pipes.is_empty() {
            self.in_pipes = Some(in_pipes);
            self.in_pipes_and_heaters = Some(in_pipes + in_heaters);
            let inputs = vec![pipes.len().to_string().into(), volume(in_heaters), volume(in_pipes + in_heaters)];
            ledger.enter(&f::WINTER_VOLUME, "water", volume(in_pipes), inputs, None);
        }
        let tanks: f64 = self.fresh.values().map(|t| t.litres).sum();
        let all = tanks + in_pipes + in_heaters;
        if all > 0.0 {
            let mass = properties::mass(all, COLD);
            self.mass = Some(mass);
            let inputs = vec![volume(tanks), volume(in_pipes), volume(in_heaters)];
            ledger.enter(&f::WATER_MASS, "water", Amount::Of(Dimension::Mass, mass), inputs, None);
        }
    }
}

fn outlet(part: &Part<'_>, line: &Line<'_>) -> Option<(Outlet, Vec<Amount>)> {
    let flow = part.roles.flow().get().map(|q| q.0).filter(|q| *q > 0.0)?;
    let needed = part.roles.min_pressure().get().map(|q| q.0)?;
    let roles = &line.pump.roles;
    let pump = Pump { open_flow: roles.flow().get()?.0, cut_out: roles.cut_out().get()?.0 };
    let pump_pressure = pump.pressure(flow)?;
    let pipes: Vec<_> = line.pipes.iter().filter_map(|p| Some((pipe_of(p)?, is_hot(p)))).collect();
    let filters: f64 = line.filters.iter().filter_map(|f| f.roles.pressure_loss().get().map(|q| q.0)).sum();
    // A filter's loss is named at the flow of one tap; finer than that its curve is not known.
    let cost = |q: f64| {
        let flows = pipes.iter().filter_map(|(pipe, hot)| friction::flow(pipe, q, if *hot { HOT } else { COLD }));
        flows.fold((filters, 0.0), |(lost, lift), f| (lost + f.along + f.bends, lift + f.lift))
    };
    let (lost, lift) = cost(flow);
    let gives = pump.delivers(flow, needed, |q| {
        let (lost, lift) = cost(q);
        lost + lift
    });
    let outlet = Outlet {
        part: part.id.clone(),
        hot: line.hot,
        pump: line.pump.id.clone(),
        flow,
        open_flow: pump.open_flow,
        pump_pressure,
        lost,
        lift,
        pressure: pump_pressure - lost - lift,
        needed,
        gives,
    };
    let inputs = vec![
        litres_per_minute(flow),
        litres_per_minute(pump.open_flow),
        pressure(pump.cut_out),
        pressure(pump_pressure),
        pressure(lost - filters),
        pressure(filters),
        pressure(lift),
    ];
    Some((outlet, inputs))
}

/// Whether one of `valves` names `part` in `field`.
pub(crate) fn drained_by<'a>(build: &'a Build<'_>, part: &str) -> Option<&'a Part<'a>> {
    let by_list = of_role(build, PlumbingRole::DrainValve).find(|v| v.roles.drains().names(part));
    let by_tank = || {
        of_role(build, PlumbingRole::HandValve)
            .chain(of_role(build, PlumbingRole::MotorValve))
            .find(|v| v.roles.tank().first() == Some(part))
    };
    by_list.or_else(by_tank)
}

fn litres_of(field: &Field<Litres>) -> Option<f64> {
    field.get().map(|l| l.0).filter(|l| *l >= 0.0)
}

fn volume(litres: f64) -> Amount {
    Amount::Of(Dimension::Volume, litres)
}

fn pressure(kpa: f64) -> Amount {
    Amount::Of(Dimension::Pressure, kpa)
}

fn litres_per_minute(flow: f64) -> Amount {
    Amount::Of(Dimension::Flow, flow)
}
