//! Run time of one load alone, and time to fill the bank from one source.

use super::need::{self, Inverter, Load, LoadKind};
use super::store::Store;
use super::supply::Steady;
use crate::build::Build;
use crate::compute::electrical::battery;
use crate::fields::Field;
use crate::units::{Ratio, Seconds, WattHours, Watts};
use indexmap::IndexMap;
use serde::Serialize;

/// How long the bank feeds one load alone.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct RunTime {
    /// Power of the load while it runs.
    pub power: Watts,
    /// Duty assumed.
    pub duty: Ratio,
    /// Mean power at the bank, inverter included.
    pub at_bank: Watts,
    /// Time from full to the reserve.
    pub time: Seconds,
    /// Time that is wanted.
    pub goal: Option<Seconds>,
}

impl RunTime {
    /// Whether it runs as long as is wanted; so it does where nobody wants anything.
    #[must_use]
    pub fn reaches_goal(&self) -> bool {
        self.goal.is_none_or(|goal| self.time.0 >= goal.0 * (1.0 - 1e-9))
    }
}

/// Time that a part must run on a full bank: its own goal, or that of the van for what cools the air.
#[must_use]
pub fn run_goal<'b>(build: &'b Build<'_>, id: &str) -> Option<&'b Field<Seconds>> {
    let part = build.parts.get(id)?;
    let own = part.roles.load.as_ref().map(|load| &load.run_goal).filter(|goal| goal.get().is_some());
    let of_van = need::cools_the_air(part).then_some(&build.goals.cooling);
    own.or(of_van).filter(|goal| goal.get().is_some())
}

/// Time to fill the bank from the reserve, with all loads off.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Filling {
    /// What drives the charger.
    pub by: Steady,
    /// Power at the bank within its limit.
    pub power: Watts,
    /// Time from the reserve to full. The last hours at falling current are not counted.
    pub time: Seconds,
}

/// Run time of every part that draws from the bank, on all its supplies together.
pub(super) fn run_times(
    build: &Build<'_>,
    store: &Store,
    loads: &IndexMap<String, Load>,
    inverters: &IndexMap<String, Inverter>,
    cooling: Option<Ratio>,
) -> IndexMap<String, RunTime> {
    let usable = store.full - store.reserve;
    // A cooler runs as on the hottest usual day.
    let duty = |load: &Load| cooling.filter(|_| load.cooler).unwrap_or_else(|| load.duty_assumed());
    let at_bank = |load: &Load| {
        let mean = load.power * duty(load).0;
        match &load.kind {
            LoadKind::Dc => Some(mean * (1.0 / load.arrives.0)),
            LoadKind::Inverter(id) => {
                let inverter = inverters.get(id)?;
                Some(mean / inverter.efficiency.0 + inverter.idle)
            }
            LoadKind::Shore => None,
        }
    };
    let mut parts: IndexMap<&str, (Watts, Ratio, Watts)> = IndexMap::new();
    for (load, at_bank) in loads.values().filter_map(|load| Some((load, at_bank(load)?))) {
        let (power, _, all) = parts.entry(&load.part).or_insert((Watts(0.0), duty(load), Watts(0.0)));
        (*power, *all) = (*power + load.power, *all + at_bank);
    }
    let run = |id: &str, (power, duty, at_bank): (Watts, Ratio, Watts)| {
        let time = battery::run_time(usable, at_bank)?;
        Some(RunTime { power, duty, at_bank, time, goal: run_goal(build, id).and_then(Field::get) })
    };
    parts.into_iter().filter_map(|(id, all)| Some((id.to_owned(), run(id, all)?))).collect()
}

/// Time to fill by every steady charger.
pub(super) fn fillings(store: &Store, chargers: &IndexMap<String, (Steady, Watts)>) -> IndexMap<String, Filling> {
    let one = |by: Steady, offered: Watts| {
        let power = store.most_in.map_or(offered, |most| most.min(offered));
        Some(Filling { by, power, time: fill(store, power)? })
    };
    chargers.iter().filter_map(|(id, (by, power))| Some((id.clone(), one(*by, *power)?))).collect()
}

/// Time from the reserve to full at a mean power. `None` where it is not above zero.
pub(super) fn fill(store: &Store, power: Watts) -> Option<Seconds> {
    battery::run_time(WattHours(store.full.0 - store.reserve.0), power * store.efficiency.0)
}
