//! Fuel of a heating night, and whether tank and cylinders last.

use super::figures::{Burnt, FuelSupply, Heat, of_role};
use super::fuel::{self, Fuel, PROPANE_PER_KILOGRAM};
use crate::build::{Build, Part};
use crate::compute::formulas::heat as f;
use crate::compute::ledger::{Amount, Ledger, at_most};
use crate::compute::network::count;
use crate::kinds::{SafetyRole, ThermalRole};
use crate::units::{Dimension, Ratio, Seconds, Watts};

/// A heating night, s. Source: [`crate::tables::sources::HEATING_NIGHT`].
pub(super) const NIGHT: f64 = 12.0 * 3600.0;

/// Fuel that a burner uses, by the spec's word.
#[must_use]
pub fn fuel_word<'a>(part: &'a Part<'_>) -> Option<&'a str> {
    let safety = part.kind.safety.as_ref()?;
    safety.fuel.as_deref().or_else(|| part.roles.fuel().text())
}

pub(super) fn fuel(heat: &mut Heat, build: &Build<'_>, ledger: &mut Ledger) {
    for part in of_role(build, ThermalRole::Heater) {
        let Some(word) = fuel_word(part) else { continue };
        let Some(kind) = Fuel::parse(word) else { continue };
        let output = part.roles.heat_output().get().map(|w| w.0).filter(|w| *w > 0.0);
        let per_hour = part.roles.fuel_per_hour().get().map(|q| q.0);
        let efficiency = output.zip(per_hour).and_then(|(w, l)| fuel::efficiency(kind, w, l));
        // Several heaters share the loss by their output.
        let share = output.zip(heat.output).filter(|(_, all)| *all > 0.0).map(|(own, all)| own * part.times() / all);
        let watts = share.zip(heat.loss).map(|(share, loss)| share * loss);
        let night = watts.zip(efficiency).and_then(|(w, e)| fuel::litres(kind, w, NIGHT, e));
        if let (Some(night), Some(watts), Some(efficiency)) = (night, watts, efficiency) {
            let value = Amount::Of(Dimension::FuelHeat, kind.per_litre());
            let inputs = vec![Watts(watts).into(), Seconds(NIGHT).into(), Ratio(efficiency).into(), value];
            ledger.enter(&f::NIGHT_FUEL, &part.id, Amount::Of(Dimension::Volume, night), inputs, None);
        }
        heat.heaters.insert(part.id.clone(), Burnt { fuel: word.to_owned(), efficiency, night });
    }
    let Some(nights) = build.usage.nights_off_grid.get().map(count) else { return };
    for (word, kind) in [("diesel", Fuel::Diesel), ("petrol", Fuel::Petrol), ("lpg", Fuel::Lpg)] {
        let Some(aboard) = aboard(build, word, kind) else { continue };
        let night: f64 = heat.heaters.values().filter(|b| b.fuel == word).filter_map(|b| b.night).sum();
        let other: f64 =
            burners(build).filter(|p| fuel_word(p) == Some(word)).filter_map(|p| by_the_hour(p, kind)).sum();
        let daily = night * kind.per_litre() * 1000.0 + other;
        if daily <= 0.0 || nights <= 0.0 {
            continue;
        }
        let need = daily * nights;
        let inputs = vec![
            Amount::Of(Dimension::Energy, night * kind.per_litre() * 1000.0),
            Amount::Of(Dimension::Energy, other),
            nights.into(),
        ];
        let limit = Some(at_most(Amount::Of(Dimension::Energy, aboard)));
        ledger.enter(&f::FUEL_NEED, word, Amount::Of(Dimension::Energy, need), inputs, limit);
        heat.fuels.insert(word.to_owned(), FuelSupply { need, aboard, nights });
    }
}

fn burners<'a>(build: &'a Build<'_>) -> impl Iterator<Item = &'a Part<'a>> {
    build.parts.values().filter(|p| p.kind.safety.as_ref().is_some_and(|s| s.role == SafetyRole::Burner))
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
