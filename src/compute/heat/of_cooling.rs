//! Cooling on the hottest usual day, and how long the bank keeps it up.

use super::figures::{Cooling, Heat, of_role, outdoors};
use super::{air, cooling};
use crate::build::Build;
use crate::compute::formulas::heat as f;
use crate::compute::ledger::{Amount, Ledger, at_most};
use crate::compute::network::{Electrical, count};
use crate::kinds::ThermalRole;
use crate::units::{Dimension, Ratio, Seconds, Watts};

pub(super) fn cooling(heat: &mut Heat, build: &Build<'_>, electrical: &Electrical, ledger: &mut Ledger) {
    let climates = build.climates.iter().filter_map(|(id, c)| Some((c, outdoors(id, c, &c.high)?)));
    let Some((climate, hot)) = climates.reduce(|a, b| if b.1.celsius > a.1.celsius { b } else { a }) else { return };
    let coolers: Vec<_> = of_role(build, ThermalRole::Cooler).collect();
    let Some(first) = coolers.first() else { return };
    let usage = &build.usage;
    let told = (usage.cool_to.get(), usage.people.get().map(count), usage.air_change.get());
    let (Some(inside), Some(people), Some(changes)) = told else { return };
    let (inside, changes) = (inside.0, changes.0);
    let sun = (climate.latitude.get(), climate.month.get(), climate.irradiation.get());
    let (Some(latitude), Some(month), Some(irradiation)) = sun else { return };
    // No sun rises: nothing of it comes in.
    let peak = cooling::peak(irradiation.0, cooling::day_length(latitude.0, month)).unwrap_or(0.0);
    let load = heat.transmission.map(|transmission| {
        let air = heat.volume.and_then(|v| air::per_kelvin(v, changes, &hot.air())).unwrap_or(0.0);
        let through = (transmission + air) * (hot.celsius - inside).max(0.0);
        let faces = heat.surfaces.iter();
        let sun: f64 =
            faces.map(|s| s.area * s.solar_gain.unwrap_or(0.0) * cooling::share(s.faces.as_deref()) * peak).sum();
        let given = build.parts.values().filter_map(|p| Some(p.roles.heat_given().get()?.0 * p.times()));
        let gains = people * (cooling::PERSON + cooling::PERSON_MOISTURE) + cooling::APPLIANCES + given.sum::<f64>();
        let load = through + sun + gains;
        let inputs = vec![
            Amount::Of(Dimension::Temperature, hot.celsius),
            Amount::Of(Dimension::Temperature, inside),
            Watts(through).into(),
            Amount::Word(format!("{} W/m²", crate::units::significant(peak, 3))),
            Watts(sun).into(),
            Watts(gains).into(),
        ];
        let capacity: f64 = coolers.iter().filter_map(|p| Some(p.roles.cooling().get()?.0 * p.times())).sum();
        ledger.enter(&f::COOLING_LOAD, "heat", Watts(load), inputs, Some(at_most(Watts(capacity))));
        load
    });
    let capacity: f64 = coolers.iter().filter_map(|p| Some(p.roles.cooling().get()?.0 * p.times())).sum();
    let by_load = load.filter(|_| capacity > 0.0).map(|l| (l / capacity).min(1.0));
    let duty = by_load.or_else(|| first.roles.duty().get().map(|r| r.0)).unwrap_or(1.0);
    let draw: f64 = coolers.iter().filter_map(|p| Some(p.roles.draw().get()?.0 * p.times())).sum();
    let energy: f64 = electrical.banks.values().map(|b| b.usable.0).sum();
    let run_time = (energy > 0.0).then(|| cooling::run_time(energy, draw, duty)).flatten();
    if let Some(time) = run_time {
        let inputs = vec![Amount::Of(Dimension::Energy, energy), Watts(draw).into(), Ratio(duty).into()];
        ledger.enter(&f::COOLING_TIME, "heat", Seconds(time), inputs, None);
    }
    heat.cooling = Some(Cooling { outdoors: hot, load, capacity, duty, run_time });
}
