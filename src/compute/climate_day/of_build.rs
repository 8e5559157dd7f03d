//! The climate days of a build: weather, the van in it, and what comes of it in the ledger.

use super::Hours;
use super::air::hottest;
use super::day::{self, Face, Takes, Van};
use super::figures::{ClimateDays, Cooling, Day, Weather};
use super::room::Hold;
use super::{burnt, damp};
use crate::build::Build;
use crate::compute::formulas::heat as f;
use crate::compute::heat::{Heat, Outdoors, Surface, parts_of, psychrometrics};
use crate::compute::ledger::{Amount, Ledger, at_least, at_most};
use crate::compute::network::count;
use crate::kinds::ThermalRole;
use crate::units::{Dimension, Ratio, Seconds, WattHours, Watts, significant};

/// Heat that warms what stands on a square metre of floor by one kelvin, J. Source: [`crate::tables::sources::LIGHT`].
const PER_FLOOR: f64 = 80_000.0;
/// Heat of appliances of a parked van, W. Source: [`crate::tables::sources::GAINS`].
const APPLIANCES: f64 = 60.0;
/// More than any heater of a van gives: without one a day asks what is needed, W.
const ANY_HEATER: f64 = 100_000.0;
/// Humidity where the air of the van is not told. Source: [`crate::tables::sources::AIR_CHANGE`].
const ASSUMED: f64 = 0.5;

impl ClimateDays {
    /// The days of `build`; what comes of them is entered in `ledger`.
    #[must_use]
    pub fn compute(build: &Build<'_>, heat: &Heat, ledger: &mut Ledger) -> Self {
        let mut days = Self::default();
        let capacity = capacity(build);
        let van = van(build, heat, capacity);
        for (id, climate) in &build.climates {
            let Some(weather) = Weather::of(climate) else { continue };
            let air = || {
                let pressure = psychrometrics::pressure(climate.altitude.get()?.0)?;
                let mean = f64::midpoint(weather.low.0, weather.high.0);
                let moisture = psychrometrics::humidity_ratio(mean, climate.humidity.get()?.0, pressure)?;
                Some(day::Air { pressure, moisture, humidity: climate.humidity.get()?.0 })
            };
            let inside = van.as_ref().and_then(|van| {
                let on = on(build, &weather);
                let cools = capacity > 0.0 && on.iter().any(|share| *share > 0.0);
                // On a day that is cooled nobody heats.
                let van = Van {
                    on: if cools { on } else { [0.0; 24] },
                    heater: van.heater.filter(|_| !cools),
                    cooler: van.cooler.filter(|_| cools),
                    ..van.clone()
                };
                van.day(&weather, &air()?, heat.inside)
            });
            let compressor = inside.as_ref().filter(|_| capacity > 0.0).map(|i| i.cooled.map(|w| w / capacity));
            let output = heat.output.filter(|w| *w > 0.0);
            let heater = inside.as_ref().zip(output).map(|(i, most)| i.heated.map(|w| (w / most).min(1.0)));
            let mut day = Day { compressor, heater, ..Day::of(weather, inside) };
            damp::look(&mut day, heat, build.usage.inside_humidity.get().map(|h| h.0));
            days.days.insert(id.clone(), day);
        }
        burnt::burn(&mut days, build, heat, ledger);
        days.cool(build, capacity, ledger);
        days.breathe(build, heat, ledger);
        days.dew(heat, ledger);
        days
    }

