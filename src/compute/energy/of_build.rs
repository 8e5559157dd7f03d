//! The energy account of a build: every season of its spec, driving and parked.

use super::account::{Energy, Season, Stay, Uncooled};
use super::need::{self, Day};
use super::store::{Hour, Store};
use super::supply::{self, Steady};
use super::{Hours, enter, pattern, single};
use crate::build::{Build, Part};
use crate::compute::climate_day::ClimateDays;
use crate::compute::heat::Heat;
use crate::compute::ledger::Ledger;
use crate::compute::network::{Electrical, charge_harms_below, is_warmed};
use crate::kinds::Follows;
use crate::units::{Amps, Ratio, Seconds, WattHours, Watts};

/// Longest stay that is followed to see how long the bank lasts, days: the most nights a spec may ask for.
const LONGEST: usize = 60;

/// A bank counts as full again from this share on.
const FULL: f64 = 0.98;

impl Energy {
    /// The account of `build`; every figure is entered in `ledger`.
    #[must_use]
    pub fn compute(
        build: &Build<'_>,
        electrical: &Electrical,
        heat: &Heat,
        days: &ClimateDays,
        ledger: &mut Ledger,
    ) -> Self {
        let volts = electrical.banks.values().next().map(|b| b.volts);
        let nights = build.goals.nights.get().and_then(|n| usize::try_from(n).ok());
        // Declared with defaults: what is missing here cannot be read, and a finding says so.
        let (Some(nights), Some(drive)) = (nights, build.usage.driving.get()) else { return Self::default() };
        let chargers = supply::steady(build, volts);
        let sum = |by: Steady| chargers.values().filter(|(b, _)| *b == by).map(|(_, w)| *w).sum::<Watts>();
        let store = store(electrical);
        let mut energy = Self {
            nights: nights.min(LONGEST),
            drive,
            engine: sum(Steady::Engine),
            loads: need::loads(build, heat, volts),
            store,
            ..Self::default()
        };
        let inverters = need::inverters(build);
        let cooling = days.cooling.as_ref().and_then(|c| c.duty).map(Ratio);
        if let Some(store) = &energy.store {
            energy.run_times = single::run_times(build, store, &energy.loads, &inverters, cooling);
            energy.fillings = single::fillings(store, &chargers);
        }
        let drive = pattern::driving(energy.drive.0 / 3600.0);
        let heated = energy.loads.values().any(|l| l.follows == Some(Follows::Heating));
        for (id, of_climate) in &days.days {
            let weather = &of_climate.weather;
            let compressor = of_climate.compressor.as_ref();
            // A van that nothing heats is as warm inside as the day makes it, which is not reckoned.
            let inside = of_climate.inside.as_ref().filter(|_| of_climate.heater.is_some()).map(|i| &i.celsius);
            let day = Day {
                air: &weather.air,
                drive: &drive,
                heated,
                compressor,
                inside,
                heater: of_climate.heater.as_ref(),
            };
            let need = need::off_grid(&energy.loads, &inverters, need::converters(build), &day);
            let solar = supply::solar(build, electrical, &weather.sun, &weather.air, weather.albedo, volts);
            let mut season = Season {
                engine: drive.map(|share| share * energy.engine.0),
                cold: too_cold(build, electrical, f64::midpoint(weather.low.0, weather.high.0), heated),
                sun: weather.sun.clone(),
                air: weather.air,
                low_high: (weather.low, weather.high),
                albedo: weather.albedo,
                by_climate_day: energy
                    .loads
                    .iter()
                    .filter(|(_, l)| l.runs_by(&day))
                    .map(|(id, _)| id.clone())
                    .collect(),
                need,
                solar,
                driving: None,
                parked: None,
                shore: None,
                uncooled: None,
            };
            if let Some(store) = &energy.store {
                let total = season.need.total();
                let moving: Hours = std::array::from_fn(|h| season.solar.hours[h] + season.engine[h]);
                let stay = |offered: &Hours| {
                    (energy.nights > 0).then(|| stay(store, &total, offered, season.cold, energy.nights))
                };
                let (driving, parked) = (stay(&moving), stay(&season.solar.hours));
                let plug = sum(Steady::Shore).0;
                let plugged = std::array::from_fn(|h| season.solar.hours[h] + plug);
                season.shore = (plug > 0.0).then(|| on_shore(store, &season.need.dc, &plugged, season.cold));
                let short = [&driving, &parked].into_iter().flatten().any(|stay| stay.below_reserve.is_some());
                let cools = |id: &String| energy.loads.get(id).is_some_and(|load| load.cooler);
                if short && season.need.loads.iter().any(|(id, hours)| cools(id) && hours.iter().sum::<f64>() > 0.0) {
                    let others = energy.loads.iter().filter(|(id, _)| !cools(id));
                    let others = others.map(|(id, load)| (id.clone(), load.clone())).collect();
                    let total = need::off_grid(&others, &inverters, need::converters(build), &day).total();
                    let until =
                        |offered: &Hours| self::stay(store, &total, offered, season.cold, energy.nights).below_reserve;
                    season.uncooled = Some(Uncooled { driving: until(&moving), parked: until(&season.solar.hours) });
                }
                (season.driving, season.parked) = (driving, parked);
            }
            energy.seasons.insert(id.clone(), season);
        }
        enter::enter(build, electrical, &energy, ledger);
        energy
    }
}

