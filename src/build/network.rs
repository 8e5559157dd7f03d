//! Circuits: one for every `fed_from`, `feeds`, `shore_from` and `returns_to`, with loops reported and ways given out.

use super::Part;
use crate::diag::{Finding, Sink};
use crate::fields::Record;
use crate::kinds::{Network, Role};
use crate::roles::{RoleField, Supply};
use crate::source::{Span, Spanned};
use crate::units::{ConductorSize, Metres};
use indexmap::IndexMap;
use petgraph::algo::tarjan_scc;
use petgraph::graph::DiGraph;
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};

/// Which field made the circuit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Feeding {
    /// `fed_from` of the part at the `to` end.
    Supply,
    /// `feeds` of the part at the `from` end.
    Output,
    /// `shore_from` of the part at the `to` end.
    Shore,
    /// `returns_to` of the part at the `to` end: the negative that leads from it back to the bank.
    Return,
}

impl Feeding {
    /// Whether current is taken from the part at the `from` end.
    #[must_use]
    pub const fn draws(self) -> bool {
        matches!(self, Self::Supply | Self::Shore)
    }
}

/// Names of the fields that describe one end's circuit: `run` for a supply or a return, `output_run` for an output.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct End {
    prefix: &'static str,
    /// It is that of a second supply.
    #[serde(skip)]
    second: bool,
}

impl End {
    /// Whether the fields are those of an output.
    #[must_use]
    pub const fn is_output(self) -> bool {
        !self.prefix.is_empty() && !self.second
    }

    /// Whether the fields are those of a second supply.
    #[must_use]
    pub const fn is_second(self) -> bool {
        self.second
    }

    /// The field `name` of this circuit in its owner's record.
    #[must_use]
    pub fn field(self, name: &str) -> String {
        format!("{}{name}", self.prefix)
    }
}

/// A circuit between two parts.
#[derive(Clone, Debug, Serialize)]
pub struct Circuit {
    /// Id: the component it supplies, or `<component>.out`, `<component>.shore`.
    pub id: String,
    /// Part the current comes from.
    pub from: String,
    /// Part it goes to.
    pub to: String,
    /// Part whose fields describe the circuit.
    pub owner: String,
    /// Network.
    pub network: Network,
    /// Field that made it.
    pub feeding: Feeding,
    /// Prefix of the owner's fields.
    pub end: End,
    /// Way in the panel it leaves, from 1.
    pub way: Option<u32>,
    /// One-way length of the route: as the spec gives it, else half of the way there and back along channels.
    pub run: Option<Metres>,
    /// Switch that stands in it, as the spec names it: panel and switch.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub switched_at: Option<Spanned<String>>,
    /// Conductor the spec gives.
    pub given_conductor: Option<ConductorSize>,
    /// Conductors side by side that share its current.
    #[serde(skip_serializing_if = "is_one")]
    pub side_by_side: u32,
    /// Protection the spec gives, as written.
    pub given_protection: Option<String>,
    /// How far the protection stands from its source, where the spec says it.
    #[serde(skip)]
    pub protection_at: Option<Metres>,
    /// Current-carrying conductors bundled together, as the spec says; counted where it lies in a channel, else usual.
    pub bundle: u32,
    /// The spec gives `bundle`.
    #[serde(skip)]
    pub bundle_given: bool,
    /// Ids of places the cable passes.
    pub through: Vec<String>,
    /// Runs in a sheath or conduit for its whole length.
    pub sheathed: bool,
    /// Place in the spec to point at.
    pub span: Span,
    /// An end of it is a part whose place must not be told: its length and its way lead there.
    #[serde(skip)]
    pub confidential: bool,
}

/// The usual number of conductors goes without saying.
#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde asks for a reference")]
const fn is_one(n: &u32) -> bool {
    *n == 1
}

impl Circuit {
    /// Place of the circuit's field `name` in the spec, else of the circuit.
    #[must_use]
    pub fn span_of(&self, parts: &IndexMap<String, Part<'_>>, name: &str) -> Span {
        let entry = parts.get(&self.owner).and_then(|p| p.record.get(&self.end.field(name)));
        entry.filter(|e| e.given).map_or(self.span, |e| e.span)
    }
}

/// Ways that circuits had in an earlier revision: (panel, way) by circuit id.
pub type Ways = BTreeMap<String, (String, u32)>;

