//! The conductors of the circuits: what brings the current, what takes it back, and the earth beside them.

use super::ends::{earth_of, is_bare, is_shunt, own_bar, post, return_of};
use super::{Conductor, Landing, Purpose, Route};
use crate::build::{Build, Circuit, Feeding, Lines};
use crate::kinds::{Carries, Network, PostSide, Role};

/// All of them, in the order of the circuits.
pub(super) fn conductors(build: &Build<'_>) -> Vec<Conductor> {
    let mut list = Vec::new();
    for circuit in build.circuits.values() {
        of(build, circuit, &mut list);
    }
    list
}

/// Names of the conductors of a circuit within its part: what brings the current, what takes it back, the earth.
fn names(circuit: &Circuit) -> [String; 3] {
    let nth = circuit.id.strip_prefix(&circuit.owner).and_then(|rest| rest.strip_prefix('.'));
    match (circuit.feeding, nth) {
        (Feeding::Supply | Feeding::Return, None) => ["supply", "return", "earth"].map(str::to_owned),
        (Feeding::Supply | Feeding::Return, Some(n)) => ["supply", "return", "earth"].map(|name| format!("{name}-{n}")),
        (Feeding::Output, _) => ["out", "out-return", "out-earth"].map(str::to_owned),
        (Feeding::Shore, _) => ["shore", "shore-return", "shore-earth"].map(str::to_owned),
    }
}

fn of(build: &Build<'_>, circuit: &Circuit, list: &mut Vec<Conductor>) {
    let [live, back, earth] = names(circuit);
    let start = list.len();
    let mut put = |local: &str, carries: Carries, from: Landing, to: Landing| {
        list.push(Conductor {
            id: format!("{}.{local}", circuit.owner),
            owner: circuit.owner.clone(),
            local: local.to_owned(),
            circuit: Some(circuit.id.clone()),
            also: None,
            carries,
            from,
            to,
            purpose: Purpose::Circuit,
            fuse: None,
            shielded: false,
            makers: None,
            route: Route::default(),
            cable: String::new(),
            span: circuit.span,
            confidential: circuit.confidential,
        });
    };
    let on = |part: &str, carries: Carries, side: PostSide| Landing::on(build, part, carries, side);
    let is_ac = circuit.network == Network::Ac;
    if is_return(build, circuit) {
        // It leads back: from the bar or shunt at its end to what it returns to.
        let to = match build.parts.get(&circuit.from).and_then(crate::build::Part::role) {
            Some(Role::StartBattery) => Landing::words(&circuit.from, "chassis point"),
            _ => on(&circuit.from, Carries::Negative, PostSide::Out),
        };
        put(&back, Carries::Negative, on(&circuit.to, Carries::Negative, PostSide::In), to);
    } else {
        let carries = if is_ac { Carries::Line } else { Carries::Positive };
        let mut from = on(&circuit.from, carries, PostSide::Out);
        from.way = circuit.way;
        let to = on(&circuit.to, carries, PostSide::In);
        match switch_of(build, circuit) {
            Some([switch_in, switch_out]) => {
                put(&live, carries, from, switch_in);
                let behind = if is_ac { Carries::Line } else { Carries::SwitchedPositive };
                put(&leg_of(&live), behind, switch_out, to);
            }
            None => put(&live, carries, from, to),
        }
        if is_ac {
            if build.line_of(circuit) == Lines::Both {
                let mut from = on(&circuit.from, Carries::LineTwo, PostSide::Out);
                from.way = circuit.way;
                put(&format!("{live}-l2"), Carries::LineTwo, from, on(&circuit.to, Carries::LineTwo, PostSide::In));
            }
            let from = on(&circuit.to, Carries::Neutral, neutral_side(build, circuit));
            put(&back, Carries::Neutral, from, on(&circuit.from, Carries::Neutral, PostSide::Out));
            let earthed =
                build.parts.get(&circuit.to).and_then(|p| post(p, Carries::Earth, PostSide::In).map(|e| (p, e)));
            if let (Some((part, post)), Some(above)) = (earthed, earth_of(build, circuit)) {
                put(&earth, Carries::Earth, above, Landing::at(part, post));
            }
        } else if let Some([from, to]) = negative(build, circuit).filter(|_| !returns_by_other_side(build, circuit)) {
            put(&back, Carries::Negative, from, to);
        }
    }
    if let Some([_, other]) = sides_of_one_negative(build, circuit).filter(|[keeps, _]| keeps.id == circuit.id) {
        let negatives = list[start..].iter_mut().filter(|c| c.carries == Carries::Negative);
        negatives.for_each(|c| c.also = Some(other.id.clone()));
    }
    beside(list, start, circuit);
    // Cores of one jacket go the same way.
    let jacket = circuit.sheathed || is_ac;
    for at in start..list.len() {
        let (before, own) = list.split_at_mut(at);
        let Some(own) = own.first_mut() else { continue };
        let together = before[start..].iter().find(|other| jacket && other.set() == own.set() && same_way(other, own));
        own.cable = together.map_or_else(|| own.id.clone(), |other| other.cable.clone());
    }
}

/// Those that share the current of the ones from `start` on: "supply-b" beside "supply", between the same posts. An earth
/// has none beside it.
fn beside(list: &mut Vec<Conductor>, start: usize, circuit: &Circuit) {
    let first: Vec<Conductor> = list[start..].iter().filter(|c| c.carries != Carries::Earth).cloned().collect();
    for letter in ('b'..='d').take(circuit.side_by_side.saturating_sub(1) as usize) {
        list.extend(first.iter().cloned().map(|like| {
            let local = format!("{}-{letter}", like.local);
            Conductor { id: format!("{}.{local}", like.owner), local, purpose: Purpose::Beside, ..like }
        }));
    }
}

