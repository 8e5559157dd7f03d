//! The return side: which positives come back through a shunt's cable or a negative bar's.

use crate::build::{Build, Circuit, Feeding, Part};
use crate::kinds::{Network, Role};

/// Whether a circuit is a negative on its way back to the bank: the cable of a shunt or of a negative bar.
pub(super) fn is_return(build: &Build<'_>, circuit: &Circuit) -> bool {
    circuit.feeding == Feeding::Return || stands_in_return(build, &circuit.to)
}

/// The positives whose current comes back through `circuit`: all that leave the bank, or for a bar that returns to
/// another bar those that arrive at what it mirrors.
pub(super) fn answered<'a>(build: &'a Build<'_>, circuit: &Circuit) -> Vec<&'a Circuit> {
    let supplies = |c: &&Circuit| c.network == Network::Dc && c.feeding == Feeding::Supply && !is_return(build, c);
    let back = |c: &&Circuit| c.feeding == Feeding::Return && !stands_in_return(build, &c.to);
    let beyond = build.arriving(&circuit.from).find(back);
    if beyond.is_some() {
        let mirrored = build.parts.get(&circuit.owner).and_then(|p| p.roles.mirrors().all().first());
        let own: Vec<_> = mirrored.into_iter().flat_map(|m| build.arriving(&m.value)).filter(supplies).collect();
        if !own.is_empty() {
            return own;
        }
    }
    bank_of(build, circuit).map_or_else(Vec::new, |bank| build.leaving(bank).filter(supplies).collect())
}

/// The bank that a return leads to, or the converter with an output negative of its own.
#[must_use]
pub fn bank_of<'a>(build: &'a Build<'_>, circuit: &'a Circuit) -> Option<&'a str> {
    let above = build.upstream(&circuit.from).along(|c| is_return(build, c)).single().parts();
    let mut bars = build.parts.get(&circuit.from).into_iter().chain(above);
    bars.find(|p| matches!(p.role(), Some(Role::Bank | Role::Converter))).map(|p| p.id.as_str())
}

/// Whether the part stands in the return path.
pub(super) fn stands_in_return(build: &Build<'_>, part: &str) -> bool {
    build.parts.get(part).and_then(Part::role) == Some(Role::Shunt)
}