    fn cool(&mut self, build: &Build<'_>, capacity: f64, ledger: &mut Ledger) {
        if parts_of(build, ThermalRole::Cooler).next().is_none() {
            return;
        }
        let hot = self.days.keys().filter_map(|id| {
            let climate = build.climates.get(id)?;
            Outdoors::of(id, climate, &climate.high)
        });
        let Some(outdoors) = hot.reduce(|a, b| if b.celsius > a.celsius { b } else { a }) else { return };
        let mut cooling = Cooling { outdoors, load: None, capacity, duty: None };
        let day = self.days.get(&cooling.outdoors.climate);
        let inside = day.and_then(|d| Some((d.inside.as_ref()?, &d.weather)));
        if let (Some((inside, weather)), Some(cool_to)) = (inside, build.goals.cool_to.get()) {
            let hour = (0..24).reduce(|a, b| if inside.to_take[b] > inside.to_take[a] { b } else { a }).unwrap_or(0);
            let load = inside.to_take[hour].max(0.0);
            let [shell, glass] = [inside.by_shell[hour], inside.by_glass[hour]];
            let inputs = vec![
                Amount::Of(Dimension::Temperature, weather.air[hour]),
                cool_to.into(),
                Watts(shell).into(),
                Watts(glass).into(),
                Watts(load - shell - glass).into(),
            ];
            ledger.enter(&f::COOLING_LOAD, "heat", Watts(load), inputs, Some(at_most(Watts(capacity))));
            cooling.load = Some(load);
            let (on, taken) = (inside.on.iter().sum::<f64>(), inside.cooled.iter().sum::<f64>());
            if on > 0.0 && capacity > 0.0 {
                let runs = taken / capacity;
                cooling.duty = Some(runs / on);
                let inputs = vec![
                    Seconds(on * 3600.0).into(),
                    WattHours(taken).into(),
                    Watts(capacity).into(),
                    Ratio(runs / on).into(),
                ];
                ledger.enter(&f::COOLING_HOURS, "heat", Seconds(runs * 3600.0), inputs, None);
            }
        }
        self.cooling = Some(cooling);
    }

    /// Moisture and carbon dioxide of the coldest usual day.
    fn breathe(&mut self, build: &Build<'_>, heat: &Heat, ledger: &mut Ledger) {
        let Some(coldest) = heat.coldest.as_ref().filter(|c| c.celsius < heat.inside) else { return };
        let told = build.usage.inside_humidity.get().map(|h| h.0);
        self.humidity = told.or(Some(ASSUMED));
        let inside = self.days.get(&coldest.climate).and_then(|d| d.inside.as_ref());
        let (Some(inside), Some(volume)) = (inside, heat.volume) else { return };
        let most = |hours: &Hours| hours.iter().copied().fold(0.0, f64::max);
        let (moisture, carbon_dioxide) = (most(&inside.moisture), most(&inside.carbon_dioxide));
        self.carbon_dioxide = Some(carbon_dioxide);
        let (Some(people), Some(changes)) = (build.usage.people.get(), build.usage.air_change.get()) else { return };
        let inputs = || {
            vec![
                Amount::Word(people.to_string()),
                Amount::Word(format!("{} per h", significant(changes.0, 3))),
                Amount::Of(Dimension::Volume, volume * 1000.0),
            ]
        };
        let ppm = significant(carbon_dioxide * 1e6, 2);
        ledger.enter(&f::CARBON_DIOXIDE, "heat", Amount::Word(format!("{ppm} ppm")), inputs(), None);
        if told.is_none() {
            let pressure = psychrometrics::pressure(coldest.altitude);
            let humidity = pressure.and_then(|p| psychrometrics::relative(heat.inside, moisture, p));
            if let Some(humidity) = humidity {
                self.humidity = Some(humidity);
                ledger.enter(&f::HUMIDITY, "heat", Ratio(humidity), inputs(), None);
            }
        }
    }

