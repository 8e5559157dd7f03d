//! What the loads need, hour by hour, at the busbar of the bank.

use super::feed::{self, Feed};
use super::{Hours, add, follow, pattern};
use crate::build::{Build, Part};
use crate::compute::climate_day::air;
use crate::compute::heat::{Heat, is_outside};
use crate::kinds::{DayPart, Follows, Network, Role, ThermalRole};
use crate::roles::Device;
use crate::units::{Celsius, Ratio, Seconds, Volts, Watts};
use indexmap::IndexMap;
use serde::Serialize;

/// On which side of the inverter a load is.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum LoadKind {
    /// On the bank.
    Dc,
    /// On this inverter.
    Inverter(String),
    /// On shore power only: no load of the bank.
    Shore,
}

/// A load as the account sees it: a part on one of its supplies.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Load {
    /// Id of the part; of a device that is plugged in "use." and its own.
    pub part: String,
    /// What feeds it.
    pub kind: LoadKind,
    /// Power of all of them while they run.
    pub power: Watts,
    /// Share of the time on that they run; `None` where the spec and the kind say nothing.
    pub duty: Option<Ratio>,
    /// Hours of use a day; `None` where it is on around the clock.
    pub hours: Option<Seconds>,
    /// Part of the day for the hours.
    pub at: DayPart,
    /// Outside temperature it follows.
    pub follows: Option<Follows>,
    /// Switching point of a frost thermostat, where it has one.
    pub on_below: Option<Celsius>,
    /// Share of what leaves the bank for it that arrives, through the converters before it.
    #[serde(skip)]
    pub arrives: Ratio,
    /// It cools the van: it runs as the climate day says.
    #[serde(skip)]
    pub cooler: bool,
    /// Power at full output, where `power` is a mean.
    #[serde(skip)]
    pub full: Watts,
    /// What it keeps from freezing loses so much for each kelvin, W/K; `None` where that is not known.
    #[serde(skip)]
    pub per_kelvin: Option<f64>,
    /// It stands outside the heated space.
    #[serde(skip)]
    pub outside: bool,
}

/// What the weather and the day do to the loads.
pub(super) struct Day<'a> {
    /// Outside temperature by hour, °C.
    pub(super) air: &'a Hours,
    /// Share of each hour that is driven.
    pub(super) drive: &'a Hours,
    /// People heat the living space.
    pub(super) heated: bool,
    /// Share of each hour in which the compressor of the coolers runs, where the shell is told.
    pub(super) compressor: Option<&'a Hours>,
    /// Temperature in the heated space by hour, °C, where the shell is told.
    pub(super) inside: Option<&'a Hours>,
    /// What the heaters give as a share of their output, where the shell is told.
    pub(super) heater: Option<&'a Hours>,
}

impl Load {
    /// Share of the time on that is reckoned with: the declared duty, else all of it.
    #[must_use]
    pub fn duty_assumed(&self) -> Ratio {
        self.duty.unwrap_or(Ratio(1.0))
    }

    /// Whether the climate day says when it runs.
    pub(super) fn runs_by(&self, day: &Day<'_>) -> bool {
        match self.follows {
            Some(Follows::ColdBox) => day.inside.is_some() && !self.outside,
            Some(Follows::Heating) => day.heater.is_some(),
            Some(Follows::Cooling) => day.compressor.is_some() && self.cooler,
            Some(Follows::Frost) => self.on_below.is_some() && (self.per_kelvin.is_some() || day.inside.is_some()),
            None => false,
        }
    }

    /// Mean power by hour, W.
    pub(super) fn by_hour(&self, day: &Day<'_>) -> Hours {
        if let Some(runs) = day.compressor.filter(|_| self.cooler) {
            return runs.map(|share| self.power.0 * share);
        }
        let duty = self.duty_assumed().0;
        let on = match self.hours {
            Some(hours) if self.follows == Some(Follows::Cooling) => air::hottest(hours.0 / 3600.0, day.air),
            Some(hours) => pattern::shares(hours.0 / 3600.0, self.at, day.drive),
            None => [1.0; 24],
        };
        std::array::from_fn(|hour| {
            let outside = day.air[hour];
            let inside = day.inside.filter(|_| !self.outside).map(|inside| inside[hour]);
            let share = match self.follows {
                Some(Follows::ColdBox) => {
                    follow::cold_box(duty, inside.unwrap_or_else(|| follow::around_cold_box(outside, day.heated)))
                }
                Some(Follows::Heating) => match day.heater {
                    Some(given) => return follow::heater(self.power.0, self.full.0, given[hour]) * on[hour],
                    None => follow::heating(duty, outside, hour),
                },
                Some(Follows::Cooling) => follow::cooling(duty, outside),
                Some(Follows::Frost) => self.on_below.map_or(0.0, |warm| match self.per_kelvin {
                    Some(lost) => follow::kept_warm(self.power.0, lost, warm.0, outside),
                    None => follow::frost(duty, inside.unwrap_or(outside), warm.0),
                }),
                None => duty.clamp(0.0, 1.0),
            };
            self.power.0 * share * on[hour]
        })
    }
}

