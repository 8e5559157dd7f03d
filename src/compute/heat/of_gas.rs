//! Gas: what all flames behind a regulator use.

use super::figures::{GasDemand, Heat, gas_burners};
use super::fuel::{Fuel, PROPANE_PER_KILOGRAM};
use crate::build::{Build, Part};
use crate::compute::formulas::heat as f;
use crate::compute::ledger::{Amount, Ledger, at_most};
use crate::units::Kilograms;
use std::collections::BTreeMap;

/// Lines are followed upstream no further than this: a ring of them ends nowhere.
const LINES: usize = 16;

/// Gas that a part uses in an hour at its most, kg; LPG told in litres is counted by the heat in it.
fn an_hour(part: &Part<'_>) -> Option<f64> {
    let liquid = || part.roles.fuel_per_hour().get().map(|l| l.0 * Fuel::Lpg.per_litre() / PROPANE_PER_KILOGRAM);
    let one = part.roles.gas_per_hour().get().map(|m| m.0).or_else(liquid)?;
    Some(one * part.times())
}

/// The lines by what they feed.
fn lines<'a>(build: &'a Build<'_>) -> BTreeMap<&'a str, &'a Part<'a>> {
    let fed = |part: &'a Part<'a>| Some((part.roles.gas_line.as_ref()?.to.first()?, part));
    build.parts.values().filter_map(fed).collect()
}

/// The regulator that gas comes from to `part`, along its lines.
fn regulator<'a>(build: &'a Build<'_>, lines: &BTreeMap<&str, &'a Part<'a>>, part: &str) -> Option<&'a str> {
    let mut line = *lines.get(part)?;
    for _ in 0..LINES {
        let from = line.roles.gas_line.as_ref()?.from.first()?;
        let before = build.parts.get(from)?;
        if before.roles.gas_regulator.is_some() {
            return Some(&before.id);
        }
        line = before;
    }
    None
}

pub(super) fn gas(heat: &mut Heat, build: &Build<'_>, ledger: &mut Ledger) {
    let regulators: Vec<&Part<'_>> = build.parts.values().filter(|p| p.roles.gas_regulator.is_some()).collect();
    if !regulators.is_empty() {
        demands(heat, build, &regulators, ledger);
    }
}

fn demands(heat: &mut Heat, build: &Build<'_>, regulators: &[&Part<'_>], ledger: &mut Ledger) {
    let lines = lines(build);
    let only = (regulators.len() == 1).then(|| regulators[0].id.as_str());
    let mut used: BTreeMap<&str, f64> = BTreeMap::new();
    for part in gas_burners(build) {
        let (Some(from), Some(gas)) = (regulator(build, &lines, &part.id).or(only), an_hour(part)) else { continue };
        *used.entry(from).or_default() += gas;
    }
    for part in regulators {
        let capacity = part.roles.gas_regulator.as_ref().and_then(|r| r.capacity_per_hour.get());
        let (Some(used), Some(capacity)) = (used.get(part.id.as_str()), capacity) else { continue };
        let limit = Some(at_most(Amount::from(capacity)));
        ledger.enter(&f::GAS_DEMAND, &part.id, Kilograms(*used), Vec::new(), limit);
        heat.gas.insert(part.id.clone(), GasDemand { used: Kilograms(*used), capacity });
    }
}
