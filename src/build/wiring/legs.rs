//! Legs: what leads from fitting to fitting where a circuit has several.

use super::{Conductor, Landing, Purpose, Route};
use crate::build::{Build, Part};
use crate::kinds::{Carries, Condition, Post, PostSide};
use std::collections::BTreeMap;

/// Most legs of a build, hundreds of times those of a van: a spec of a few lines can ask for millions. Beyond them none is listed.
const MOST: usize = 20_000;

/// The legs of all parts with several fittings on one circuit, beside what brings the first its current: `chain` leads on
/// from fitting to fitting, `star` from a joint at the first one to each of the others.
pub(super) fn conductors(build: &Build<'_>, circuits: &[Conductor]) -> Vec<Conductor> {
    let mut list = Vec::new();
    // What lands on a part: its supply, or what comes behind its switch, and what goes back.
    let mut landing_on: BTreeMap<&str, Vec<&Conductor>> = BTreeMap::new();
    for conductor in circuits {
        let supply = conductor.circuit.as_ref() == Some(&conductor.owner);
        if supply && here(conductor).part == conductor.owner && there(conductor).part != conductor.owner {
            landing_on.entry(&conductor.owner).or_default().push(conductor);
        }
    }
    for part in build.parts.values() {
        let bodies = bodies(part);
        let Some(legs) = part.roles.legs().text().filter(|_| bodies > 1) else { continue };
        let first = landing_on.get(part.id.as_str()).map_or(&[][..], Vec::as_slice);
        if first.is_empty() || first.len().saturating_mul(bodies) > MOST.saturating_sub(list.len()) {
            continue;
        }
        for body in 2..=bodies {
            let before = if legs == "star" { 1 } else { body - 1 };
            let start = list.len();
            for conductor in first {
                let ends = [before, body].map(|n| landing(part, (here(conductor), conductor.carries), n, bodies));
                let leg = leg(part, conductor, body, bodies, ends);
                list.push(leg);
            }
            // Cores of one jacket stay in it.
            if first.iter().any(|c| c.cable != c.id) {
                let cable = list[start].cable.clone();
                list[start..].iter_mut().for_each(|leg| leg.cable.clone_from(&cable));
            }
        }
    }
    list
}

/// How many fittings hang on its circuit.
fn bodies(part: &Part<'_>) -> usize {
    part.bodies().max(part.places.len())
}

/// The end of a conductor that is on its part.
const fn here(conductor: &Conductor) -> &Landing {
    if conductor.takes_back() { &conductor.from } else { &conductor.to }
}

/// The other one.
const fn there(conductor: &Conductor) -> &Landing {
    if conductor.takes_back() { &conductor.to } else { &conductor.from }
}

/// The post that further fittings hang on, where a lead of the part comes to it from a switch of its own.
fn switched<'p>(part: &'p Part<'_>) -> Option<&'p String> {
    let leads = |post: &&Post| {
        part.kind.leads.iter().any(|lead| lead.to == post.id && Condition::lets(lead.when.as_ref(), part.record))
    };
    let mut of_fittings = part.kind.posts.iter().filter(|post| post.side == Some(PostSide::Fittings));
    of_fittings.find(leads).map(|post| &post.id)
}

/// The same post on another fitting. Where each has a place of its own, it is there.
fn landing(part: &Part<'_>, (first, carries): (&Landing, Carries), number: usize, bodies: usize) -> Landing {
    let place = if part.places.len() == bodies {
        part.places.get(number - 1).cloned()
    } else {
        // Several fittings in several places: which is where, nobody tells.
        (part.places.len() > 1).then(String::new)
    };
    // Beyond a switch of its own the others hang on what that switches.
    let post = switched(part).filter(|_| carries == Carries::Positive).unwrap_or(&first.post);
    Landing { words: format!("fitting {number}"), post: post.clone(), place, ..first.clone() }
}

fn leg(part: &Part<'_>, like: &Conductor, body: usize, bodies: usize, ends: [Landing; 2]) -> Conductor {
    // A place would tell where a hidden part is.
    let place = part.places.get(body - 1).filter(|_| part.places.len() == bodies && !like.confidential);
    let name = place.map_or_else(|| format!("leg-{body}"), |place| format!("leg-{place}"));
    let local = match (like.is_back(), like.takes_back()) {
        (false, _) => name,
        (true, true) => format!("{name}-return"),
        (true, false) => format!("{name}-earth"),
    };
    let id = format!("{}.{local}", part.id);
    let [mut from, mut to] = ends;
    if like.takes_back() {
        std::mem::swap(&mut from, &mut to);
    }
    Conductor { cable: id.clone(), id, local, from, to, purpose: Purpose::Leg, route: Route::default(), ..like.clone() }
}
