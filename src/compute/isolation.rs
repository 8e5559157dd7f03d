//! Which switches stand between a part and the bank, and what such a switch really turns off.
//!
//! Found by walking the circuits, never by the order of the spec: a van may have two switches, banks or inverters.

use crate::build::{Build, Circuit, Feeding, Part};
use crate::kinds::{Network, Role};
use std::collections::BTreeSet;

/// What a switch of the house network turns off.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Cut {
    /// Everything that the banks feed hangs on it.
    pub all: bool,
    /// What hangs on it: names of users, "all on House panel" for a whole panel.
    pub what: Vec<String>,
}

/// Names in a sentence: "A", "A and B", "A, B and C".
#[must_use]
pub fn listed<S: AsRef<str>>(names: &[S]) -> String {
    match names {
        [] => String::new(),
        [one] => one.as_ref().to_owned(),
        [more @ .., last] => {
            let more: Vec<&str> = more.iter().map(AsRef::as_ref).collect();
            format!("{} and {}", more.join(", "), last.as_ref())
        }
    }
}

/// Names of parts in a sentence.
#[must_use]
pub fn names(parts: &[&Part<'_>]) -> String {
    listed(&parts.iter().map(|p| p.name.as_str()).collect::<Vec<_>>())
}

/// Whether a part is a switch that cuts off the house network.
#[must_use]
pub fn is_switch(part: &Part<'_>) -> bool {
    part.electric().is_some_and(|e| e.role == Role::Disconnect && e.network == Network::Dc)
}

/// Whether energy goes along a circuit to what it feeds: not what a charger puts in, nor the way back of a negative.
fn carries(circuit: &Circuit) -> bool {
    circuit.feeding.draws() || circuit.feeding == Feeding::Output && circuit.network == Network::Ac
}

/// Parts above `id`, nearest first. The walk does not go beyond a part at which `ends`; that part is given.
fn above<'a>(build: &'a Build<'_>, id: &str, ends: impl Fn(&Part<'_>) -> bool) -> Vec<&'a Part<'a>> {
    let ends = |c: &Circuit| build.parts.get(&c.from).is_some_and(&ends);
    build.upstream(id).along(carries).until(ends).parts().collect()
}

fn in_order<'a>(build: &Build<'_>, mut parts: Vec<&'a Part<'a>>) -> Vec<&'a Part<'a>> {
    parts.sort_by_key(|p| build.parts.get_index_of(&p.id));
    parts.dedup_by_key(|p| p.id.as_str());
    parts
}

/// The parts of a role nearest above `id`, one a path; none where no path leads to one.
#[must_use]
pub fn nearest<'a>(build: &'a Build<'_>, id: &str, is: impl Fn(&Part<'_>) -> bool) -> Vec<&'a Part<'a>> {
    let found = above(build, id, &is).into_iter().filter(|p| is(p)).collect();
    in_order(build, found)
}

/// The switches between `id` and the banks, from the bank down to the part.
#[must_use]
pub fn switches_above<'a>(build: &'a Build<'_>, id: &str) -> Vec<&'a Part<'a>> {
    above(build, id, |_| false).into_iter().filter(|p| is_switch(p) && on_a_bank(build, &p.id)).rev().collect()
}

fn on_a_bank(build: &Build<'_>, id: &str) -> bool {
    banks_above(build, id).next().is_some()
}

/// The nearest parts below `id` that are what is asked for, through what current passes.
#[must_use]
pub fn nearest_below<'a>(build: &'a Build<'_>, id: &str, is: impl Fn(&Part<'_>) -> bool) -> Vec<&'a Part<'a>> {
    let ends = |p: &Part<'_>| is(p) || !p.role().is_some_and(Role::passes_through);
    let ends = |c: &Circuit| build.parts.get(&c.to).is_some_and(ends);
    let below = build.downstream(id).along(carries).until(ends).parts();
    in_order(build, below.filter(|p| is(p)).collect())
}

/// The first switches below `id` on the way to what it feeds.
fn first_below<'a>(build: &'a Build<'_>, id: &str) -> Vec<&'a Part<'a>> {
    nearest_below(build, id, is_switch)
}

/// The main switches of the van: of each bank the first ones that what it feeds hangs on.
#[must_use]
pub fn main_switches<'a>(build: &'a Build<'_>) -> Vec<&'a Part<'a>> {
    let banks = build.parts.values().filter(|p| p.role() == Some(Role::Bank));
    in_order(build, banks.flat_map(|bank| first_below(build, &bank.id)).collect())
}