/// Longest chain of feeders. A van has less than ten in a row; what is reckoned for each part over all above it would take
/// long for thousands.
const DEEPEST: usize = 100;

/// Where circuits begin and end: their places in the list by part.
#[derive(Clone, Debug, Default)]
pub(super) struct Ends {
    from: BTreeMap<String, Vec<usize>>,
    to: BTreeMap<String, Vec<usize>>,
}

impl Ends {
    pub(super) fn of(circuits: &IndexMap<String, Circuit>) -> Self {
        let mut ends = Self::default();
        for (i, c) in circuits.values().enumerate() {
            ends.from.entry(c.from.clone()).or_default().push(i);
            ends.to.entry(c.to.clone()).or_default().push(i);
        }
        ends
    }

    pub(super) fn leaving<'a>(&'a self, part: &str) -> impl Iterator<Item = usize> + use<'a> {
        self.from.get(part).into_iter().flatten().copied()
    }

    pub(super) fn arriving<'a>(&'a self, part: &str) -> impl Iterator<Item = usize> + use<'a> {
        self.to.get(part).into_iter().flatten().copied()
    }
}

pub(super) fn circuits(
    parts: &IndexMap<String, Part<'_>>,
    earlier: &Ways,
    sink: &mut Sink,
) -> IndexMap<String, Circuit> {
    let mut circuits = Vec::new();
    for part in parts.values() {
        if let Some(back) = part.roles.returns_to().all().first() {
            circuits.push(circuit(
                part.id.clone(),
                part,
                &back.value,
                &part.id,
                Network::Dc,
                Feeding::Return,
                back.span,
            ));
        }
        let Some(electric) = part.electric() else { continue };
        // A monitor that returns somewhere stands in the negative: nothing feeds it.
        let returns = electric.role == Role::Shunt && !part.roles.returns_to().all().is_empty();
        for (i, feeder) in part.supply.fed_from.all().iter().filter(|_| !returns).enumerate() {
            let id = if i == 0 { part.id.clone() } else { format!("{}.{}", part.id, i + 1) };
            let mut fed = circuit(id, part, &feeder.value, &part.id, electric.network, Feeding::Supply, feeder.span);
            if let Some(network) = electric.second.filter(|_| i == 1) {
                fed = second(fed, part, network);
            }
            circuits.push(fed);
        }
        if let Some(shore) = part.roles.shore_from().all().first() {
            let id = format!("{}.shore", part.id);
            circuits.push(circuit(id, part, &shore.value, &part.id, Network::Ac, Feeding::Shore, shore.span));
        }
        if let (true, Some(target)) = (electric.role.has_output(), part.output.feeds.all().first()) {
            let network = match electric.role {
                Role::Inverter | Role::InverterCharger | Role::Generator => Network::Ac,
                Role::Alternator => electric.network,
                // What charges the starter battery from the house.
                _ if is_start(parts, &target.value) => Network::Start,
                _ => Network::Dc,
            };
            let id = format!("{}.out", part.id);
            circuits.push(circuit(id, part, &part.id, &target.value, network, Feeding::Output, target.span));
        }
    }
    circuits.retain(|c| parts.contains_key(&c.from) && parts.contains_key(&c.to));
    // A key of a keypad is told by messages: what it switches is the output, and nothing of its circuit goes there.
    for circuit in &mut circuits {
        circuit.switched_at.take_if(|at| is_key(parts, &at.value));
    }
    // A cable that both ends tell of is one: the check says so.
    let told: BTreeSet<(String, String, Network)> = circuits
        .iter()
        .filter(|c| c.feeding == Feeding::Supply)
        .map(|c| (c.from.clone(), c.to.clone(), c.network))
        .collect();
    circuits.retain(|c| c.feeding != Feeding::Output || !told.contains(&(c.from.clone(), c.to.clone(), c.network)));
    let mut ordered = drop_deep(drop_loops(circuits, parts, sink), sink);
    give_ways(parts, earlier, &mut ordered);
    ordered.into_iter().map(|c| (c.id.clone(), c)).collect()
}

/// Whether "panel.switch" names a key on a data bus.
fn is_key(parts: &IndexMap<String, Part<'_>>, at: &str) -> bool {
    let named = at.split_once('.').and_then(|(panel, key)| Some((parts.get(panel)?, key)));
    named.is_some_and(|(panel, key)| panel.keys().iter().any(|(id, _)| *id == key))
}

