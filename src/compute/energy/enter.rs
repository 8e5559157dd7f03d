//! Enters the figures of sun and energy in the ledger.

use super::account::{Energy, Season, Stay};
use super::need::{Load, LoadKind, Need};
use super::{Hours, single};
use crate::build::Build;
use crate::compute::formulas::{energy as f, solar as s};
use crate::compute::ledger::{Amount, Ledger, at_least};
use crate::compute::network::Electrical;
use crate::units::{Dimension, Ratio, Seconds, WattHours, Watts, number, with_minus};

fn irradiation(kwh: f64) -> Amount {
    Amount::Of(Dimension::Irradiation, kwh)
}

fn angle(degrees: f64) -> Amount {
    Amount::Of(Dimension::Angle, degrees)
}

fn day(hours: &Hours) -> WattHours {
    Season::day(hours)
}

/// A time, or that it is never reached.
fn time(time: Option<Seconds>, never: &str) -> Amount {
    time.map_or_else(|| Amount::Word(never.to_owned()), Amount::from)
}

pub(super) fn enter(build: &Build<'_>, electrical: &Electrical, energy: &Energy, ledger: &mut Ledger) {
    for (id, season) in &energy.seasons {
        enter_sun(build, electrical, id, season, ledger);
    }
    enter_loads(energy, ledger);
    for (id, season) in &energy.seasons {
        enter_season(energy, id, season, ledger);
    }
    let Some(store) = &energy.store else { return };
    let span = store.full - store.reserve;
    for (id, filling) in &energy.fillings {
        let inputs = vec![span.into(), filling.power.into(), store.efficiency.into()];
        ledger.enter(&f::FILL, id, filling.time, inputs, None);
    }
    for (id, run) in &energy.run_times {
        let inputs = vec![span.into(), run.power.into(), run.duty.into(), run.at_bank.into()];
        let limit = run.goal.map(|goal| at_least(goal).judged(run.reaches_goal()));
        // Beyond that a bank loses more by itself than a small load takes.
        let time = time(Some(run.time).filter(|t| t.0 <= 60.0 * 86_400.0), "more than 60 days");
        ledger.enter(&f::RUN_TIME, id, time, inputs, limit);
    }
}

fn enter_sun(build: &Build<'_>, electrical: &Electrical, id: &str, season: &Season, ledger: &mut Ledger) {
    let sun = &season.sun;
    let inputs = vec![
        angle(sun.latitude),
        sun.day_of_year.into(),
        angle(sun.declination),
        Seconds(sun.day_length * 3600.0).into(),
    ];
    ledger.enter(&s::ABOVE_AIR, id, irradiation(sun.above_air), inputs, None);
    let clearness = sun.clearness.map_or_else(|| Amount::Word("no sun".to_owned()), |k| Ratio(k).into());
    ledger.enter(&s::DIFFUSE, id, Ratio(sun.diffuse_share), vec![irradiation(sun.irradiation), clearness], None);
    for (array, figures) in &season.solar.arrays {
        let (Some(part), Some(string)) = (build.parts.get(array), electrical.strings.get(array)) else { continue };
        let (Some(noct), Some(per_kelvin)) = (part.roles.noct().get(), part.roles.power_per_kelvin().get()) else {
            continue;
        };
        let subject = format!("{array}.{id}");
        let inputs =
            vec![irradiation(sun.irradiation), angle(figures.tilt), season.albedo.into(), figures.shading.into()];
        ledger.enter(&s::ON_ARRAY, &subject, irradiation(figures.on_plane), inputs, None);
        let air = crate::units::Celsius(season.air[figures.hottest]);
        ledger.enter(
            &s::CELL,
            &subject,
            figures.cell,
            vec![figures.light.round().into(), air.into(), noct.into()],
            None,
        );
        let per_kelvin = with_minus(&format!("{} %/K", number(per_kelvin.0 * 100.0)));
        let set_up = figures.set_up.map_or_else(|| Amount::Word("always".to_owned()), Amount::from);
        let inputs = vec![string.power.into(), per_kelvin.into(), set_up];
        ledger.enter(&s::ARRAY_DAY, &subject, day(&figures.hours), inputs, None);
    }
    if !season.solar.arrays.is_empty() {
        let given: WattHours = season.solar.arrays.values().map(|a| day(&a.hours)).sum();
        let inputs = vec![given.into(), WattHours(season.solar.cut).into()];
        ledger.enter(&s::SOLAR_DAY, id, day(&season.solar.hours), inputs, None);
    }
}