/// All banks of a build as one store.
fn store(electrical: &Electrical) -> Option<Store> {
    let banks = &electrical.banks;
    let full: WattHours = banks.values().map(|b| b.energy).sum();
    if full.0 <= 0.0 || !full.0.is_finite() {
        return None;
    }
    let usable: WattHours = banks.values().map(|b| b.usable).sum();
    let weighted: f64 = banks.values().map(|b| b.charge_efficiency.0.clamp(0.01, 1.0) * b.energy.0).sum();
    let limit = |of: fn(&crate::compute::network::Bank) -> Option<Amps>| -> Option<Watts> {
        banks.values().map(|b| of(b).map(|amps| b.volts * amps)).sum()
    };
    Some(Store {
        full,
        reserve: full - usable,
        most_in: limit(|b| b.max_charge),
        most_out: limit(|b| b.max_discharge),
        efficiency: Ratio(weighted / full.0),
    })
}

/// Whether a lithium bank is below its charging limit on a day of this mean temperature: it has the heat of the day
/// in it. One that is warmed, or stands in a living space that people heat, is not.
fn too_cold(build: &Build<'_>, electrical: &Electrical, mean: f64, heated: bool) -> bool {
    electrical.banks.keys().filter_map(|id| build.parts.get(id)).any(|bank| {
        let below = charge_harms_below(bank).is_some_and(|limit| mean < limit.0);
        below && !is_warmed(build, bank) && !(heated && inside(build, bank))
    })
}

fn inside(build: &Build<'_>, part: &Part<'_>) -> bool {
    let zone = |place: &String| build.places.get(place).and_then(|p| p.zone.text());
    !part.places.is_empty() && part.places.iter().all(|p| zone(p) == Some("cabin"))
}

fn stay(store: &Store, need: &Hours, offered: &Hours, cold: bool, nights: usize) -> Stay {
    let all = store.run(store.full.0, need, offered, cold, pattern::STAY_STARTS, LONGEST * 24);
    let lasts = all.iter().position(|h| below(store, h));
    let hours = all.into_iter().take(nights * 24).collect();
    #[expect(clippy::cast_precision_loss, reason = "hours of sixty days")]
    let lasts = lasts.map(|h| Seconds((h + 1) as f64 * 3600.0));
    summary(store, hours, store.full.0, lasts)
}

fn on_shore(store: &Store, need: &Hours, offered: &Hours, cold: bool) -> Stay {
    let hours = store.run(store.reserve.0, need, offered, cold, pattern::STAY_STARTS, 24);
    summary(store, hours, store.reserve.0, None)
}

fn below(store: &Store, hour: &Hour) -> bool {
    hour.state < store.reserve.0 - 1e-9 * store.full.0
}

fn summary(store: &Store, hours: Vec<Hour>, start: f64, lasts: Option<Seconds>) -> Stay {
    let sum = |of: fn(&Hour) -> f64| WattHours(hours.iter().map(of).sum());
    let lowest = hours.iter().map(|h| h.state).fold(start, f64::min);
    // Full in the first hour is the fullness it came with.
    let full_again = hours.iter().skip(12).any(|h| h.state >= FULL * store.full.0);
    Stay {
        lowest: Ratio(lowest / store.full.0),
        below_reserve: hours.iter().position(|h| below(store, h)).map(|h| h + 1),
        short_from: hours.iter().position(|h| h.unserved > 1e-6).map(|h| h + 1),
        unserved: sum(|h| h.unserved),
        surplus: sum(|h| h.surplus),
        blocked: sum(|h| h.blocked),
        full_again,
        lasts,
        hours,
    }
}
