//! The return side: which positives come back through a shunt's cable or a negative bar's.

use super::bank;
use crate::build::{Build, Circuit, Feeding, Part};
use crate::kinds::{Network, Role};

/// Longest chain of bars that is followed; the circuits hold no loop.
const LONGEST: usize = 40;

/// Whether a circuit is a negative on its way back to the bank: the cable of a shunt or of a negative bar.
pub(super) fn is_return(build: &Build<'_>, circuit: &Circuit) -> bool {
    circuit.feeding == Feeding::Return || bank::is_return(build, &circuit.to)
}

/// The positives whose current comes back through `circuit`: all that leave the bank, or for a bar that returns to
/// another bar those that arrive at what it mirrors.
pub(super) fn answered<'a>(build: &'a Build<'_>, circuit: &Circuit) -> Vec<&'a Circuit> {
    let supplies = |c: &&Circuit| c.network == Network::Dc && c.feeding == Feeding::Supply && !is_return(build, c);
    let beyond = build.arriving(&circuit.from).find(|c| c.feeding == Feeding::Return);
    if beyond.is_some() {
        let mirrored = build.parts.get(&circuit.owner).and_then(|p| p.roles.mirrors().all().first());
        let own: Vec<_> = mirrored.into_iter().flat_map(|m| build.arriving(&m.value)).filter(supplies).collect();
        if !own.is_empty() {
            return own;
        }
    }
    bank_of(build, circuit).map_or_else(Vec::new, |bank| build.leaving(bank).filter(supplies).collect())
}

/// The bank that a return leads to.
#[must_use]
pub fn bank_of<'a>(build: &'a Build<'_>, circuit: &'a Circuit) -> Option<&'a str> {
    let mut at = circuit.from.as_str();
    for _ in 0..LONGEST {
        if build.parts.get(at).and_then(Part::role) == Some(Role::Bank) {
            return Some(at);
        }
        at = build.arriving(at).find(|c| is_return(build, c))?.from.as_str();
    }
    None
}