/// What an inverter takes for itself.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Inverter {
    pub(super) idle: Watts,
    pub(super) efficiency: Ratio,
    pub(super) hours: Seconds,
    at: DayPart,
}

/// Need of a typical day by hour, W at the busbar.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Need {
    /// By load, at the load itself.
    pub loads: IndexMap<String, Hours>,
    /// DC loads, with what the converters before them lose and take for themselves.
    pub dc: Hours,
    /// AC loads, behind the inverter.
    pub ac: Hours,
    /// Lost in inverters under load.
    pub inverter_loss: Hours,
    /// Taken by inverters for themselves while they are on.
    pub idle: Hours,
}

impl Need {
    /// All of it at the busbar.
    #[must_use]
    pub fn total(&self) -> Hours {
        std::array::from_fn(|h| self.dc[h] + self.ac[h] + self.inverter_loss[h] + self.idle[h])
    }
}

/// The loads of a build that draw power: by the id of the part, and by that of its circuit for a second supply.
pub(super) fn loads(build: &Build<'_>, heat: &Heat, volts: Option<Volts>) -> IndexMap<String, Load> {
    let draws = |p: &&Part<'_>| matches!(p.role(), Some(Role::Load | Role::Display)) || feed::is_maintainer(build, p);
    let drawing = build.parts.values().filter(draws);
    let of_parts = drawing.flat_map(|part| [first(build, heat, part, volts), second(build, heat, part)]).flatten();
    let of_parts = of_parts.chain(build.parts.values().filter_map(|part| coil(build, part)));
    of_parts.chain(build.devices.iter().filter_map(|(id, device)| plugged_in(build, id, device))).collect()
}

/// What people plug into an outlet.
fn plugged_in(build: &Build<'_>, id: &str, device: &Device) -> Option<(String, Load)> {
    let outlet = build.parts.get(device.plugged_into.first()?).filter(|p| p.role() == Some(Role::Outlet))?;
    let load = Load {
        part: format!("use.{id}"),
        kind: fed_by(build, outlet, outlet.electric()?.network)?,
        power: device.power.get()?,
        full: device.power.get()?,
        per_kelvin: None,
        outside: false,
        duty: None,
        hours: device.hours.get(),
        at: device.at.text().and_then(DayPart::from_word).unwrap_or_default(),
        follows: None,
        on_below: None,
        arrives: feed::through_converters(build, &outlet.id),
        cooler: false,
    };
    Some((load.part.clone(), load))
}

fn first(build: &Build<'_>, heat: &Heat, part: &Part<'_>, volts: Option<Volts>) -> Option<(String, Load)> {
    let kind = fed_by(build, part, part.electric()?.network)?;
    let volts = volts.map(|house| feed::at(build, &part.id, house));
    let by_current = || Some(volts? * part.roles.current().get().filter(|_| kind == LoadKind::Dc)?);
    let one = part.roles.draw().get().or_else(by_current).or_else(|| feed::maintained(build, part))?;
    Some((part.id.clone(), load(build, heat, part, kind, one)))
}

/// What a part draws on its second supply, in the same hours.
fn second(build: &Build<'_>, heat: &Heat, part: &Part<'_>) -> Option<(String, Load)> {
    let circuit = build.arriving(&part.id).find(|c| c.end.is_second())?;
    let kind = fed_by(build, part, circuit.network)?;
    Some((circuit.id.clone(), load(build, heat, part, kind, part.roles.second_draw().get()?)))
}

/// What the coil of a relay takes for as long as it holds its contact closed: as long as anything behind it is switched on.
/// One that a bank's own protection works is never off.
fn coil(build: &Build<'_>, part: &Part<'_>) -> Option<(String, Load)> {
    let coil = part.roles.coil.as_ref().filter(|coil| !coil.latching.is_set())?;
    // What is worked in words alone, like an ignition feed, is fed by what the words tell.
    let of_vehicle = !coil.worked_at.given && coil.worked_by.given;
    let feeder = coil.coil_from.first().or_else(|| part.supply.fed_from.first());
    let feeder = feeder.filter(|id| !of_vehicle && feed::on_bank(build, id))?;
    let power = (coil.coil_voltage.get()? * coil.coil_current.get()?) * part.times();
    let behind = build.downstream(&part.id).along(|c| c.network == Network::Dc && c.feeding.draws()).parts();
    let users = behind.filter(|p| matches!(p.role(), Some(Role::Load | Role::Display)));
    let used: Option<Vec<(Seconds, DayPart)>> =
        users.map(|p| Some((p.roles.hours().get()?, p.kind.energy.at))).collect();
    // One that is on around the clock has no hours.
    let longest = used.into_iter().flatten().reduce(|most, one| if one.0.0 > most.0.0 { one } else { most });
    let (hours, at) = match longest.filter(|_| part.roles.bank_path.is_none()) {
        Some((hours, at)) => (Some(hours), at),
        None => (None, DayPart::default()),
    };
    let load = Load {
        part: part.id.clone(),
        kind: LoadKind::Dc,
        power,
        full: power,
        per_kelvin: None,
        outside: false,
        duty: None,
        hours,
        at,
        follows: None,
        on_below: None,
        arrives: feed::leaving_converters(build, feeder),
        cooler: false,
    };
    Some((part.id.clone(), load))
}

