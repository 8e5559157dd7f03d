//! How far from its source a fuse may sit, by the rules in force.

use super::{DeviceAt, Electrical};
use crate::build::{Build, Circuit, Feeding, Part};
use crate::kinds::{Network, Role};
use crate::tables::profile::Profile;
use crate::units::Metres;

/// Longest conductor without protection from `source` to the fuse of a circuit.
#[must_use]
pub fn reach(build: &Build<'_>, profile: &Profile, circuit: &Circuit, source: &str) -> Metres {
    let role = build.parts.get(source).and_then(Part::role);
    match (circuit.sheathed, matches!(role, Some(Role::Bank | Role::StartBattery))) {
        (true, true) => profile.reach.battery_sheathed,
        (true, false) => profile.reach.sheathed,
        (false, _) => profile.reach.open,
    }
}

/// The same of a circuit that is nothing but the tail to its fuse; `None` of all others.
#[must_use]
pub fn reach_of_tail(build: &Build<'_>, all: &Electrical, circuit: &Circuit) -> Option<Metres> {
    let figures = all.circuits.get(&circuit.id).filter(|f| matches!(f.device.at, DeviceAt::Component(_)))?;
    let direct = matches!(circuit.network, Network::Dc | Network::Start);
    (direct && figures.device.is_own()).then(|| reach(build, &all.profile, circuit, &circuit.from))
}

/// The least that is allowed before a fuse that is this part, or that sits at it, and the circuit that it is of.
#[must_use]
pub fn reach_at<'a>(build: &'a Build<'_>, all: &Electrical, part: &Part<'_>) -> Option<(Metres, &'a Circuit)> {
    let own = build.circuits.get(&part.id).and_then(|c| Some((reach_of_tail(build, all, c)?, c)));
    let direct = |c: &&Circuit| matches!(c.network, Network::Dc | Network::Start);
    let at_it = |c: &&Circuit| {
        let device = all.circuits.get(&c.id).map(|f| &f.device.at);
        match device {
            Some(DeviceAt::InLine) => (c.feeding == Feeding::Output) == (c.to == part.id),
            Some(DeviceAt::Component(_)) => c.from == part.id,
            _ => false,
        }
    };
    let all_at_it = build.leaving(&part.id).chain(build.arriving(&part.id)).filter(direct).filter(at_it);
    let all_at_it = all_at_it.map(|c| (reach(build, &all.profile, c, &part.id), c));
    own.or_else(|| all_at_it.min_by(|a, b| a.0.0.total_cmp(&b.0.0)))
}
