//! Fuse finder: from what has stopped to its fuse, and the spare fuses to keep aboard.

use super::anchor;
use crate::build::{Build, Circuit, Feeding, Part};
use crate::compute::network::{CircuitFigures, Device, DeviceAt, Electrical};
use crate::documents::alike::Teller;
use crate::documents::{Context, facts};
use crate::kinds::{Network, Role};
use crate::tables::fuse_colours;
use crate::tables::fuse_series::Family;
use serde::Serialize;
use std::collections::BTreeMap;

/// A part and its fuse.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(crate) struct GuardRow {
    /// What stopped.
    pub name: String,
    /// Its section.
    pub link: String,
    /// Panel, or where the fuse sits in the cable.
    pub at: String,
    /// Way in the panel; "" for a fuse in the cable.
    pub way: String,
    /// Fuse or breaker.
    pub fuse: String,
    /// Colour of the fuse's body; "" where it has none.
    pub colour: String,
    /// It is too large for its cable, which earlier work left so.
    pub too_large: bool,
}

/// A fuse to keep aboard.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(crate) struct Spare {
    /// "15 A blade fuse".
    pub fuse: String,
    /// Colour of its body.
    pub colour: String,
    /// Circuits that use it.
    pub circuits: usize,
}

/// Where the device is that protects a circuit.
struct Guard<'a> {
    at: String,
    way: String,
    device: &'a Device,
}

/// Where the fuse of a part is: its panel, or the place in the cable; "" where it has none.
pub(super) fn place_of_fuse(context: &Context<'_>, part: &Part<'_>) -> String {
    let circuit = context.build.circuits.get(&part.id);
    let found = circuit.and_then(|c| guard(context.build, &context.electrical, c));
    found.map_or_else(String::new, |g| g.at)
}

/// Every circuit that has a fuse or breaker, by name of what it feeds.
pub(super) fn rows(teller: &Teller<'_>) -> Vec<GuardRow> {
    let (build, electrical) = (teller.context().build, &teller.context().electrical);
    let mut rows: Vec<GuardRow> = build.circuits.values().filter_map(|c| row(build, electrical, c)).collect();
    rows.sort_by_key(|r| (r.name.to_lowercase(), r.at.clone(), r.way.clone()));
    rows.dedup();
    rows
}

fn row(build: &Build<'_>, electrical: &Electrical, circuit: &Circuit) -> Option<GuardRow> {
    let guard = guard(build, electrical, circuit)?;
    let part = build.parts.get(&circuit.owner)?;
    // Fuses and bars are not what an owner sees stop.
    if matches!(part.role(), Some(Role::Protection | Role::Bus)) {
        return None;
    }
    let output = if circuit.feeding == Feeding::Output { " (output)" } else { "" };
    Some(GuardRow {
        name: format!("{}{output}", part.name),
        link: anchor(part),
        at: guard.at,
        way: guard.way,
        fuse: guard.device.show(),
        colour: colour(guard.device),
        too_large: electrical.circuits.get(&circuit.id).is_some_and(CircuitFigures::lets_too_much_through),
    })
}

/// Goes from a circuit to its own device. What stands upstream is always a device of its own, so that is one step.
fn guard<'a>(build: &Build<'_>, electrical: &'a Electrical, circuit: &Circuit) -> Option<Guard<'a>> {
    let device = &electrical.circuits.get(&circuit.id)?.device;
    let name = |id: &str| build.name(id).to_owned();
    let (at, way) = match &device.at {
        DeviceAt::Way => (name(&circuit.from), circuit.way.map_or_else(String::new, |w| w.to_string())),
        DeviceAt::InLine => {
            let end = if circuit.feeding == Feeding::Output { &circuit.to } else { &circuit.from };
            (format!("in the cable at {}", name(end)), String::new())
        }
        DeviceAt::Component(id) => (name(id), String::new()),
        DeviceAt::Upstream(id) => {
            let further = build.circuits.get(id).filter(|c| c.id != circuit.id);
            match further {
                Some(further) => return guard(build, electrical, further),
                None => (name(id), String::new()),
            }
        }
        DeviceAt::Source | DeviceAt::Return | DeviceAt::Vehicle | DeviceAt::Nothing => return None,
    };
    (!device.show().is_empty()).then_some(Guard { at, way, device })
}

fn colour(device: &Device) -> String {
    let found = device.family.zip(device.rating).and_then(|(f, r)| fuse_colours::colour(f, r));
    found.map_or_else(String::new, |c| c.name.to_owned())
}

/// Fuses that an owner fits, by family and rating: those that are pushed in by hand. What is bolted is for a workshop, and
/// breakers need no spare.
pub(super) fn spares(context: &Context<'_>) -> Vec<Spare> {
    let mut spares: BTreeMap<(usize, u64), Spare> = BTreeMap::new();
    for circuit in context.build.circuits.values().filter(|c| c.network != Network::Ac) {
        let Some(figures) = context.electrical.circuits.get(&circuit.id) else { continue };
        let device = &figures.device;
        let component = matches!(device.at, DeviceAt::Component(_));
        let (Some(family), Some(rating)) = (device.family, device.rating) else { continue };
        let by_hand = matches!(family, Family::Blade | Family::MiniBlade | Family::MaxiBlade);
        // Nobody shall fit one of that rating again.
        let wrong = figures.lets_too_much_through();
        if !by_hand || wrong || !(component || facts::fitted_here(&device.at)) {
            continue;
        }
        let order = Family::ALL.iter().position(|f| *f == family).unwrap_or(usize::MAX);
        // Ratings are positive, and the bits of positive numbers sort as the numbers do.
        let spare = spares.entry((order, rating.0.to_bits())).or_insert_with(|| Spare {
            fuse: device.show(),
            colour: colour(device),
            circuits: 0,
        });
        spare.circuits += 1;
    }
    spares.into_values().collect()
}
