//! Loading of panels, busbars and in-line devices; of inverters and shore inlets.

use super::plugged_in::{at_one_time, devices_on};
use super::{Demand, Electrical, demand};
use crate::build::{Build, Feeding, Part};
use crate::compute::electrical::ac;
use crate::kinds::{Network, Role};
use crate::units::{Amps, Ratio, Watts};
use indexmap::IndexMap;
use serde::Serialize;

/// A part that current passes through.
#[derive(Clone, Debug, Serialize)]
pub struct Panel {
    /// Largest lasting current through it.
    pub carried: Amps,
    /// What its rating is held to where it has to last: the design current of what feeds it; of a consumer unit that of
    /// all behind it, whatever its main breaker lets through.
    pub design: Amps,
    /// What all behind a consumer unit takes at one time, whatever its main breaker lets through.
    pub wanted: Option<Amps>,
    /// Rating, if the spec or kind gives one.
    pub rating: Option<Amps>,
    /// Ways used, where it has ways.
    pub used: u32,
    /// Ways there are, where it has ways.
    pub ways: Option<u32>,
    /// Sum of what the ways feed, before diversity.
    pub connected: Amps,
    /// Share that runs together.
    pub diversity: Ratio,
    /// What each line of a split-phase supply carries; `None` where one arrives.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub lines: Option<[Amps; 2]>,
}

pub(super) fn panels(build: &Build<'_>, all: &Electrical) -> IndexMap<String, Panel> {
    let passing = build.parts.values().filter(|p| p.role().is_some_and(Role::passes_through));
    passing.map(|p| (p.id.clone(), panel(build, all, p))).collect()
}

fn panel(build: &Build<'_>, all: &Electrical, part: &Part<'_>) -> Panel {
    let load = |id: &str| all.circuits.get(id).map_or(Amps(0.0), |c| c.demand.load);
    let fed: Amps =
        build.arriving(&part.id).filter(|c| c.owner == part.id).map(|c| load(&c.id)).fold(Amps(0.0), Amps::max);
    let connected: Amps = build.leaving(&part.id).filter(|c| c.feeding.draws()).map(|c| load(&c.id)).sum();
    let charged: Amps = build.arriving(&part.id).filter(|c| c.feeding == Feeding::Output).map(|c| load(&c.id)).sum();
    let diversity = demand::diversity(part);
    let whole = |n: Option<i64>| n.and_then(|n| u32::try_from(n).ok());
    let known = |id: &str| all.circuits.get(id).map(|c| c.demand);
    let is_ac_panel = part.role() == Some(Role::AcPanel);
    let volts = all.profile.ac.volts;
    let wanted = is_ac_panel.then(|| demand::behind(build, part, Network::Ac, volts, &known));
    let lines = (is_ac_panel && build.has_two_lines(&part.id))
        .then(|| demand::lines_behind(build, part, volts, &known).map(|line| line.load));
    Panel {
        carried: match part.electric().map(|e| (e.role, e.network)) {
            Some((Role::AcPanel, _)) => fed,
            // `connected` may hold charge current of a part further on, which does not add to what is drawn.
            Some((_, Network::Dc)) if fed.0 > 0.0 => fed.max(charged),
            _ => fed.max(connected * diversity.0).max(charged),
        },
        design: design(build, all, part, wanted),
        wanted: wanted.map(|w| w.load),
        rating: part.roles.rating().get(),
        used: build.leaving(&part.id).filter_map(|c| c.way).max().unwrap_or(0),
        ways: whole(part.roles.ways().get()).filter(|_| part.role().is_some_and(Role::has_ways)),
        connected,
        diversity,
        lines,
    }
}

/// Largest design current through a part.
fn design(build: &Build<'_>, all: &Electrical, part: &Part<'_>, wanted: Option<Demand>) -> Amps {
    if let Some(wanted) = wanted {
        return wanted.design(all.profile.continuous_factor);
    }
    let of = |id: &str| all.circuits.get(id).map_or(Amps(0.0), |c| c.design);
    let fed = build.arriving(&part.id).filter(|c| c.owner == part.id).map(|c| of(&c.id)).fold(Amps(0.0), Amps::max);
    let back: Amps = build.arriving(&part.id).filter(|c| c.feeding == Feeding::Output).map(|c| of(&c.id)).sum();
    fed.max(back)
}

/// Load on a source of AC.
#[derive(Clone, Debug, Serialize)]
pub struct AcSource {
    /// What it can give.
    pub capacity: Watts,
    /// Everything behind it that runs together, outlets left aside.
    pub fixed_load: Watts,
    /// The same with the devices on its outlets, as far as the spec tells of them.
    pub with_devices: Watts,
    /// Largest single fixed load.
    pub largest: Option<(String, Watts)>,
    /// Short surge it can give, where known.
    pub surge: Option<Watts>,
    /// Outlets behind it.
    pub outlets: usize,
}

pub(super) fn ac_sources(build: &Build<'_>, all: &Electrical) -> IndexMap<String, AcSource> {
    let is_source = |p: &&Part<'_>| p.role().is_some_and(Role::gives_ac);
    build.parts.values().filter(is_source).filter_map(|p| Some((p.id.clone(), ac_source(build, all, p)?))).collect()
}

fn ac_source(build: &Build<'_>, all: &Electrical, part: &Part<'_>) -> Option<AcSource> {
    let volts = all.profile.ac.volts;
    let capacity = match part.role() {
        // Each line gives its rating.
        Some(Role::Inlet) if build.has_two_lines(&part.id) => {
            ac::supply_capacity(part.roles.rating().get()?, volts) * 2.0
        }
        Some(Role::Inlet) => ac::supply_capacity(part.roles.rating().get()?, volts),
        _ => part.roles.power().get()? * part.times(),
    };
    let from_shore = matches!(part.role(), Some(Role::Inlet | Role::Generator));
    let mut loads = IndexMap::new();
    let mut outlets = Vec::new();
    let mut open = vec![(part.id.clone(), 1.0)];
    let mut seen = vec![part.id.clone()];
    while let Some((id, share)) = open.pop() {
        for circuit in build.leaving(&id).filter(|c| c.network == Network::Ac) {
            let Some(to) = build.parts.get(&circuit.to).filter(|t| !seen.contains(&t.id)) else { continue };
            seen.push(to.id.clone());
            match to.role() {
                Some(Role::Outlet) => outlets.push(to.id.as_str()),
                // A charger is never meant to run from the bank it charges.
                Some(Role::Charger) if !from_shore => {}
                Some(role) if role.passes_through() => {
                    open.push((to.id.clone(), share * demand::diversity(to).0));
                }
                Some(Role::InverterCharger) => open.push((to.id.clone(), share)),
                _ => {
                    let taken = all.circuits.get(&circuit.id).map_or(Watts(0.0), |c| c.nominal * c.demand.load);
                    loads.insert(to.id.clone(), taken * share);
                }
            }
        }
    }
    let fixed = || {
        loads.iter().map(|(id, watts)| (build.parts.get(id).and_then(|p| p.roles.load.as_ref()?.one_of.text()), *watts))
    };
    let largest = loads.iter().fold(None, |top: Option<(String, Watts)>, (id, w)| match top {
        Some((_, t)) if t >= *w => top,
        _ => Some((id.clone(), *w)),
    });
    Some(AcSource {
        capacity,
        fixed_load: at_one_time(fixed()),
        with_devices: at_one_time(fixed().chain(devices_on(build, |outlet| outlets.contains(&outlet)))),
        largest,
        surge: part.roles.surge_power().get().map(|w| w * part.times()),
        outlets: outlets.len(),
    })
}