fn fed_by(build: &Build<'_>, part: &Part<'_>, network: Network) -> Option<LoadKind> {
    match feed::of(build, part, network) {
        Feed::Bank => Some(LoadKind::Dc),
        Feed::Inverter(id) => Some(LoadKind::Inverter(id)),
        Feed::Shore => Some(LoadKind::Shore),
        Feed::Other => None,
    }
}

fn load(build: &Build<'_>, heat: &Heat, part: &Part<'_>, kind: LoadKind, one: Watts) -> Load {
    let usage = part.kind.energy;
    let held = heat.pads.get(&part.id).or_else(|| heat.traces.get(&part.id));
    let kept = part.roles.tank().first().and_then(|tank| build.parts.get(tank)).unwrap_or(part);
    Load {
        part: part.id.clone(),
        kind,
        power: one * part.times(),
        duty: part.roles.duty().get(),
        hours: part.roles.hours().get(),
        at: usage.at,
        follows: usage.follows,
        on_below: part.roles.on_below().get(),
        arrives: feed::through_converters(build, &part.id),
        cooler: cools_the_air(part),
        full: part.roles.full_draw().get().unwrap_or(one) * part.times(),
        per_kelvin: held.map(|h| h.per_kelvin),
        outside: is_outside(build, kept),
    }
}

/// Whether a part is an air conditioner that runs as the heat of the day asks.
#[must_use]
pub fn cools_the_air(part: &Part<'_>) -> bool {
    part.kind.energy.follows == Some(Follows::Cooling)
        && part.kind.thermal.is_some_and(|t| t.role == ThermalRole::Cooler)
}

/// Inverters that hang on the bank.
pub(super) fn inverters(build: &Build<'_>) -> IndexMap<String, Inverter> {
    let all = build.parts.values().filter(|p| matches!(p.role(), Some(Role::Inverter | Role::InverterCharger)));
    let one = |p: &Part<'_>| {
        Some(Inverter {
            idle: p.roles.idle_draw().get()? * p.times(),
            efficiency: Ratio(p.roles.efficiency().get()?.0.clamp(0.1, 1.0)),
            hours: p.roles.hours().get()?,
            at: p.kind.energy.at,
        })
    };
    all.filter(|p| feed::on_bank(build, &p.id)).filter_map(|p| Some((p.id.clone(), one(p)?))).collect()
}

/// What the converters on the bank take for themselves, day and night.
pub(super) fn converters(build: &Build<'_>) -> Watts {
    let all = build.parts.values().filter(|p| p.role() == Some(Role::Converter) && feed::on_bank(build, &p.id));
    all.filter_map(|p| Some(p.roles.idle_draw().get()? * p.times())).sum()
}

/// Need of a day away from shore power.
pub(super) fn off_grid(
    loads: &IndexMap<String, Load>,
    inverters: &IndexMap<String, Inverter>,
    converters: Watts,
    day: &Day<'_>,
) -> Need {
    let mut need = Need { dc: [converters.0; 24], ..Need::default() };
    let mut on: IndexMap<&str, Hours> =
        inverters.iter().map(|(id, i)| (id.as_str(), pattern::shares(i.hours.0 / 3600.0, i.at, day.drive))).collect();
    for (id, load) in loads {
        let hours = load.by_hour(day);
        match &load.kind {
            LoadKind::Dc => add(&mut need.dc, &hours.map(|w| w / load.arrives.0)),
            LoadKind::Inverter(inverter) => {
                let Some(efficiency) = inverters.get(inverter).map(|i| i.efficiency.0) else { continue };
                add(&mut need.ac, &hours);
                add(&mut need.inverter_loss, &hours.map(|w| w / efficiency - w));
                if let Some(on) = on.get_mut(inverter.as_str()).filter(|_| load.power.0 > 0.0) {
                    // Nobody uses an AC load with the inverter off.
                    on.iter_mut().zip(&hours).for_each(|(on, w)| *on = on.max((w / load.power.0).min(1.0)));
                }
            }
            LoadKind::Shore => continue,
        }
        need.loads.insert(id.clone(), hours);
    }
    for (id, inverter) in inverters {
        if let Some(on) = on.get(id.as_str()) {
            add(&mut need.idle, &on.map(|share| share * inverter.idle.0));
        }
    }
    need
}
