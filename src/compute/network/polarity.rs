//! Where each conductor of a circuit begins and ends, polarity by polarity: what its labels say.
//!
//! A positive goes the way of the circuit. A negative comes from the negative bar of the panel that feeds it, from the
//! bar that mirrors a positive one, or from the minus of its source, and never ends where there is no negative terminal.

use super::{Core, conductors};
use crate::build::{Build, Circuit, Feeding, Part};
use crate::compute::network::CircuitFigures;
use crate::kinds::{Electric, Network, Role};
use serde::Serialize;

/// What the labels at both ends of a piece say.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct WireLabel {
    /// "+", "−", or what is in the sheath: "L, N, PE".
    pub polarity: String,
    /// Where it begins.
    pub from: Vec<Terminus>,
    /// Where it ends.
    pub to: Vec<Terminus>,
    /// Pieces that have these labels.
    pub pieces: u32,
}

/// An end of a conductor.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Terminus {
    /// Part.
    pub part: String,
    /// Which terminal of it, where it has more than one: "negative bar", "minus"; else "".
    pub terminal: &'static str,
}

impl Terminus {
    fn of(part: &str) -> Self {
        Self { part: part.to_owned(), terminal: "" }
    }

    /// As a label prints it: "House panel, negative bar".
    #[must_use]
    pub fn show(&self, build: &Build<'_>) -> String {
        let name = build.name(&self.part);
        if self.terminal.is_empty() { name.to_owned() } else { format!("{name}, {}", self.terminal) }
    }
}

/// Labels of a circuit's conductors. A sheathed cable has one where all in it go the same way.
#[must_use]
pub fn wire_labels(build: &Build<'_>, circuit: &Circuit, figures: &CircuitFigures) -> Vec<WireLabel> {
    let one = |core: &Core| {
        let [from, to] = termini(build, circuit, *core);
        WireLabel { polarity: core.sign().to_owned(), from, to, pieces: 1 }
    };
    let all: Vec<WireLabel> = conductors(build, circuit, figures).iter().map(one).collect();
    let parts = |ends: &[Terminus]| ends.iter().map(|t| t.part.clone()).collect::<Vec<_>>();
    let same = |a: &WireLabel, b: &WireLabel| parts(&a.from) == parts(&b.from) && parts(&a.to) == parts(&b.to);
    match all.first() {
        Some(first) if circuit.sheathed && all.iter().all(|label| same(first, label)) => {
            let polarity = all.iter().map(|l| l.polarity.as_str()).collect::<Vec<_>>().join(", ");
            vec![WireLabel { polarity, ..first.clone() }]
        }
        _ => all,
    }
}

/// Whether a negative can end on a part.
#[must_use]
pub fn has_negative(part: &Part<'_>) -> bool {
    let chops_negative = part.roles.switched_lead().is("negative");
    chops_negative || part.electric().is_none_or(Electric::has_negative)
}

fn termini(build: &Build<'_>, circuit: &Circuit, core: Core) -> [Vec<Terminus>; 2] {
    let plain = |id: &str| vec![Terminus::of(id)];
    if core != Core::Negative {
        return [plain(&circuit.from), plain(&circuit.to)];
    }
    let near = match circuit.feeding {
        Feeding::Output => plain(&circuit.from),
        Feeding::Return if !is(build, &circuit.from, Role::Bank) => plain(&circuit.from),
        Feeding::Return => vec![Terminus { part: circuit.from.clone(), terminal: "minus" }],
        _ if is(build, &circuit.to, Role::Shunt) => vec![Terminus { part: circuit.from.clone(), terminal: "minus" }],
        _ => vec![return_of(build, &circuit.from, circuit.network)],
    };
    [near, far(build, circuit)]
}

fn is(build: &Build<'_>, id: &str, role: Role) -> bool {
    build.parts.get(id).and_then(Part::role) == Some(role)
}

/// Where the negative of a circuit goes: its load; past a switch, what the switch feeds.
fn far(build: &Build<'_>, circuit: &Circuit) -> Vec<Terminus> {
    let part = |id: &str| build.parts.get(id);
    // A switch without a negative: it is what the switch feeds that has one.
    let bare =
        |p: &Part<'_>| p.role().is_some_and(Role::passes_through) && own_bar(build, p).is_none() && !has_negative(p);
    let goes_on = |id: &str| circuit.feeding != Feeding::Output && part(id).is_some_and(bare);
    let behind = build.downstream(&circuit.to);
    let behind = behind.along(|c| c.network == circuit.network && c.owner == c.to && goes_on(&c.from)).parts();
    let mut ends = Vec::new();
    for part in part(&circuit.to).into_iter().chain(behind) {
        let bar = own_bar(build, part).filter(|_| part.role().is_some_and(Role::passes_through));
        match bar {
            Some(bar) => ends.push(bar),
            None if !bare(part) => ends.push(Terminus::of(&part.id)),
            None if circuit.feeding == Feeding::Output => ends.push(return_of(build, &part.id, circuit.network)),
            None => {}
        }
    }
    ends.dedup();
    if ends.is_empty() { vec![return_of(build, &circuit.to, circuit.network)] } else { ends }
}

/// The negative bar of a panel or busbar: one that mirrors it, or its own.
fn own_bar(build: &Build<'_>, part: &Part<'_>) -> Option<Terminus> {
    if let Some(bar) = build.mirror_of(&part.id) {
        return Some(Terminus::of(&bar.id));
    }
    let has_ways = part.role().is_some_and(|r| r.has_ways() && r != Role::AcPanel);
    let own = has_ways && (!part.roles.negative_bar().is_off());
    own.then(|| Terminus { part: part.id.clone(), terminal: "negative bar" })
}

/// Where the current that leaves `part` comes back to.
fn return_of(build: &Build<'_>, part: &str, network: Network) -> Terminus {
    let above = build.upstream(part).along(|c| c.network == network && c.owner == c.to).single().parts();
    for here in build.parts.get(part).into_iter().chain(above) {
        if let Some(bar) = own_bar(build, here) {
            return bar;
        }
        match here.role() {
            Some(Role::Bank) => return of_bank(build, &here.id),
            // A return at the post upsets the vehicle's own measuring of it.
            Some(Role::StartBattery) => return Terminus { part: here.id.clone(), terminal: "chassis point" },
            Some(role) if !role.passes_through() || has_negative(here) && !role.has_ways() => {
                return Terminus::of(&here.id);
            }
            _ => {}
        }
    }
    let bank = build.parts.values().find(|p| p.role() == Some(Role::Bank) && network == Network::Dc);
    bank.map_or_else(|| Terminus { part: part.to_owned(), terminal: "minus of its supply" }, |b| of_bank(build, &b.id))
}

/// A bank's return: the bar behind its shunt, the shunt, or its own post.
fn of_bank(build: &Build<'_>, bank: &str) -> Terminus {
    let bar = build.first_negative_bar();
    let shunt = build.leaving(bank).find(|c| is(build, &c.to, Role::Shunt)).map(|c| c.to.as_str());
    let minus = || Terminus { part: bank.to_owned(), terminal: "minus" };
    bar.map(|b| b.id.as_str()).or(shunt).map_or_else(minus, Terminus::of)
}
