//! Voltage lost from a source to a load and back: every conductor on the way by its own length, the fuses, switches and
//! shunts, and the cables of the negative bars.

use super::{CircuitFigures, DeviceAt, Electrical, device, returns};
use crate::build::{Build, Circuit, Part, Purpose, returns_by_other_side};
use crate::compute::electrical::acceptance::{shunt, usual_fuse, usual_switch};
use crate::kinds::{Carries, Role};
use crate::units::{Metres, Ohms, Volts};
use std::collections::BTreeMap;

impl Electrical {
    /// Gives every circuit what is lost to its end.
    pub(super) fn total(&mut self, build: &Build<'_>) {
        let mut totals: BTreeMap<String, Volts> = BTreeMap::new();
        for circuit in build.circuits.values() {
            let Some(figures) = self.circuits.get(&circuit.id) else { continue };
            let above = above(build, self, circuit, &totals);
            let own = own(build, circuit, figures) + self.back_to_bank(build, circuit);
            totals.insert(circuit.id.clone(), above + own);
        }
        for (id, total) in totals {
            if let Some(figures) = self.circuits.get_mut(&id) {
                figures.total = total;
            }
        }
    }

    /// The circuit between the source and the end of this one that loses the most by itself, and how much: whoever wants to
    /// lose less begins there.
    #[must_use]
    pub fn loses_most<'b>(&self, build: &'b Build<'_>, circuit: &'b Circuit) -> (&'b Circuit, Volts) {
        let total = |c: &Circuit| self.circuits.get(&c.id).map_or(Volts(0.0), |f| f.total);
        let (mut at, mut most) = (circuit, (circuit, Volts(0.0)));
        // A way down from the source is no longer than the circuits there are.
        for _ in 0..build.circuits.len() {
            let above = passed_by(build, self, at).reduce(|one, two| if total(two) > total(one) { two } else { one });
            let own = Volts(total(at).0 - above.map_or(0.0, |c| total(c).0));
            if own > most.1 {
                most = (at, own);
            }
            let Some(above) = above else { break };
            at = above;
        }
        most
    }

    /// What the cables of negative bars and shunts lose on the way back, where the circuit's own negative ends on one.
    fn back_to_bank(&self, build: &Build<'_>, circuit: &Circuit) -> Volts {
        let negative = build.conductors_of(circuit).find(|c| c.carries == Carries::Negative);
        let Some(landed) = negative.filter(|_| !returns::is_return(build, circuit)).map(|c| c.to.part.as_str()) else {
            return Volts(0.0);
        };
        let mut lost = Volts(0.0);
        let mut part = landed;
        // A chain of returns is no longer than the circuits there are.
        for _ in 0..build.circuits.len() {
            let Some(back) = build.arriving(part).find(|c| returns::is_return(build, c)) else { break };
            let Some(figures) = self.circuits.get(&back.id) else { break };
            lost = lost + own(build, back, figures);
            part = &back.from;
        }
        lost
    }
}

/// What is lost up to where a circuit begins.
fn above(build: &Build<'_>, all: &Electrical, circuit: &Circuit, totals: &BTreeMap<String, Volts>) -> Volts {
    let lost = passed_by(build, all, circuit).filter_map(|f| totals.get(&f.id).copied());
    lost.reduce(Volts::max).unwrap_or_default()
}

/// The circuits whose current goes on in this one.
fn passed_by<'a, 'b: 'a>(
    build: &'b Build<'_>,
    all: &'a Electrical,
    circuit: &'b Circuit,
) -> impl Iterator<Item = &'b Circuit> + use<'a, 'b> {
    let passes = build.parts.get(&circuit.from).and_then(Part::role).is_some_and(Role::passes_through);
    device::feeders_of(build, circuit).filter(move |c| passes && all.circuits.contains_key(&c.id))
}

