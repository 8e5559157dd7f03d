//! DC networks by nominal voltage: one for every bank, starter battery and converter, through all that passes its current on.

use super::{Circuit, Feeding, Part};
use crate::kinds::{Library, Network, Role};
use crate::roles::{Bank, Charger, Converter, Output, StartBattery, Supply};
use crate::spec::Spec;
use crate::units::Volts;
use indexmap::IndexMap;
use serde::Serialize;
use std::collections::BTreeMap;

/// Voltage of a 12 V system above its nominal one while it charges. Common practice, no source.
const CHARGING: f64 = 1.2;

/// What a part works with that nothing feeds.
const USUAL: Volts = Volts(12.0);

/// A DC network.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct DcNetwork {
    /// Nominal voltage of the system: 12 V, 24 V or 48 V.
    pub nominal: Volts,
    /// Highest voltage in it: while its bank is charged.
    pub highest: Volts,
    /// The spec itself tells that voltage.
    pub told: bool,
}

impl DcNetwork {
    /// Of a 12 V system that nothing else is known of.
    const USUAL: Self = Self::of(USUAL);

    /// Of a source with this nominal voltage, charged as is usual.
    const fn of(volts: Volts) -> Self {
        let nominal = system(volts);
        Self { nominal, highest: Volts(nominal.0 * CHARGING), told: false }
    }

    /// How many times 12 V it has.
    #[must_use]
    pub fn twelves(self) -> f64 {
        self.nominal / USUAL
    }
}

/// System voltage of what is nominally of `volts`: 12.8 V is of a 12 V system, 51.2 V of one of 48 V.
#[must_use]
pub const fn system(volts: Volts) -> Volts {
    Volts(if volts.0 > 36.0 {
        48.0
    } else if volts.0 > 18.0 {
        24.0
    } else {
        12.0
    })
}

/// The DC networks of a build, by the parts that give their current on.
#[derive(Clone, Debug, Default)]
pub(super) struct DcNetworks {
    gives: BTreeMap<String, DcNetwork>,
    /// That of the first bank: of what nothing feeds.
    house: Option<DcNetwork>,
}

impl DcNetworks {
    /// Of circuits that stand feeders first.
    pub(super) fn of(parts: &IndexMap<String, Part<'_>>, circuits: &IndexMap<String, Circuit>) -> Self {
        let mut gives: BTreeMap<String, DcNetwork> =
            parts.values().filter_map(|p| Some((p.id.clone(), of_source(p)?))).collect();
        let house = parts.values().find(|p| p.role() == Some(Role::Bank)).and_then(of_source);
        let is_dc = |c: &&Circuit| matches!(c.network, Network::Dc | Network::Start) && c.feeding != Feeding::Return;
        let supplies = || circuits.values().filter(is_dc).filter(|c| c.feeding.draws());
        let follow = |gives: &mut BTreeMap<String, DcNetwork>| {
            for circuit in supplies() {
                let role = parts.get(&circuit.to).and_then(Part::role);
                let on = role.is_some_and(|r| r.passes_through() || r == Role::InverterCharger);
                if let (true, Some(network)) = (on, gives.get(&circuit.from).copied()) {
                    gives.entry(circuit.to.clone()).or_insert(network);
                }
            }
        };
        follow(&mut gives);
        // What a charger or alternator gives is of the network it charges; where that has no bank, of its own.
        for circuit in circuits.values().filter(is_dc).filter(|c| c.feeding == Feeding::Output) {
            let own = || parts.get(&circuit.from)?.roles.output_voltage().get().map(DcNetwork::of);
            if let Some(network) = gives.get(&circuit.to).copied().or_else(own) {
                gives.entry(circuit.from.clone()).or_insert(network);
                gives.entry(circuit.to.clone()).or_insert(network);
            }
        }
        follow(&mut gives);
        Self { gives, house }
    }

    /// The network whose current leaves `part`.
    pub(super) fn given_by(&self, part: &str) -> Option<DcNetwork> {
        self.gives.get(part).copied()
    }

    /// That of what nothing feeds.
    pub(super) fn usual(&self) -> DcNetwork {
        self.house.unwrap_or(DcNetwork::USUAL)
    }