/// The switches that cut `part` off from the banks: itself; else the nearest above it; else, for what stands before every
/// switch (bank, main fuse), the first below it; else those of the bus that it charges, of its bank, of the van. `mains`
/// are those of [`main_switches`].
#[must_use]
pub fn switches_of<'a>(build: &'a Build<'_>, mains: &[&'a Part<'a>], part: &Part<'_>) -> Vec<&'a Part<'a>> {
    if mains.is_empty() || part.electric().is_none() {
        return mains.to_vec();
    }
    if is_switch(part) && on_a_bank(build, &part.id) {
        return build.parts.get(&part.id).into_iter().collect();
    }
    let near = |id: &str| -> Vec<&'a Part<'a>> {
        nearest(build, id, is_switch).into_iter().filter(|p| on_a_bank(build, &p.id)).collect()
    };
    let charges = || -> Vec<&'a Part<'a>> {
        let outputs = build.leaving(&part.id).filter(|c| c.feeding == Feeding::Output);
        let found = outputs.flat_map(|c| match build.parts.get(&c.to).filter(|p| is_switch(p)) {
            Some(switch) => vec![switch],
            None => near(&c.to),
        });
        found.collect()
    };
    let of_its_bank = || -> Vec<&'a Part<'a>> {
        let banks: Vec<_> = banks_above(build, &part.id).collect();
        let hangs = |m: &&&Part<'_>| banks_above(build, &m.id).any(|b| banks.iter().any(|own| own.id == b.id));
        mains.iter().filter(hangs).copied().collect()
    };
    let mut found = near(&part.id);
    for further in [&|| first_below(build, &part.id), &charges as &dyn Fn() -> Vec<&'a Part<'a>>, &of_its_bank] {
        if found.is_empty() {
            found = further();
        }
    }
    if found.is_empty() { mains.to_vec() } else { in_order(build, found) }
}

fn banks_above<'a>(build: &'a Build<'_>, id: &str) -> impl Iterator<Item = &'a Part<'a>> {
    above(build, id, |_| false).into_iter().filter(|p| p.role() == Some(Role::Bank))
}

/// What uses energy of the banks on the direct-current side.
fn users<'a>(build: &'a Build<'_>) -> impl Iterator<Item = &'a Part<'a>> {
    let uses = |p: &&Part<'_>| {
        p.electric().is_some_and(|e| {
            let inverts = matches!(e.role, Role::Inverter | Role::InverterCharger);
            e.network == Network::Dc && (inverts || matches!(e.role, Role::Load | Role::Display | Role::Outlet))
        })
    };
    build.parts.values().filter(uses).filter(|p| on_a_bank(build, &p.id))
}

/// Whether `user` is dead with all of `switches` off.
fn is_cut(build: &Build<'_>, user: &str, switches: &[&Part<'_>]) -> bool {
    let off = |p: &Part<'_>| switches.iter().any(|s| s.id == p.id);
    !above(build, user, off).iter().any(|p| p.role() == Some(Role::Bank))
}

/// What `switch` turns off.
#[must_use]
pub fn cut_by(build: &Build<'_>, mains: &[&Part<'_>], switch: &Part<'_>) -> Cut {
    let all: Vec<&Part<'_>> = users(build).collect();
    let dead: BTreeSet<&str> = all.iter().filter(|u| is_cut(build, &u.id, &[switch])).map(|u| u.id.as_str()).collect();
    if dead.len() == all.len() && mains.iter().all(|m| m.id == switch.id) && !mains.is_empty() {
        return Cut { all: true, what: Vec::new() };
    }
    let panels_above = |id: &str| {
        let above = above(build, id, |p| p.id == switch.id);
        above.into_iter().filter(|p| p.role().is_some_and(Role::has_ways)).collect::<Vec<_>>()
    };
    let below = |p: &Part<'_>| above(build, &p.id, |_| false).iter().any(|a| a.id == switch.id);
    let mut what: Vec<String> = Vec::new();
    for user in all.iter().filter(|u| dead.contains(u.id.as_str())) {
        // The panel nearest the switch stands for all that hangs on it.
        let panel = panels_above(&user.id).into_iter().rfind(|p| below(p));
        let name = panel.map_or_else(|| user.name.clone(), |p| format!("all on {}", p.name));
        if !what.contains(&name) {
            what.push(name);
        }
    }
    Cut { all: false, what }
}

/// What stays live with every main switch off: it is fed past them.
#[must_use]
pub fn past_the_mains<'a>(build: &'a Build<'_>, mains: &[&Part<'_>]) -> Vec<&'a Part<'a>> {
    if mains.is_empty() {
        return Vec::new();
    }
    users(build).filter(|u| !is_cut(build, &u.id, mains)).collect()
}