fn enter_loads(energy: &Energy, ledger: &mut Ledger) {
    for (id, load) in energy.loads.iter().filter(|(_, l)| l.kind != LoadKind::Shore) {
        if load.follows.is_some() {
            for (season, figures) in &energy.seasons {
                enter_by_temperature(id, load, season, figures, ledger);
            }
            continue;
        }
        let hours = Seconds(load.hours.map_or(86_400.0, |t| t.0.clamp(0.0, 86_400.0)));
        let duty = load.duty_assumed();
        let value = WattHours(load.power.0 * duty.0.clamp(0.0, 1.0) * hours.0 / 3600.0);
        ledger.enter(&f::LOAD_DAY, id, value, vec![load.power.into(), hours.into(), duty.into()], None);
    }
}

fn enter_by_temperature(id: &str, load: &Load, season: &str, figures: &Season, ledger: &mut Ledger) {
    let Some(hours) = figures.need.loads.get(id) else { return };
    let value = day(hours);
    let mean = if load.power.0 > 0.0 { value.0 / 24.0 / load.power.0 } else { 0.0 };
    if figures.by_climate_day.iter().any(|by_day| by_day == id) {
        let inputs = vec![load.power.into(), Seconds(mean * 86_400.0).into()];
        ledger.enter(&f::LOAD_BY_DAY, &format!("{id}.{season}"), value, inputs, None);
        return;
    }
    let (low, high) = figures.low_high;
    let inputs = vec![load.power.into(), load.duty_assumed().into(), low.into(), high.into(), Ratio(mean).into()];
    ledger.enter(&f::LOAD_BY_TEMPERATURE, &format!("{id}.{season}"), value, inputs, None);
}

fn enter_season(energy: &Energy, id: &str, season: &Season, ledger: &mut Ledger) {
    let Need { dc, ac, inverter_loss, idle, .. } = &season.need;
    let inputs = [dc, ac, inverter_loss, idle].map(|hours| day(hours).into()).to_vec();
    let need = day(&season.need.total());
    ledger.enter(&f::NEED_DAY, id, need, inputs, None);
    if energy.engine.0 > 0.0 {
        let inputs = vec![energy.drive.into(), energy.engine.into()];
        ledger.enter(&f::DRIVE_DAY, id, day(&season.engine), inputs, None);
    }
    let Some(store) = &energy.store else { return };
    let reserve = store.reserve.0 / store.full.0;
    let solar = day(&season.solar.hours);
    let nights = Amount::Word(energy.nights.to_string());
    let stays =
        [(&f::LOWEST, &season.driving, solar + day(&season.engine)), (&f::LOWEST_PARKED, &season.parked, solar)];
    for (formula, stay, offered) in stays {
        let Some(stay) = stay else { continue };
        let inputs = vec![nights.clone(), need.into(), offered.into(), stay.unserved.into()];
        ledger.enter(formula, id, stay.lowest, inputs, Some(at_least(Ratio(reserve))));
    }
    if let (Some(driving), Some(parked)) = (&season.driving, &season.parked) {
        let lasts = |stay: &Stay| time(stay.lasts, "more than 60 days");
        let inputs = vec![lasts(parked), Ratio(1.0 - reserve).into()];
        ledger.enter(&f::LASTS, id, lasts(driving), inputs, None);
        let offered = WattHours(driving.hours.iter().map(|h| h.offered).sum());
        ledger.enter(&f::SURPLUS, id, driving.surplus, vec![driving.blocked.into(), offered.into()], None);
    }
    if !season.solar.arrays.is_empty() {
        let inputs = vec![(store.full - store.reserve).into(), solar.into(), store.efficiency.into()];
        let full = time(single::fill(store, Watts(solar.0 / 24.0)), "never");
        ledger.enter(&f::FILL_SUN, id, full, inputs, None);
    }
}
