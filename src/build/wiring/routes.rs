//! How long each conductor is: the run that the spec gives, else the way along channels, else straight between places
//! that are next to each other.

use super::channels::{Channels, REACH, between};
use super::ends::is_bare;
use super::{Conductor, Landing, Purpose, Route, RouteBy};
use crate::build::{Build, Circuit, Feeding, Part};
use crate::kinds::Carries;
use crate::roles::Lead;
use crate::units::Metres;
use indexmap::IndexMap;

/// Gives all conductors their routes, and what the spec says of each by its own id.
pub(super) fn lay(build: &Build<'_>, channels: &Channels, list: &mut [Conductor]) {
    for conductor in list {
        let said =
            build.parts.get(&conductor.owner).and_then(|p| p.leads.iter().find(|l| l.id == conductor.of_set().0));
        let said = said.and_then(|l| l.roles.lead.as_deref());
        if let Some(said) = said {
            overrule(conductor, said);
        }
        conductor.route = route(build, channels, conductor, said);
    }
}

/// What `[component.<id>.lead.<conductor>]` says.
fn overrule(conductor: &mut Conductor, said: &Lead) {
    if let Some(size) = said.conductor.get() {
        conductor.purpose = match conductor.purpose {
            Purpose::Makers | Purpose::Lead(_) => Purpose::Lead(size),
            other => other,
        };
    }
    conductor.fuse = said.fuse.get().or(conductor.fuse);
    // A lead of the maker is ordered in that length.
    conductor.makers = said.run.get().filter(|_| conductor.purpose == Purpose::Makers).or(conductor.makers);
}

fn route(build: &Build<'_>, channels: &Channels, conductor: &Conductor, said: Option<&Lead>) -> Route {
    let given = |length| Route { length: Some(length), by: RouteBy::Given, ..Route::default() };
    if let Some(run) = said.and_then(|l| l.run.get()).or(conductor.route.length) {
        return given(run);
    }
    let on_its_way =
        conductor.circuit.as_ref().filter(|_| matches!(conductor.purpose, Purpose::Circuit | Purpose::Beside));
    let circuit = on_its_way.and_then(|id| build.circuits.get(id));
    let switched = circuit.is_some_and(|c| c.switched_at.is_some());
    let is_live = !matches!(conductor.carries, Carries::Negative | Carries::Neutral | Carries::Earth);
    if let Some(run) = circuit.and_then(|c| c.run).filter(|_| !(switched && is_live)) {
        let back = circuit.and_then(|c| match conductor.carries {
            Carries::Negative => Some(behind_switches(build, c)),
            Carries::Earth => Some(past(build, c, &conductor.from.part)),
            _ => None,
        });
        return match back {
            Some(Some(more)) if more.0 > 0.0 => {
                Route { length: Some(run + more), by: RouteBy::Back, ..Route::default() }
            }
            Some(None) => Route::default(),
            _ => given(run),
        };
    }
    let [Some(from), Some(to)] = conductor.ends().map(|end| place(build, end)) else { return Route::default() };
    // Within a place nobody knows where they are.
    if from == to {
        return Route::default();
    }
    let straight = channels.middle(&from).zip(channels.middle(&to)).map(|(a, b)| between(a, b));
    if let Some(straight) = straight.filter(|s| *s <= REACH) {
        return Route { length: Some(Metres(straight)), by: RouteBy::Straight, ..Route::default() };
    }
    channels.way(&from, &to).map_or_else(Route::default, |way| Route {
        length: Some(Metres(way.length)),
        by: RouteBy::Channels,
        channels: way.channels,
        pieces: way.pieces,
    })
}

/// Runs of the circuits between a circuit and the bar that its negative goes back to, which have no negative of their own:
/// those to switches that it hangs on. `None` where one is not known.
fn behind_switches(build: &Build<'_>, circuit: &Circuit) -> Option<Metres> {
    let bare = |id: &str| build.parts.get(id).is_some_and(|p| is_bare(build, p));
    let mut sum = Metres(0.0);
    if circuit.feeding != Feeding::Supply || !bare(&circuit.from) {
        return Some(sum);
    }
    let fed = build.upstream(&circuit.from).along(|c| c.network == circuit.network && c.owner == c.to).single();
    for above in fed {
        sum = sum + above.run?;
        if !bare(&above.from) {
            break;
        }
    }
    Some(sum)
}

/// Runs of the circuits between a circuit and the part above it that gives the earth: a residual-current device has none.
fn past(build: &Build<'_>, circuit: &Circuit, earth: &str) -> Option<Metres> {
    let mut sum = Metres(0.0);
    if circuit.from == earth {
        return Some(sum);
    }
    for above in build.upstream(&circuit.from).along(|c| c.network == circuit.network).single() {
        sum = sum + above.run?;
        if above.from == earth {
            break;
        }
    }
    Some(sum)
}

/// Id of the place of an end: that of the body it is on, of its part, or of what the part rides on.
fn place(build: &Build<'_>, end: &Landing) -> Option<String> {
    if let Some(own) = &end.place {
        return build.places.contains_key(own).then(|| own.clone());
    }
    let mut part: Option<&Part<'_>> = build.parts.get(&end.part);
    // A chain of parts that ride on each other has an end: the reader sees to it.
    for _ in 0..build.parts.len() {
        let here = part?;
        if let Some(place) = here.places.first() {
            return Some(place.clone());
        }
        part = here.rides_on().and_then(|id| build.parts.get(id));
    }
    None
}

/// What the routes make of the runs of circuits of which the spec gives none, or whose supply goes over a switch: half of
/// the way there and back.
pub(in crate::build) fn runs_of_circuits(build: &Build<'_>) -> IndexMap<String, Metres> {
    let mut runs = IndexMap::new();
    for circuit in build.circuits.values() {
        if circuit.run.is_some() && circuit.switched_at.is_none() {
            continue;
        }
        let (mut there, mut back) = (Some(Metres(0.0)), None);
        for conductor in build
            .conductors_of(circuit)
            .filter(|c| c.purpose == Purpose::Circuit && !matches!(c.carries, Carries::Earth | Carries::LineTwo))
        {
            let length = conductor.route.length;
            match conductor.carries {
                Carries::Negative | Carries::Neutral => back = Some(length),
                _ => there = there.zip(length).map(|(a, b)| a + b),
            }
        }
        let is_positive = circuit.feeding != Feeding::Return;
        let run = match (there.filter(|_| is_positive), back) {
            // To a switch there is the positive alone: the way back counts where it is laid.
            (there, None) => there,
            (None, Some(back)) if !is_positive => back,
            (there, Some(back)) => there.zip(back).map(|(there, back)| {
                let counted = counted_before(build, circuit, &runs);
                Metres(((there.0 + back.0 - counted.0) / 2.0).max(there.0 / 2.0))
            }),
        };
        if let Some(run) = run.filter(|run| run.0 > 0.0) {
            runs.insert(circuit.id.clone(), run);
        }
    }
    runs
}

/// What the circuits to bare switches before this one count for the way back already.
fn counted_before(build: &Build<'_>, circuit: &Circuit, runs: &IndexMap<String, Metres>) -> Metres {
    let bare = |id: &str| build.parts.get(id).is_some_and(|p| is_bare(build, p));
    if !bare(&circuit.from) {
        return Metres(0.0);
    }
    let mut sum = Metres(0.0);
    for above in build.upstream(&circuit.from).along(|c| c.network == circuit.network && c.owner == c.to).single() {
        sum = sum + runs.get(&above.id).copied().or(above.run).unwrap_or_default();
        if !bare(&above.from) {
            break;
        }
    }
    sum
}
