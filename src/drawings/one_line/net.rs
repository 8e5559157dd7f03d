//! The network as hubs and chains: a hub is where lines part or meet, a chain is what lies in a row between two.
//!
//! Every circuit of the drawing is in exactly one chain, and every chain hangs on exactly one hub: on its left when it
//! begins at a source, else on its right.

use crate::build::{Build, Circuit, Feeding, Part};
use crate::compute::network::{DeviceAt, Electrical};
use crate::kinds::{Network, Role};
use std::collections::{BTreeMap, BTreeSet};

/// Which of the two drawings.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Side {
    /// Direct current: house, solar and vehicle side.
    Dc,
    /// Alternating current.
    Ac,
}

impl Side {
    /// Whether a circuit is on this drawing.
    pub(super) fn has(self, circuit: &Circuit) -> bool {
        (circuit.network == Network::Ac) == (self == Self::Ac)
    }
}

/// Circuits in a row.
#[derive(Clone, Debug)]
pub(super) struct Chain<'a> {
    /// In the direction of the current.
    pub(super) circuits: Vec<&'a Circuit>,
}

impl<'a> Chain<'a> {
    /// Part it begins at.
    pub(super) fn from(&self) -> &'a str {
        self.circuits.first().map_or("", |c| c.from.as_str())
    }

    /// Part it ends at.
    pub(super) fn to(&self) -> &'a str {
        self.circuits.last().map_or("", |c| c.to.as_str())
    }
}

/// Where lines part or meet.
#[derive(Clone, Debug)]
pub(super) struct Hub<'a> {
    /// Id of the part.
    pub(super) id: &'a str,
    /// Chains from sources that end here.
    pub(super) left: Vec<Chain<'a>>,
    /// Chains that begin here, by way.
    pub(super) right: Vec<Chain<'a>>,
    /// Last circuits of the chains that arrive here from other hubs, with those hubs.
    pub(super) fed: Vec<(&'a str, &'a Circuit)>,
    /// A panel with so few ways that they are drawn beside its sources.
    pub(super) small: bool,
    /// Nearest panel above it, on whose sheet it is drawn; its own id for a panel, "" for the overview.
    pub(super) group: &'a str,
}

/// Most circuits in a row.
const LONGEST: usize = 3;

/// Most circuits in a row behind a way of a panel.
const LONGEST_OF_WAY: usize = 2;

/// Most ways that are drawn beside the sources of their panel.
const FEW: usize = 3;

/// Whether a circuit is the return cable to a negative bar, or to a shunt behind which nothing is fed: those have their
/// own place on the sheet.
pub(super) fn is_return(build: &Build<'_>, electrical: &Electrical, circuit: &Circuit) -> bool {
    let is_back = electrical.circuits.get(&circuit.id).is_some_and(|f| f.device.at == DeviceAt::Return);
    circuit.feeding == Feeding::Return || is_back && build.leaving(&circuit.to).all(|c| c.feeding == Feeding::Return)
}

/// Circuits by the part they touch.
type ByPart<'a> = BTreeMap<&'a str, Vec<&'a Circuit>>;

struct Net<'a, 'k> {
    build: &'a Build<'k>,
    circuits: Vec<&'a Circuit>,
    leaving: ByPart<'a>,
    arriving: ByPart<'a>,
}

impl<'a> Net<'a, '_> {
    fn role(&self, id: &str) -> Option<Role> {
        self.build.parts.get(id).and_then(Part::role)
    }

    fn out(&self, id: &str) -> &[&'a Circuit] {
        self.leaving.get(id).map_or(&[], Vec::as_slice)
    }

    fn into(&self, id: &str) -> usize {
        self.arriving.get(id).map_or(0, Vec::len)
    }

    fn has_ways(&self, id: &str) -> bool {
        self.role(id).is_some_and(Role::has_ways)
    }

    /// Parts where lines part or meet, before chains are cut to length.
    fn joints(&self) -> BTreeSet<&'a str> {
        let spreads = |id: &str| self.has_ways(id) || self.role(id) == Some(Role::Bus);
        let ids = self.leaving.keys().chain(self.arriving.keys()).copied();
        ids.filter(|id| self.into(id) > 1 || self.out(id).len() > 1 || (spreads(id) && !self.out(id).is_empty()))
            .collect()
    }

    fn chains(&self, hubs: &BTreeSet<&'a str>) -> Vec<Chain<'a>> {
        let starts = self.leaving.iter().filter(|(id, _)| hubs.contains(*id) || self.into(id) == 0);
        let follow = |first: &'a Circuit| {
            let mut circuits = vec![first];
            let mut at = first.to.as_str();
            // A part that is no hub has at most one way on; a ring without a hub is never begun.
            while let (false, Some(next)) = (hubs.contains(at), self.out(at).first()) {
                circuits.push(next);
                at = next.to.as_str();
            }
            Chain { circuits }
        };
        starts.flat_map(|(_, leaving)| leaving.iter().map(|c| follow(c))).collect()
    }

    /// A part that must become a hub too: the source of a chain that reaches none, the part where a chain
    /// that is too long is cut, or a part of a ring.
    fn missing(&self, hubs: &BTreeSet<&'a str>, chains: &[Chain<'a>]) -> Option<&'a str> {
        let sourced: BTreeSet<&str> = chains.iter().filter(|c| !hubs.contains(c.from())).map(Chain::to).collect();
        let has_source = |id: &str| sourced.contains(id);
        for chain in chains {
            let from_hub = hubs.contains(chain.from());
            let to_hub = hubs.contains(chain.to());
            if !from_hub && !to_hub {
                return Some(chain.from());
            }
            let small = self.out(chain.from()).len() <= FEW && has_source(chain.from());
            let most = if self.has_ways(chain.from()) && !small { LONGEST_OF_WAY } else { LONGEST };
            let count = chain.circuits.len();
            if from_hub && count > most {
                return chain.circuits.get(most).map(|c| c.from.as_str());
            }
            if !from_hub && count > LONGEST {
                return chain.circuits.get(LONGEST).map(|c| c.from.as_str());
            }
        }
        let drawn: BTreeSet<&str> =
            chains.iter().flat_map(|chain| chain.circuits.iter().map(|c| c.id.as_str())).collect();
        self.circuits.iter().find(|c| !drawn.contains(c.id.as_str())).map(|c| c.from.as_str())
    }
}

