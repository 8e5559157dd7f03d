//! The leads of kinds: what a part needs beside its supply and return.

use super::bonds::plain;
use super::ends::return_of;
use super::{Conductor, Landing, Purpose, VEHICLE};
use crate::build::{Build, Part};
use crate::kinds::{Carries, Condition, Lead, LeadEnd, Network, Post, PostSide};
use crate::units::{Amps, ConductorSize, Dimension, Metres, parse_quantity};

/// An end of a lead, and what its post takes; the vehicle tells nothing of that.
type End = (Landing, Option<Carries>);

pub(super) fn conductors(build: &Build<'_>) -> Vec<Conductor> {
    let mut list = Vec::new();
    for (part, lead) in asked(build) {
        if let (Ok(from), Ok(to)) = (end(build, part, &lead.from), end(build, part, &lead.to))
            && is_needed(part, [&from.0, &to.0])
        {
            list.extend(pieces(build, part, lead, from, to));
        }
    }
    list
}

/// The leads that the parts of a build need by what they are.
fn asked<'b, 'k>(build: &'b Build<'k>) -> impl Iterator<Item = (&'b Part<'k>, &'b Lead)> {
    build.parts.values().flat_map(|part| {
        part.kind.leads.iter().filter(|l| Condition::lets(l.when.as_ref(), part.record)).map(move |lead| (part, lead))
    })
}

/// What senses the voltage of the very part that feeds it reads it over its supply, where it has one: a shunt has none.
fn is_needed(part: &Part<'_>, ends: [&Landing; 2]) -> bool {
    if !part.kind.posts.iter().any(|post| post.takes == Carries::Positive) {
        return true;
    }
    let own = |end: &&Landing| end.part == part.id;
    let sense = |end: &&Landing| part.post(end).is_some_and(|post| post.takes == Carries::Sense);
    let feeder = part.supply.fed_from.all().first();
    let senses = ends.iter().any(|end| own(end) && sense(end));
    !(senses && feeder.is_some_and(|feeder| ends.iter().any(|end| end.part == feeder.value)))
}

/// The conductors of a lead: one, or one between each two bodies that stand between its ends.
fn pieces(build: &Build<'_>, part: &Part<'_>, lead: &Lead, from: End, to: End) -> Vec<Conductor> {
    let (from, carried) = from;
    let (to, taken) = to;
    let Some(what) = carries(from.part == part.id, carried, taken) else { return Vec::new() };
    let is_sensor = what == Carries::Signal;
    let [from, to] = [from, to].map(|end| if is_sensor { end.on_battery() } else { end });
    let bodies = between(part, lead);
    let whole = bodies.is_empty();
    let mut stops = vec![from];
    stops.extend(bodies);
    stops.push(to);
    let mut list = Vec::new();
    for (n, two) in stops.windows(2).enumerate() {
        let local = if n == 0 { lead.id.clone() } else { format!("{}-{}", lead.id, n + 1) };
        let mut conductor = plain(part, &local, what, [two[0].clone(), two[1].clone()], purpose(lead));
        conductor.circuit = lead.is_as_supply().then(|| part.id.clone());
        let current = |field: &str| part.record.quantity(field, Dimension::Current).map(|q| Amps(q.value));
        conductor.fuse = lead.fuse_from.as_deref().filter(|_| n == 0).and_then(current);
        conductor.shielded = lead.shielded;
        let length = lead.length.as_deref().and_then(|text| parse_quantity(text, Dimension::Length).ok());
        conductor.makers = length.map(|q| Metres(q.value));
        // What is told of the whole way tells nothing of its pieces.
        let run = lead.run_from.as_deref().filter(|_| whole);
        conductor.route.length = run.and_then(|field| part.record.metres(field));
        let hidden = |id: &String| build.parts.get(id).is_some_and(|p| p.confidential);
        conductor.confidential |= [&conductor.from.part, &conductor.to.part].into_iter().any(hidden);
        list.push(conductor);
    }
    list
}

fn purpose(lead: &Lead) -> Purpose {
    match lead.conductor.as_deref().and_then(ConductorSize::parse) {
        Some(size) => Purpose::Lead(size),
        None if lead.is_as_supply() => Purpose::Leg,
        None => Purpose::Makers,
    }
}

/// What a lead carries: a sense lead from the post of a battery senses; else the post of its own part says best.
fn carries(from_own: bool, carried: Option<Carries>, taken: Option<Carries>) -> Option<Carries> {
    use Carries::{Negative, Positive, SwitchedPositive};
    let [best, other] = if from_own { [carried, taken] } else { [taken, carried] };
    let power = |c: &Carries| matches!(c, Positive | SwitchedPositive | Negative);
    best.filter(|c| !power(c)).or_else(|| other.filter(|c| !power(c))).or(best).or(other)
}

/// The bodies of the part between the ends of a lead, in the order of the field that has their places.
fn between(part: &Part<'_>, lead: &Lead) -> Vec<Landing> {
    let Some(field) = lead.along.as_deref() else { return Vec::new() };
    let post = part.kind.posts.iter().find(|p| p.place_from.as_deref() == Some(field));
    let body = |(n, place): (usize, &crate::source::Spanned<String>)| Landing {
        post: post.map_or_else(String::new, |p| p.id.clone()),
        place: Some(place.value.clone()),
        ..Landing::words(&part.id, &format!("{} {}", field.replace('_', " "), n + 1))
    };
    part.record.list(field).iter().enumerate().map(body).collect()
}

