//! Facts of what is aboard: texts of kinds name a heater, a fan or a shower only where the van has one.

use crate::build::{Build, Part};
use crate::compute::isolation::names;
use crate::compute::network::is_end;
use crate::kinds::{Kind, Network, PlumbingRole, Role};
use crate::units::Litres;

fn named(build: &Build<'_>, is: impl Fn(&Part<'_>) -> bool) -> String {
    names(&build.parts.values().filter(|p| is(p)).collect::<Vec<_>>())
}

/// What the van has of a sort, by name; each "" where it has none.
pub(super) fn facts(build: &Build<'_>) -> Vec<(&'static str, String)> {
    let water = |role: PlumbingRole| move |k: &Kind| k.plumbing.as_ref().is_some_and(|w| w.role == role);
    let called = |word: &'static str| move |k: &Kind| k.is_called(word);
    let name = |fact: &'static str, is: &dyn Fn(&Kind) -> bool| (fact, named(build, |p| is(p.kind)));
    // A battery charger without mains, and mains without a charger, both give nothing to a bank.
    let charges = |p: &Part<'_>| p.kind.is_called("mains-charger") || p.role() == Some(Role::InverterCharger);
    let mains = build.parts.values().any(|p| p.role().is_some_and(Role::gives_ac));
    let inlet = build.parts.values().any(|p| p.role() == Some(Role::Inlet));
    vec![
        name("cooktops", &called("cooktops")),
        name("fans", &called("fans")),
        name("showers", &called("showers")),
        name("space_heaters", &called("space-heater")),
        name("stoves", &called("stoves")),
        name("strainers", &water(PlumbingRole::Strainer)),
        name("water_filters", &water(PlumbingRole::Filter)),
        name("water_heaters", &water(PlumbingRole::Heater)),
        ("shore_chargers", if inlet { named(build, charges) } else { String::new() }),
        ("fuel_left", fuel_left(build)),
        ("mains", if mains { "yes" } else { "" }.to_owned()),
    ]
}

/// What the pick-up leaves in the vehicle's tank: the most that a heater asks for.
fn fuel_left(build: &Build<'_>) -> String {
    let left = build.parts.values().filter_map(|p| p.roles.space_heater.as_ref()?.fuel_reserve.get().map(|l| l.0));
    left.reduce(f64::max).map_or_else(String::new, |litres| Litres(litres).show(build.prints()))
}

/// What is joined to a part of the water system or lies on it; "" where there is none.
pub(super) fn pipework(build: &Build<'_>, part: &Part<'_>) -> [(&'static str, String); 5] {
    let circuits = build.drain_circuits(part);
    let of = |role: PlumbingRole| move |p: &Part<'_>| p.kind.plumbing.as_ref().is_some_and(|w| w.role == role);
    let (is_pipe, is_trace) = (of(PlumbingRole::Pipe), of(PlumbingRole::Trace));
    let joins = |p: &Part<'_>| p.roles.from().names(&part.id) || p.roles.to().names(&part.id);
    let waste = |p: &Part<'_>| is_pipe(p) && p.roles.medium().text() == Some("waste") && joins(p);
    let is_joined = part.kind.plumbing.is_some();
    let said = |is: &dyn Fn(&Part<'_>) -> bool| if is_joined { named(build, is) } else { String::new() };
    [
        ("drain_circuits", circuits.iter().copied().collect::<Vec<_>>().join(", ")),
        ("drain_valves", if circuits.is_empty() { String::new() } else { circuits.len().to_string() }),
        ("drained_by", said(&|p| of(PlumbingRole::DrainValve)(p) && p.roles.drains().names(&part.id))),
        ("waste_runs", said(&waste)),
        ("traced_by", said(&|p| is_trace(p) && p.roles.protects().names(&part.id))),
    ]
}

/// Names of what mains reaches past an AC panel: they stay live when its main breaker is off. "" for all other parts.
pub(super) fn live_past(build: &Build<'_>, panel: &Part<'_>) -> String {
    if panel.role() != Some(Role::AcPanel) {
        return String::new();
    }
    let behind: Vec<&str> = build.downstream(&panel.id).map(|c| c.to.as_str()).collect();
    let before: Vec<&str> = build.upstream(&panel.id).map(|c| c.from.as_str()).collect();
    let ends = build.circuits.values().filter(|c| c.network == Network::Ac && is_end(build, c));
    let past = ends.filter(|c| !behind.contains(&c.to.as_str()) && !before.contains(&c.to.as_str()));
    let past: Vec<&str> = past.map(|c| c.to.as_str()).collect();
    named(build, |p| past.contains(&p.id.as_str()))
}

/// Names of the inverters whose mains comes to a part by AC cables.
pub(super) fn inverters_reach(build: &Build<'_>, part: &Part<'_>) -> String {
    let froms: Vec<&str> =
        build.upstream(&part.id).along(|c| c.network == Network::Ac).map(|c| c.from.as_str()).collect();
    let is_inverter = |p: &Part<'_>| matches!(p.role(), Some(Role::Inverter | Role::InverterCharger));
    named(build, |p| is_inverter(p) && froms.contains(&p.id.as_str()))
}