/// Whether a part stands in the starter battery's network.
fn is_start(parts: &IndexMap<String, Part<'_>>, id: &str) -> bool {
    parts.get(id).and_then(Part::electric).is_some_and(|e| e.network == Network::Start)
}

fn circuit(
    id: String,
    owner: &Part<'_>,
    from: &str,
    to: &str,
    network: Network,
    feeding: Feeding,
    span: Span,
) -> Circuit {
    let end = End {
        prefix: if matches!(feeding, Feeding::Supply | Feeding::Return) { "" } else { "output_" },
        second: false,
    };
    let record = owner.record;
    let switched_at = Some(&owner.supply.switched_at).filter(|_| feeding == Feeding::Supply);
    let way = owner.supply.way.get().filter(|_| feeding == Feeding::Supply);
    Circuit {
        id,
        from: from.to_owned(),
        to: to.to_owned(),
        owner: owner.id.clone(),
        network,
        feeding,
        end,
        way: way.and_then(|w| u32::try_from(w).ok()),
        run: record.metres(&end.field("run")),
        switched_at: switched_at.and_then(|at| Some(Spanned::new(at.text()?.to_owned(), at.span))),
        given_conductor: record.conductor(&end.field("conductor")),
        side_by_side: counted(record, end, "conductors"),
        given_protection: record.text(&end.field("protection")).map(str::to_owned),
        protection_at: record.metres(&end.field("protection_at")),
        bundle: counted(record, end, "bundle"),
        bundle_given: record.gave(&end.field("bundle")),
        through: record.list(&end.field("through")).iter().map(|p| p.value.clone()).collect(),
        sheathed: record.flag(&end.field("sheathed")),
        span,
        confidential: false,
    }
}

/// A number of conductors at that end, as the spec has it, else the usual one.
fn counted(record: &Record, end: End, field: &str) -> u32 {
    let given = record.count(&end.field(field)).and_then(|count| u32::try_from(count).ok());
    given.map_or_else(|| usual(field), |count| count.max(1))
}

/// The number of conductors of a circuit of which the spec tells no other.
fn usual(field: &str) -> u32 {
    let declared = Supply::CONTRACT.field(field).and_then(RoleField::usual_count);
    declared.and_then(|count| u32::try_from(count).ok()).unwrap_or_default().max(1)
}

/// The circuit of a part's second supply, of which the part tells length, conductor and protection.
fn second(first: Circuit, owner: &Part<'_>, network: Network) -> Circuit {
    let end = End { prefix: "second_", second: true };
    Circuit {
        network,
        end,
        way: None,
        run: owner.record.metres(&end.field("run")),
        switched_at: None,
        given_conductor: owner.record.conductor(&end.field("conductor")),
        side_by_side: usual("conductors"),
        given_protection: owner.record.text(&end.field("protection")).map(str::to_owned),
        protection_at: None,
        bundle: usual("bundle"),
        bundle_given: false,
        through: Vec::new(),
        ..first
    }
}

/// Reports circuits that feed each other in a loop and leaves them out; sorts the rest, feeders first.
fn drop_loops(circuits: Vec<Circuit>, parts: &IndexMap<String, Part<'_>>, sink: &mut Sink) -> Vec<Circuit> {
    let mut graph = DiGraph::<String, usize>::new();
    let mut nodes = BTreeMap::new();
    // A charger's output and an inverter's output start at a second face of the part, so that
    // bank → inverter → AC charger → bank stays a wiring choice and not a loop of `fed_from`.
    let face = |part: &str, feeding: Feeding| {
        if feeding == Feeding::Output { format!("{part} ") } else { part.to_owned() }
    };
    for (i, c) in circuits.iter().enumerate() {
        let [a, b] = [face(&c.from, c.feeding), c.to.clone()]
            .map(|n| *nodes.entry(n.clone()).or_insert_with(|| graph.add_node(n)));
        graph.add_edge(a, b, i);
    }
    let mut rank = BTreeMap::new();
    let mut looping = BTreeSet::new();
    for (order, component) in tarjan_scc(&graph).into_iter().rev().enumerate() {
        let selfish = component.len() == 1 && graph.contains_edge(component[0], component[0]);
        for node in &component {
            rank.insert(graph[*node].clone(), order);
            if component.len() > 1 || selfish {
                looping.insert(graph[*node].clone());
            }
        }
        if component.len() > 1 || selfish {
            report_loop(&circuits, &component.iter().map(|n| graph[*n].as_str()).collect(), sink);
        }
    }
    let mut kept: Vec<_> =
        circuits.into_iter().filter(|c| !(looping.contains(&c.from) && looping.contains(&c.to))).collect();
    // A return is as large as the positives that it answers: a shunt's cable comes behind the others that leave the
    // bank, those of negative bars behind all.
    let is_shunt = |c: &Circuit| parts.get(&c.to).and_then(Part::role) == Some(Role::Shunt);
    let rank_of = |c: &Circuit| rank.get(&face(&c.from, c.feeding)).copied().unwrap_or(usize::MAX);
    kept.sort_by_key(|c| (c.feeding == Feeding::Return, rank_of(c), is_shunt(c)));
    kept
}