    /// The network of a circuit, as far as it is known.
    pub(super) fn known(&self, circuit: &Circuit) -> Option<DcNetwork> {
        if !matches!(circuit.network, Network::Dc | Network::Start) {
            return None;
        }
        let given = |part: &str| self.gives.get(part).copied();
        match circuit.feeding {
            Feeding::Output => given(&circuit.to).or_else(|| given(&circuit.from)),
            _ => given(&circuit.from),
        }
    }

    /// The network of a circuit; where nothing feeds it, that of the first bank.
    pub(super) fn of_circuit(&self, circuit: &Circuit) -> DcNetwork {
        let house = self.house.filter(|_| circuit.network == Network::Dc);
        self.known(circuit).or(house).unwrap_or(DcNetwork::USUAL)
    }
}

/// The network that a part is the source of.
fn of_source(part: &Part<'_>) -> Option<DcNetwork> {
    match part.role()? {
        Role::Bank => {
            let volts = part.roles.voltage().get()?;
            let settings = [part.roles.absorb_voltage(), part.roles.float_voltage()];
            let highest = settings.iter().filter_map(|f| Some((f.get()?, f.given)));
            let (highest, told) = highest.fold((volts, true), |most, one| if one.0 > most.0 { one } else { most });
            Some(DcNetwork { nominal: system(volts), highest, told })
        }
        Role::StartBattery => Some(DcNetwork::of(part.roles.voltage().get()?)),
        Role::Converter => {
            let volts = part.roles.output_voltage().get()?;
            Some(DcNetwork { nominal: system(volts), highest: volts, told: part.roles.output_voltage().given })
        }
        _ => None,
    }
}

/// Brings the defaults that hold in a 12 V network to the voltage of the network each component stands in: a bank by its
/// own nominal voltage, all others by what feeds them.
pub fn settle(spec: &mut Spec, library: &Library) {
    let sources = sources(spec, library);
    if sources.values().all(|volts| *volts == USUAL) {
        return;
    }
    let feeders = feeders(spec);
    let volts: Vec<Volts> = spec.components.keys().map(|id| at(&feeders, &sources, id)).collect();
    for ((id, component), volts) in spec.components.iter_mut().zip(volts) {
        let Some(kind) = library.of(id, &component.kind.value).filter(|_| volts != USUAL) else { continue };
        for (name, _) in kind.fields.iter().filter(|(_, decl)| decl.per_12_volts) {
            component.record.scale_default(name, volts / USUAL);
        }
    }
}

/// System voltage of all that is a source of DC.
fn sources(spec: &Spec, library: &Library) -> BTreeMap<String, Volts> {
    let of = |(id, component): (&String, &crate::spec::Component)| {
        let (kind, record) = (library.of(id, &component.kind.value)?, &component.record);
        let volts = match kind.electric?.role {
            Role::Bank => Bank::of(record).voltage.get(),
            Role::StartBattery => StartBattery::of(record).voltage.get(),
            Role::Converter => Converter::of(record).output_voltage.get(),
            // What hangs on a charger has the voltage that it charges with.
            Role::Charger => Charger::of(record).output_voltage.get(),
            _ => None,
        };
        Some((id.clone(), system(volts?)))
    };
    spec.components.iter().filter_map(of).collect()
}

/// What feeds each component; for one that nothing feeds, what it feeds itself.
fn feeders(spec: &Spec) -> BTreeMap<String, String> {
    let of = |(id, component): (&String, &crate::spec::Component)| {
        let (supply, output) = (Supply::of(&component.record), Output::of(&component.record));
        let other = supply.fed_from.first().or(output.feeds.first())?;
        Some((id.clone(), other.to_owned()))
    };
    spec.components.iter().filter_map(of).collect()
}

/// System voltage of what feeds a component; its own where it is a source that nothing feeds.
fn at(feeders: &BTreeMap<String, String>, sources: &BTreeMap<String, Volts>, id: &str) -> Volts {
    let mut at = id;
    // A loop ends when each has been met.
    for step in 0..=feeders.len() {
        // A charger's or converter's own defaults are those of the side that feeds it.
        let own = step == 0 && feeders.contains_key(id);
        match (sources.get(at), feeders.get(at)) {
            (Some(volts), _) if !own => return *volts,
            (_, Some(next)) => at = next,
            _ => break,
        }
    }
    USUAL
}
