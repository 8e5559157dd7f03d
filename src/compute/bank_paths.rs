//! The charge path and the load path of a bank: which contactor a part lies behind, and what stops as one opens.

use crate::build::{Build, Circuit, Conductor, Feeding, Part};
use crate::kinds::{Carries, Network, Role};

/// What flows through a contactor of a bank.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Path {
    /// What charges the bank.
    Charge,
    /// What draws from it.
    Load,
}

/// The path that a part is the contactor of.
#[must_use]
pub(crate) fn path_of(part: &Part<'_>) -> Option<Path> {
    let path = &part.roles.bank_path.as_ref()?.path;
    if path.is("charge") { Some(Path::Charge) } else { path.is("load").then_some(Path::Load) }
}

fn supplies(circuit: &Circuit) -> bool {
    circuit.network == Network::Dc && circuit.feeding == Feeding::Supply
}

/// The contactor that the current of `part` comes through from the bank, the nearest one, and its path; the part itself may be it.
#[must_use]
pub(crate) fn above<'b, 'k>(build: &'b Build<'k>, part: &str) -> Option<(&'b Part<'k>, Path)> {
    let own = build.parts.get(part);
    let converts = |c: &Circuit| build.parts.get(&c.from).is_some_and(|p| p.role() == Some(Role::Converter));
    let mut above = own.into_iter().chain(build.upstream(part).along(|c| supplies(c) && !converts(c)).parts());
    above.find_map(|p| Some((p, path_of(p)?)))
}

/// What charges behind a contactor: chargers and alternators whose output ends there, in the order of the spec.
pub(crate) fn sources<'b, 'k>(build: &'b Build<'k>, contactor: &'b str) -> impl Iterator<Item = &'b Part<'k>> {
    let ends = move |c: &Circuit| above(build, &c.to).is_some_and(|(p, _)| p.id == contactor);
    let charges = |c: &Circuit| c.feeding == Feeding::Output && c.network == Network::Dc;
    build.parts.values().filter(move |p| build.leaving(&p.id).any(|c| charges(c) && ends(c)))
}

/// What hangs behind a contactor and is dead without it: the first of each way down that takes the current or shares it out.
#[must_use]
pub(crate) fn users<'b, 'k>(build: &'b Build<'k>, contactor: &'b str) -> Vec<&'b Part<'k>> {
    let ends = |id: &str| {
        let role = build.parts.get(id).and_then(Part::role);
        role.is_none_or(|r| !r.passes_through() || r.has_ways())
    };
    let walk = build.downstream(contactor).along(supplies).until(|c| ends(&c.to));
    walk.parts().filter(|p| ends(&p.id)).collect()
}

/// Whether the bank's own protection stops a source: a lead of the source for that ends on a bank.
#[must_use]
pub(crate) fn is_stopped(build: &Build<'_>, source: &Part<'_>) -> bool {
    let on_bank = |id: &str| build.parts.get(id).and_then(Part::role) == Some(Role::Bank);
    let own = build.wiring.conductors.values().filter(|c| c.owner == source.id && c.carries == Carries::Control);
    own.flat_map(Conductor::ends).any(|end| on_bank(&end.part))
}

/// Names of what stops as a contactor opens; "" for what is none.
#[must_use]
pub(crate) fn stops(build: &Build<'_>, part: &Part<'_>) -> String {
    let names: Vec<&str> = match path_of(part) {
        Some(Path::Charge) => sources(build, &part.id).map(|p| p.name.as_str()).collect(),
        Some(Path::Load) => users(build, &part.id).iter().map(|p| p.name.as_str()).collect(),
        None => return String::new(),
    };
    if names.is_empty() { "nothing yet".to_owned() } else { super::isolation::listed(&names) }
}