/// Reports the first circuit of each chain that is too long and leaves out all behind it. Feeders stand first.
fn drop_deep(circuits: Vec<Circuit>, sink: &mut Sink) -> Vec<Circuit> {
    let mut depth: BTreeMap<String, usize> = BTreeMap::new();
    let mut kept = Vec::with_capacity(circuits.len());
    for c in circuits {
        let own = depth.get(&c.from).copied().unwrap_or(0) + 1;
        let deepest = depth.entry(c.to.clone()).or_default();
        *deepest = own.max(*deepest);
        if own == DEEPEST + 1 {
            let headline = format!("{}: {DEEPEST} components feed each other in a row before it", c.to);
            let finding = Finding::error("feeding-too-deep", headline).about(&c.to).at(c.span, "one more in the row");
            sink.push(finding.help("feed it from a busbar or panel nearer the source"));
        }
        if own <= DEEPEST {
            kept.push(c);
        }
    }
    kept
}

fn report_loop(circuits: &[Circuit], members: &BTreeSet<&str>, sink: &mut Sink) {
    let inside = |c: &&Circuit| members.contains(c.from.as_str()) && members.contains(c.to.as_str());
    let Some(first) = circuits.iter().find(inside) else { return };
    let mut path = vec![first];
    let mut seen = BTreeSet::from([first.to.as_str()]);
    while let Some(next) = circuits.iter().filter(inside).find(|c| c.to == path[path.len() - 1].from) {
        path.push(next);
        if !seen.insert(next.to.as_str()) {
            break;
        }
    }
    if path.len() > 1 && path[path.len() - 1].to == path[0].to {
        path.pop();
    }
    let names: Vec<_> = path.iter().map(|c| c.to.as_str()).chain([first.to.as_str()]).collect();
    let mut finding =
        Finding::error("feeding-loop", format!("components feed each other in a loop: {}", names.join(" ← ")))
            .about(&first.to)
            .at(first.span, format!("{} is fed from {}", first.to, first.from))
            .help("let one of them be fed from a busbar or panel outside the loop");
    for c in &path[1..] {
        finding = finding.label(c.span, format!("{} is fed from {}", c.to, c.from));
    }
    sink.push(finding);
}

/// Numbers the ways that the spec leaves open: that of the earlier revision where the panel is the same and the way is
/// free, else the lowest free one, in the order of the spec.
fn give_ways(parts: &IndexMap<String, Part<'_>>, earlier: &Ways, circuits: &mut [Circuit]) {
    let has_ways = |c: &Circuit| parts.get(&c.from).and_then(Part::role).is_some_and(Role::has_ways);
    let mut taken: BTreeMap<String, BTreeSet<u32>> = BTreeMap::new();
    for c in circuits.iter() {
        taken.entry(c.from.clone()).or_default().extend(c.way);
    }
    let mut order: Vec<usize> = (0..circuits.len()).collect();
    order.sort_by_key(|&i| parts.get_index_of(&circuits[i].owner));
    for &i in &order {
        let c = &mut circuits[i];
        let Some((panel, way)) = earlier.get(&c.id) else { continue };
        let keeps = c.way.is_none() && has_ways(c) && c.feeding.draws() && *panel == c.from;
        if keeps && taken.entry(c.from.clone()).or_default().insert(*way) {
            c.way = Some(*way);
        }
    }
    for i in order {
        let c = &mut circuits[i];
        if !has_ways(c) || !c.feeding.draws() {
            c.way = None;
        } else if c.way.is_none() {
            let used = taken.entry(c.from.clone()).or_default();
            c.way = (1..=u32::MAX).find(|w| used.insert(*w));
        }
    }
}
