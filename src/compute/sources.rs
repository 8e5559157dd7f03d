//! What charges the bank, and how each source is cut off. A bank that is switched off under a charger leaves its bus
//! without a store: the voltage jumps, and arrays drive their controllers on.

use super::isolation::{listed, nearest, nearest_below};
use crate::build::{Build, Feeding, Part};
use crate::kinds::{Network, Role};

/// Sources that charge the house network, by how they are cut off. Names, each once, in the order of the spec.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Sources {
    /// Isolators between arrays and their controllers.
    pub isolators: Vec<String>,
    /// Arrays without an isolator: they reach their controller by plugs alone.
    pub bare_arrays: Vec<String>,
    /// Shore inlets that a charger hangs on.
    pub inlets: Vec<String>,
    /// Generators that a charger hangs on.
    pub generators: Vec<String>,
    /// Chargers that the engine feeds.
    pub engine: Vec<String>,
}

impl Sources {
    /// The sources of `build`.
    #[must_use]
    pub(crate) fn of(build: &Build<'_>) -> Self {
        let mut all = Self::default();
        let put = |list: &mut Vec<String>, name: &str| {
            if !list.iter().any(|n| n == name) {
                list.push(name.to_owned());
            }
        };
        for charger in build.parts.values().filter(|p| charges(build, p)) {
            let arrays = nearest(build, &charger.id, |p| p.role() == Some(Role::Array));
            let isolators = isolators_of(build, &charger.id);
            for isolator in &isolators {
                put(&mut all.isolators, &isolator.name);
            }
            for array in arrays.iter().filter(|_| isolators.is_empty()) {
                put(&mut all.bare_arrays, &array.name);
            }
            for inlet in nearest(build, &charger.id, |p| p.role() == Some(Role::Inlet)) {
                put(&mut all.inlets, &inlet.name);
            }
            for generator in nearest(build, &charger.id, |p| p.role() == Some(Role::Generator)) {
                put(&mut all.generators, &generator.name);
            }
            let from_engine = |p: &Part<'_>| matches!(p.role(), Some(Role::Alternator | Role::StartBattery));
            if from_engine(charger) || !nearest(build, &charger.id, from_engine).is_empty() {
                put(&mut all.engine, &charger.name);
            }
        }
        all
    }

    /// "turn Roof isolator OFF, unplug Shore inlet, stop the engine": what is done before the bank is switched off.
    /// "" where nothing charges.
    #[must_use]
    pub(crate) fn off(&self) -> String {
        let mut steps = Vec::new();
        if !self.isolators.is_empty() {
            steps.push(format!("turn {} OFF", listed(&self.isolators)));
        }
        if !self.bare_arrays.is_empty() {
            steps.push(format!("have a workshop part the plugs of {} in the dark", listed(&self.bare_arrays)));
        }
        if !self.inlets.is_empty() {
            steps.push(format!("unplug {} (at the supply first)", listed(&self.inlets)));
        }
        if !self.generators.is_empty() {
            steps.push(format!("stop {}", listed(&self.generators)));
        }
        if !self.engine.is_empty() {
            steps.push("stop the engine".to_owned());
        }
        listed(&steps)
    }

    /// The same backwards, after the bank is on again: what comes back in which order.
    #[must_use]
    pub(crate) fn on(&self) -> String {
        let mut steps = Vec::new();
        if !self.inlets.is_empty() {
            steps.push(format!("plug {} in (at the supply last)", listed(&self.inlets)));
        }
        if !self.bare_arrays.is_empty() {
            steps.push(format!("have the plugs of {} joined", listed(&self.bare_arrays)));
        }
        if !self.isolators.is_empty() {
            steps.push(format!("turn {} ON", listed(&self.isolators)));
        }
        listed(&steps)
    }
}

/// Whether a part puts energy into the house network.
fn charges(build: &Build<'_>, part: &Part<'_>) -> bool {
    match part.role() {
        Some(Role::Charger | Role::Alternator) => {
            build.leaving(&part.id).any(|c| c.feeding == Feeding::Output && c.network == Network::Dc)
        }
        Some(Role::InverterCharger) => true,
        _ => false,
    }
}

/// The isolators between a controller and its arrays, or an array and its controller.
#[must_use]
pub(crate) fn isolators_of<'a>(build: &'a Build<'_>, part: &str) -> Vec<&'a Part<'a>> {
    let isolator =
        |p: &Part<'_>| p.role() == Some(Role::Disconnect) && p.electric().is_some_and(|e| e.network == Network::Pv);
    if build.parts.get(part).and_then(Part::role) == Some(Role::Array) {
        return nearest_below(build, part, isolator);
    }
    nearest(build, part, isolator)
}
