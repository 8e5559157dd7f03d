//! Fuel of the coldest usual day, and whether tank and cylinders last.

use super::figures::{Burnt, ClimateDays, FuelSupply};
use crate::build::{Build, Part};
use crate::compute::formulas::heat as f;
use crate::compute::heat::fuel::{self, Fuel, PROPANE_PER_KILOGRAM};
use crate::compute::heat::{Heat, burners, fuel_word, parts_of};
use crate::compute::ledger::{Amount, Ledger, at_most};
use crate::compute::network::count;
use crate::kinds::{SafetyRole, ThermalRole};
use crate::units::{Celsius, Dimension, Ratio, Seconds, WattHours};

/// What heats on the coldest usual day, and what it burns.
pub(super) fn burn(days: &mut ClimateDays, build: &Build<'_>, heat: &Heat, ledger: &mut Ledger) {
    let coldest = heat.coldest.as_ref().and_then(|c| days.days.get(&c.climate));
    let day = coldest.and_then(|d| Some((d.inside.as_ref()?, &d.weather))).filter(|(_, w)| w.low.0 < heat.inside);
    let given = day.map(|(inside, _)| inside.heated.iter().sum::<f64>());
    if let (Some((inside, weather)), Some(given)) = (day, given) {
        let [through, gains, _] = inside.heat.map(|joules| joules / 3600.0);
        let output = heat.output.filter(|w| *w > 0.0);
        let runs = output.map_or_else(|| Amount::Word("no heater".to_owned()), |w| Seconds(given / w * 3600.0).into());
        let [low, high] = [weather.low, weather.high].map(|t: Celsius| t.into());
        let inputs = vec![low, high, WattHours(-through).into(), WattHours(gains).into(), runs];
        ledger.enter(&f::HEATING_DAY, "heat", WattHours(given), inputs, None);
    }
    for part in parts_of(build, ThermalRole::Heater) {
        let Some(word) = fuel_word(part) else { continue };
        let Some(kind) = Fuel::parse(word) else { continue };
        let output = part.roles.heat_output().get().map(|w| w.0).filter(|w| *w > 0.0);
        let per_hour = part.roles.fuel_per_hour().get().map(|q| q.0);
        let efficiency = output.zip(per_hour).and_then(|(w, l)| fuel::efficiency(kind, w, l));
        // Several heaters share the heat by their output.
        let share = output.zip(heat.output).filter(|(_, all)| *all > 0.0).map(|(own, all)| own * part.times() / all);
        let own = share.zip(given).map(|(share, given)| share * given);
        let litres = own.zip(efficiency).and_then(|(wh, e)| fuel::litres(kind, wh, 3600.0, e));
        if let (Some(litres), Some(own), Some(efficiency)) = (litres, own, efficiency) {
            let value = Amount::Of(Dimension::FuelHeat, kind.per_litre());
            let inputs = vec![WattHours(own).into(), Ratio(efficiency).into(), value];
            ledger.enter(&f::DAY_FUEL, &part.id, Amount::Of(Dimension::Volume, litres), inputs, None);
        }
        days.heaters.insert(part.id.clone(), Burnt { fuel: word.to_owned(), efficiency, day: litres });
    }
    let Some(nights) = build.goals.nights.get().map(count) else { return };
    for (word, kind) in [("diesel", Fuel::Diesel), ("petrol", Fuel::Petrol), ("lpg", Fuel::Lpg)] {
        let Some(aboard) = aboard(build, word, kind) else { continue };
        let heated: f64 = days.heaters.values().filter(|b| b.fuel == word).filter_map(|b| b.day).sum();
        let other: f64 =
            burners(build).filter(|p| fuel_word(p) == Some(word)).filter_map(|p| by_the_hour(p, kind)).sum();
        let daily = heated * kind.per_litre() * 1000.0 + other;
        if daily <= 0.0 || nights <= 0.0 {
            continue;
        }
        let need = daily * nights;
        let inputs = vec![
            Amount::Of(Dimension::Energy, heated * kind.per_litre() * 1000.0),
            Amount::Of(Dimension::Energy, other),
            nights.into(),
        ];
        let limit = Some(at_most(Amount::Of(Dimension::Energy, aboard)));
        ledger.enter(&f::FUEL_NEED, word, Amount::Of(Dimension::Energy, need), inputs, limit);
        days.fuels.insert(word.to_owned(), FuelSupply { need, aboard, nights });
    }
}

/// Heat in the fuel that a burner uses in the hours of a day in which it burns, Wh. `None` for heaters of the air: they
/// follow the cold.
fn by_the_hour(part: &Part<'_>, kind: Fuel) -> Option<f64> {
    let burns = part.roles.burner_hours().get().or_else(|| part.roles.hours().get());
    let hours = burns?.0 / 3600.0;
    let liquid = part.roles.fuel_per_hour().get().map(|q| q.0).map(|l| l * kind.per_litre());
    let gas = || part.roles.gas_per_hour().get().map(|m| m.0 * PROPANE_PER_KILOGRAM);
    Some(liquid.or_else(gas)? * hours * part.times() * 1000.0)
}

/// Heat in the fuel aboard, Wh: the vehicle's tank above what the pick-up leaves, or full cylinders.
fn aboard(build: &Build<'_>, word: &str, kind: Fuel) -> Option<f64> {
    if kind == Fuel::Lpg {
        let lockers =
            build.parts.values().filter(|p| p.kind.safety.as_ref().is_some_and(|s| s.role == SafetyRole::LpgLocker));
        let gas = lockers.filter_map(|p| {
            let cylinders = count(p.roles.cylinders().get()?);
            Some(p.roles.cylinder_gas().get()?.0 * cylinders * p.times())
        });
        let all: f64 = gas.sum();
        return (all > 0.0).then_some(all * PROPANE_PER_KILOGRAM * 1000.0);
    }
    if build.vehicle.fuel.text() != Some(word) {
        return None;
    }
    let tank = build.vehicle.fuel_tank.get()?.0;
    let reserves = burners(build).filter_map(|p| p.roles.fuel_reserve().get().map(|q| q.0));
    let reserve = reserves.fold(0.0, f64::max);
    Some((tank - reserve).max(0.0) * kind.per_litre() * 1000.0)
}