/// Whether two conductors lie between the same two parts.
fn same_way(a: &Conductor, b: &Conductor) -> bool {
    let ends = |c: &Conductor| [c.from.part.clone(), c.to.part.clone()];
    let ([a, b], [c, d]) = (ends(a), ends(b));
    (&a, &b) == (&c, &d) || (&a, &b) == (&d, &c)
}

/// On which side of what it feeds the neutral of a circuit ends: that of a panel goes through its main breaker where this
/// has a pole for it beside those of the lines, else straight to the bar.
fn neutral_side(build: &Build<'_>, circuit: &Circuit) -> PostSide {
    let panel = build.parts.get(&circuit.to).filter(|p| p.role() == Some(Role::AcPanel));
    let lines = if build.line_of(circuit) == Lines::Both { 2 } else { 1 };
    let passes_main = |p: &crate::build::Part<'_>| p.roles.main_poles().get().is_some_and(|poles| poles > lines);
    if panel.is_none_or(passes_main) { PostSide::In } else { PostSide::Out }
}

/// "supply" → "leg"; of a second one "leg-2".
fn leg_of(live: &str) -> String {
    live.strip_prefix("supply").map_or_else(|| format!("{live}-leg"), |rest| format!("leg{rest}"))
}

/// Both circuits of a charger that charges a bank from the vehicle, or the other way round, where input and output have
/// one negative post: the one on the side of the house, which keeps its negative, and the other. The vehicle's side comes
/// back by the body: a second conductor from the same post would be a way past the bond, as thin as its own current asks.
fn sides_of_one_negative<'a>(build: &'a Build<'_>, circuit: &Circuit) -> Option<[&'a Circuit; 2]> {
    let part = build.parts.get(&circuit.owner).filter(|p| p.role() == Some(Role::Charger))?;
    let one_post = post(part, Carries::Negative, PostSide::In)?.id == post(part, Carries::Negative, PostSide::Out)?.id;
    if !one_post || part.roles.isolated().is_set() {
        return None;
    }
    let own = |c: &&Circuit| c.owner == part.id;
    let input = build.arriving(&part.id).filter(own).find(|c| c.feeding == Feeding::Supply)?;
    let output = build.leaving(&part.id).filter(own).find(|c| c.feeding == Feeding::Output)?;
    match (input.network, output.network) {
        (Network::Start, Network::Dc) => Some([output, input]),
        (Network::Dc, Network::Start) => Some([input, output]),
        _ => None,
    }
}

/// Whether the current of a circuit comes back by the negative of the other side of its charger, and by the body.
#[must_use]
pub fn returns_by_other_side(build: &Build<'_>, circuit: &Circuit) -> bool {
    sides_of_one_negative(build, circuit).is_some_and(|[_, other]| other.id == circuit.id)
}

/// Whether the circuit is a negative on its way back to the bank.
fn is_return(build: &Build<'_>, circuit: &Circuit) -> bool {
    circuit.feeding == Feeding::Return || is_shunt(build, &circuit.to)
}

/// Both sides of the switch that stands in a circuit.
fn switch_of(build: &Build<'_>, circuit: &Circuit) -> Option<[Landing; 2]> {
    let (panel, id) = circuit.switched_at.as_ref()?.value.split_once('.')?;
    let part = build.parts.get(panel)?;
    part.switches().iter().find(|(own, _)| *own == id)?;
    let side = |post: &str| Landing {
        part: panel.to_owned(),
        post: post.to_owned(),
        switch: Some(id.to_owned()),
        ..Landing::default()
    };
    Some([side("in"), side("out")])
}

/// Where the negative of a DC circuit begins and ends; `None` where it has none of its own.
fn negative(build: &Build<'_>, circuit: &Circuit) -> Option<[Landing; 2]> {
    let to = build.parts.get(&circuit.to)?;
    if circuit.feeding == Feeding::Output {
        let from = match own_bar(build, to).filter(|_| to.role().is_some_and(Role::passes_through)) {
            Some(bar) => bar,
            None if is_bare(build, to) => return_of(build, &to.id, circuit.network),
            None => Landing::on(build, &to.id, Carries::Negative, PostSide::In),
        };
        return Some([from, Landing::on(build, &circuit.from, Carries::Negative, PostSide::Out)]);
    }
    // What only stands in the way of the positive has a negative where its electronics need one.
    let own = post(to, Carries::Negative, PostSide::In).is_some();
    if is_bare(build, to) && !own || is_in_main_path(circuit, to.role()) {
        return None;
    }
    let bar = own_bar(build, to).filter(|_| to.role().is_some_and(Role::passes_through));
    let from = match bar {
        // A bar that says where it returns to has that cable already.
        Some(bar) if build.arriving(&bar.part).any(|c| c.feeding == Feeding::Return) => return None,
        Some(bar) => bar,
        None => Landing::on(build, &to.id, Carries::Negative, PostSide::In),
    };
    let back = return_of(build, &circuit.from, circuit.network);
    (from.part != back.part).then_some([from, back])
}

/// Between bank and busbar there is the positive alone: its return is the cable of the negative bar.
fn is_in_main_path(circuit: &Circuit, to: Option<Role>) -> bool {
    matches!(to, Some(Role::Protection | Role::Disconnect | Role::Bus))
        && circuit.feeding == Feeding::Supply
        && matches!(circuit.network, Network::Dc | Network::Start)
}