/// An end of a lead; of one that nothing takes, whether that is a fault: a field that is left out asks for no lead.
fn end(build: &Build<'_>, part: &Part<'_>, said: &str) -> Result<End, bool> {
    let landing = |part: &Part<'_>, post: &Post| (Landing::at(part, post), Some(post.takes));
    match LeadEnd::read(said) {
        LeadEnd::Own(id) => {
            let post = part.kind.posts.iter().find(|p| p.id == id);
            post.map(|post| landing(part, post)).ok_or(false)
        }
        LeadEnd::Vehicle(words) => Ok((Landing::words(VEHICLE, words), None)),
        LeadEnd::Words(field) => {
            let words = part.record.text(field).map(str::trim).filter(|words| !words.is_empty());
            words.map(|words| (Landing::words(VEHICLE, words), None)).ok_or(false)
        }
        LeadEnd::Feed => {
            let coil = part.roles.coil.as_ref().and_then(|coil| coil.coil_from.first());
            let feeder = coil.or_else(|| part.supply.fed_from.first()).ok_or(false)?;
            let landing = Landing::on(build, feeder, Carries::Positive, PostSide::Out);
            Ok((landing, Some(Carries::Positive)))
        }
        LeadEnd::Return => {
            let circuit = build.circuits.get(&part.id);
            // What a coil takes comes back to where it was taken.
            let coil = part.roles.coil.as_ref().and_then(|coil| coil.coil_from.first());
            let from = match (coil, circuit) {
                (Some(feeder), _) => return_of(build, feeder, Network::Dc),
                (None, Some(circuit)) => return_of(build, &circuit.from, circuit.network),
                (None, None) => return Err(false),
            };
            Ok((from, Some(Carries::Negative)))
        }
        LeadEnd::Of(whose, post) => {
            // A field that names a switch of a panel.
            if let Some(at) = part.record.text(whose) {
                return side_of_switch(build, at, post).map(|landing| (landing, Some(Carries::Control))).ok_or(false);
            }
            let is_role = crate::roles::contract(whose).is_some();
            let other = other(build, part, whose, post).ok_or(is_role)?;
            let post = other.kind.posts.iter().find(|p| p.id == post);
            post.map(|post| landing(other, post)).ok_or(true)
        }
    }
}

/// One side of a switch that stands as "panel.switch".
fn side_of_switch(build: &Build<'_>, at: &str, side: &str) -> Option<Landing> {
    let (panel, switch) = at.split_once('.')?;
    build.parts.get(panel)?.switches().iter().find(|(id, _)| *id == switch)?;
    let landing = Landing { part: panel.to_owned(), post: side.to_owned(), ..Landing::default() };
    Some(Landing { switch: Some(switch.to_owned()), ..landing })
}

/// The part that a field of this one names, or one of a role that has the post: the nearest above it, or above what it
/// feeds or returns to, else the one with the same tank, else the only one there is.
fn other<'b, 'k>(build: &'b Build<'k>, part: &Part<'_>, whose: &str, post: &str) -> Option<&'b Part<'k>> {
    if let Some(named) = part.record.list(whose).first() {
        return build.parts.get(&named.value);
    }
    let fits = |p: &&Part<'_>| {
        p.id != part.id && p.kind.roles.contains(&whose) && p.kind.posts.iter().any(|own| own.id == post)
    };
    let beside = part.output.feeds.all().first().or_else(|| part.roles.returns_to().all().first());
    for from in std::iter::once(part.id.as_str()).chain(beside.map(|id| id.value.as_str())) {
        let above = build.upstream(from).parts().map(|p| p.id.as_str());
        let mut near = std::iter::once(from).chain(above).filter_map(|id| build.parts.get(id));
        if let Some(found) = near.find(fits) {
            return Some(found);
        }
    }
    let all: Vec<&Part<'k>> = build.parts.values().filter(fits).collect();
    let tank = part.roles.tank().all().first();
    let shows = |p: &&&Part<'k>| {
        let shown = |id: &str| p.roles.display.as_ref().is_some_and(|display| display.tanks.names(id));
        tank.is_some_and(|tank| shown(&tank.value) || p.roles.tank().names(&tank.value))
    };
    match all.as_slice() {
        [only] => Some(only),
        several => several.iter().find(shows).copied(),
    }
}

impl<'k> Build<'k> {
    /// Leads that a part needs and that have no other end in the build: the part, the lead, the end.
    #[must_use]
    pub fn open_leads(&self) -> Vec<(&Part<'k>, &Lead, &str)> {
        let open = |(part, lead)| {
            let lead: &Lead = lead;
            let nowhere = |said: &&String| matches!(end(self, part, said), Err(true));
            [&lead.from, &lead.to].into_iter().find(nowhere).map(|said| (part, lead, said.as_str()))
        };
        asked(self).filter_map(open).collect()
    }
}