/// What a circuit loses itself: its conductors by their lengths, its fuse, and the contacts of what it leaves.
fn own(build: &Build<'_>, circuit: &Circuit, figures: &CircuitFigures) -> Volts {
    let devices = figures.demand.load * devices(build, circuit, figures);
    let Some(sized) = figures.conductor() else { return devices };
    let own = || build.conductors_of(circuit).filter(|c| c.carries != Carries::Earth);
    let lengths = own().filter(|c| c.purpose == Purpose::Circuit).map(|c| Some(c.route.length?.0));
    let lengths: Option<Vec<f64>> = lengths.collect();
    // Between the two switches of a pair the current takes one of two conductors.
    let passes = build.parts.get(&circuit.to).and_then(Part::role).is_some_and(Role::passes_through);
    let between = own().filter(|c| passes && c.purpose == Purpose::Leg).filter_map(|c| c.route.length);
    let between = between.reduce(Metres::max).unwrap_or_default();
    let legs = in_legs(build, circuit);
    let share = circuit.run.filter(|r| r.0 > 0.0).zip(lengths).map_or(1.0, |(run, lengths)| {
        // The loop of a run is two of it.
        (lengths.iter().sum::<f64>() + between.0 + legs.0) / (2.0 * run.0)
    });
    // Back by the body: taken for as long and as thin as the way there, which it is not.
    let share = if returns_by_other_side(build, circuit) { 1.0 } else { share };
    sized.drop.volts * share + devices
}

/// The length of conductor with the whole current that loses as much as the legs to the fitting that is lost most on, there and
/// back: of several fittings that are alike each takes its part, so a chain carries less from one to the next. None where a
/// length is not known, and where current flows on.
pub(super) fn in_legs(build: &Build<'_>, circuit: &Circuit) -> Metres {
    let Some(to) = build.parts.get(&circuit.to).filter(|p| !p.role().is_some_and(Role::passes_through)) else {
        return Metres(0.0);
    };
    let legs = || build.conductors_of(circuit).filter(|c| c.purpose == Purpose::Leg && c.owner == to.id);
    let lengths = |of: fn(Carries) -> bool| -> Option<Vec<f64>> {
        legs().filter(|c| of(c.carries)).map(|c| Some(c.route.length?.0)).collect()
    };
    let there = lengths(|c| matches!(c, Carries::Positive | Carries::SwitchedPositive | Carries::Line));
    let back = lengths(|c| matches!(c, Carries::Negative | Carries::Neutral));
    let Some((there, back)) = there.zip(back).filter(|(there, back)| there.len() == back.len()) else {
        return Metres(0.0);
    };
    let pairs = there.iter().zip(&back).map(|(there, back)| there + back);
    let fittings = pairs.clone().fold(1.0, |count, _| count + 1.0);
    Metres(if to.roles.legs().is("star") {
        pairs.fold(0.0, f64::max) / fittings
    } else {
        // Through the last leg flows what one fitting takes, through the one before it what two do.
        let (sum, _) = pairs.rev().fold((0.0, 1.0), |(sum, beyond), length| (sum + length * beyond, beyond + 1.0));
        sum / fittings
    })
}

/// What its fuse or breaker, the switch that it leaves and the shunt that it arrives at usually add.
pub(super) fn devices(build: &Build<'_>, circuit: &Circuit, figures: &CircuitFigures) -> Ohms {
    let fused = matches!(figures.device.at, DeviceAt::Way | DeviceAt::InLine | DeviceAt::Component(_));
    let fuse = figures.device.rating.filter(|_| fused).map_or(Ohms(0.0), usual_fuse);
    let part = |id: &str| build.parts.get(id);
    let rating = |p: &Part<'_>| p.roles.rating().get().or(figures.device.rating).unwrap_or(figures.design);
    let switches =
        |role| matches!(role, Role::Disconnect | Role::Control | Role::Transfer | Role::Rcd | Role::SwitchPanel);
    let switch =
        part(&circuit.from).filter(|p| p.role().is_some_and(switches)).map_or(Ohms(0.0), |p| usual_switch(rating(p)));
    // A switch of a panel stands in the supply itself.
    let own = circuit.switched_at.as_ref().map_or(Ohms(0.0), |_| usual_switch(figures.design));
    // A shunt stands in the return that it measures.
    let measures = part(&circuit.to).filter(|p| p.role() == Some(Role::Shunt));
    fuse + switch + own + measures.map_or(Ohms(0.0), |p| shunt(rating(p)))
}