/// The hubs of one drawing: those near a bank first, then what they feed, then all others in the order of the spec.
pub(super) fn hubs<'a>(build: &'a Build<'_>, electrical: &Electrical, side: Side) -> Vec<Hub<'a>> {
    let circuits: Vec<&Circuit> =
        build.circuits.values().filter(|c| side.has(c) && !is_return(build, electrical, c)).collect();
    let mut net = Net { build, circuits, leaving: ByPart::new(), arriving: ByPart::new() };
    for &circuit in &net.circuits {
        net.leaving.entry(&circuit.from).or_default().push(circuit);
        net.arriving.entry(&circuit.to).or_default().push(circuit);
    }
    let mut at = net.joints();
    let mut chains = net.chains(&at);
    while let Some(id) = net.missing(&at, &chains) {
        if !at.insert(id) {
            break;
        }
        chains = net.chains(&at);
    }
    hung(&net, at, chains)
}

/// Hangs the chains on their hubs and puts those in order.
fn hung<'a>(net: &Net<'a, '_>, at: BTreeSet<&'a str>, chains: Vec<Chain<'a>>) -> Vec<Hub<'a>> {
    let empty = |id| Hub { id, left: Vec::new(), right: Vec::new(), fed: Vec::new(), small: false, group: "" };
    let mut hubs: BTreeMap<&str, Hub<'a>> = at.into_iter().map(|id| (id, empty(id))).collect();
    for chain in chains {
        let (from, to) = (chain.from(), chain.to());
        if !hubs.contains_key(from) {
            if let Some(hub) = hubs.get_mut(to) {
                hub.left.push(chain);
            }
            continue;
        }
        if let (Some(hub), Some(last)) = (hubs.get_mut(to), chain.circuits.last()) {
            hub.fed.push((from, last));
        }
        if let Some(hub) = hubs.get_mut(from) {
            hub.right.push(chain);
        }
    }
    let place = |id: &str| net.build.parts.get_index_of(id).unwrap_or(usize::MAX);
    for hub in hubs.values_mut() {
        hub.left.sort_by_key(|c| (net.role(c.from()) != Some(Role::Bank), place(c.from())));
        hub.right.sort_by_key(|c| c.circuits.first().map(|c| (c.way.unwrap_or(u32::MAX), place(&c.owner))));
    }
    for hub in hubs.values_mut() {
        hub.small = net.has_ways(hub.id) && !hub.left.is_empty() && hub.right.len() <= FEW;
    }
    let near_bank = |h: &Hub<'_>| {
        net.role(h.id) == Some(Role::Bank) || h.left.iter().any(|c| net.role(c.from()) == Some(Role::Bank))
    };
    let mut starts: Vec<&str> = hubs.keys().copied().collect();
    starts.sort_by_key(|id| {
        let hub = &hubs[id];
        (!near_bank(hub), !hub.fed.is_empty(), place(id))
    });
    let mut ordered = Vec::with_capacity(hubs.len());
    for start in starts {
        let mut open = vec![(start, "")];
        while let Some((id, above)) = open.pop() {
            let Some(mut hub) = hubs.remove(id) else { continue };
            hub.group = if net.has_ways(id) && !hub.small { id } else { above };
            open.extend(hub.right.iter().rev().map(|c| (c.to(), hub.group)));
            ordered.push(hub);
        }
    }
    ordered
}