    /// Inner faces against the dew point of the coldest usual night.
    fn dew(&mut self, heat: &Heat, ledger: &mut Ledger) {
        let (Some(coldest), Some(humidity)) = (&heat.coldest, self.humidity) else { return };
        if heat.surfaces.is_empty() || coldest.celsius >= heat.inside {
            return;
        }
        self.dew_point = psychrometrics::dew_point(heat.inside, humidity);
        let Some(dew) = self.dew_point else { return };
        let celsius = |t: f64| Amount::Of(Dimension::Temperature, t);
        let dry = || Some(at_least(celsius(dew)));
        for s in &heat.surfaces {
            let Some(inner) = s.inner else { continue };
            let inputs = vec![celsius(heat.inside), Ratio(humidity).into(), celsius(coldest.celsius)];
            ledger.enter(&f::INNER_FACE, &s.id, celsius(inner), inputs, dry());
            if let Some((ribs, inner)) = s.ribs.as_ref().zip(s.inner_at_rib) {
                let through = Amount::Of(Dimension::HeatTransfer, ribs.rib);
                let inputs = vec![celsius(heat.inside), through, celsius(coldest.celsius)];
                ledger.enter(&f::RIB_FACE, &s.id, celsius(inner), inputs, dry());
            }
            if let Some(pane) = s.behind_cover {
                let u = |value| Amount::Of(Dimension::HeatTransfer, value);
                let inputs = vec![celsius(heat.inside), u(s.u_value), u(s.by_day), celsius(coldest.celsius)];
                ledger.enter(&f::PANE_FACE, &s.id, celsius(pane), inputs, dry());
            }
            let day = self.days.get(&coldest.climate).filter(|d| d.inside.is_some());
            if let Some(wet) = day.and_then(|d| d.wet.get(&s.id)).filter(|w| w.face + w.pane > 0.0) {
                let hours = |hours: f64| Seconds(hours * 3600.0);
                ledger.enter(&f::WET_HOURS, &s.id, hours(wet.face), vec![hours(wet.pane).into()], None);
            }
        }
    }
}

/// What all coolers take out, W.
fn capacity(build: &Build<'_>) -> f64 {
    parts_of(build, ThermalRole::Cooler).filter_map(|p| Some(p.roles.cooling().get()?.0 * p.times())).sum()
}

/// Share of each hour in which the coolers are on: the hottest hours that are warm enough, as many as the first of
/// them is used.
fn on(build: &Build<'_>, weather: &Weather) -> Hours {
    let Some(first) = parts_of(build, ThermalRole::Cooler).next() else { return [0.0; 24] };
    let hours = first.roles.hours().get().map(|t| t.0 / 3600.0);
    match hours {
        Some(hours) => hottest(hours, &weather.air),
        None => hottest(24.0, &weather.air),
    }
}

/// The van as a day sees it. `None` where its shell or its air is not told.
fn van(build: &Build<'_>, heat: &Heat, capacity: f64) -> Option<Van> {
    heat.transmission.filter(|k| *k > 0.0)?;
    let volume = heat.volume.filter(|v| *v > 0.0)?;
    let usage = &build.usage;
    let floor = heat.floor().unwrap_or(volume / crate::compute::heat::HEIGHT);
    let given = build.parts.values().filter_map(|p| Some(p.roles.heat_given().get()?.0 * p.times()));
    Some(Van {
        faces: heat.surfaces.iter().map(|s| face(build, s)).collect(),
        capacity: PER_FLOOR * floor,
        volume,
        people: count(usage.people.get()?),
        appliances: APPLIANCES + given.sum::<f64>(),
        changes: usage.air_change.get()?.0,
        heater: Some(Hold { celsius: heat.inside, most: heat.output.filter(|w| *w > 0.0).unwrap_or(ANY_HEATER) }),
        cooler: Some(Hold { celsius: build.goals.cool_to.get()?.0, most: capacity }),
        on: [0.0; 24],
    })
}

fn face(build: &Build<'_>, s: &Surface) -> Face {
    let shell = s.id.strip_prefix("shell.").and_then(|id| build.shell.get(id));
    let skin = shell.and_then(|record| record.absorptance.get());
    let faces = s.faces.as_deref();
    Face {
        area: s.area,
        u_value: (s.by_day, s.u_value),
        up: faces == Some("up"),
        down: faces == Some("down"),
        takes: match (s.solar_gain, skin) {
            (Some(share), _) => Takes::Through(share),
            (None, Some(share)) => Takes::Skin(share.0),
            (None, None) => Takes::Skin(0.0),
        },
    }
}
