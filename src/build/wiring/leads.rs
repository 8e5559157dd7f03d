//! The leads of kinds: what a part needs beside its supply and return.

use super::bonds::plain;
use super::{Conductor, Landing, Purpose};
use crate::build::{Build, Part};
use crate::kinds::{Carries, Condition, Lead, Post};
use crate::units::{Amps, ConductorSize, Dimension, Metres, parse_quantity};

pub(super) fn conductors(build: &Build<'_>) -> Vec<Conductor> {
    let mut list = Vec::new();
    for part in build.parts.values() {
        for lead in part.kind.leads.iter().filter(|l| Condition::lets(l.when.as_ref(), part.record)) {
            list.extend(conductor(build, part, lead));
        }
    }
    list
}

fn conductor(build: &Build<'_>, part: &Part<'_>, lead: &Lead) -> Option<Conductor> {
    let (from, carried) = end(build, part, &lead.from)?;
    let (to, taken) = end(build, part, &lead.to)?;
    // What it is, the post of its own part says best.
    let carries = if from.part == part.id { carried } else { taken };
    let as_supply = lead.is_as_supply();
    let given = lead.conductor.as_deref().and_then(ConductorSize::parse);
    let purpose = match given {
        Some(size) => Purpose::Lead(size),
        None if as_supply => Purpose::Circuit,
        None => Purpose::Makers,
    };
    let mut conductor = plain(part, &lead.id, carries, [from, to], purpose);
    conductor.circuit = as_supply.then(|| part.id.clone());
    conductor.fuse = lead
        .fuse_from
        .as_deref()
        .and_then(|field| part.record.quantity(field, Dimension::Current))
        .map(|q| Amps(q.value));
    let length = lead.length.as_deref().and_then(|text| parse_quantity(text, Dimension::Length).ok());
    conductor.makers = length.map(|q| Metres(q.value));
    conductor.route.length = lead.run_from.as_deref().and_then(|field| part.record.metres(field));
    let ends = [conductor.from.part.clone(), conductor.to.part.clone()];
    conductor.confidential |= ends.iter().any(|id| build.parts.get(id).is_some_and(|p| p.confidential));
    Some(conductor)
}

/// An end of a lead, and what its post takes; `None` where no part has it.
fn end(build: &Build<'_>, part: &Part<'_>, said: &str) -> Option<(Landing, Carries)> {
    let landing = |part: &Part<'_>, post: &Post| (Landing::at(part, post), post.takes);
    if let Some(post) = part.kind.posts.iter().find(|p| p.id == said) {
        return Some(landing(part, post));
    }
    let (whose, id) = said.split_once('.')?;
    let other = other(build, part, whose)?;
    let post = other.kind.posts.iter().find(|p| p.id == id)?;
    Some(landing(other, post))
}

/// The part that a field of this one names, or the nearest of a role: on its way up, else the only one there is.
fn other<'b, 'k>(build: &'b Build<'k>, part: &Part<'_>, whose: &str) -> Option<&'b Part<'k>> {
    if let Some(named) = part.record.list(whose).first() {
        return build.parts.get(&named.value);
    }
    let has_role = |p: &&Part<'_>| p.kind.roles.contains(&whose);
    if let Some(above) = build.upstream(&part.id).parts().find(has_role) {
        return build.parts.get(&above.id);
    }
    let mut all = build.parts.values().filter(|p| has_role(p) && p.id != part.id);
    let first = all.next()?;
    all.next().is_none().then_some(first)
}
