//! Conductors as lists show them: which lie between the same two parts and stand in one row, and how their ends are told.

use crate::build::{Build, Circuit, Conductor, Landing, RouteBy};
use crate::compute::network::{ConductorEnd, ConductorFigures, Electrical, Good, colour, is_worked_on, laid};
use crate::documents::Context;
use crate::documents::shared::{CONFIDENTIAL, Told, place_of};
use crate::kinds::Carries;
use crate::units::{ConductorSize, Metres, System};
use indexmap::IndexMap;
use std::collections::BTreeSet;

/// A conductor and its figures.
pub(crate) type Wire<'c> = (&'c Conductor, &'c ConductorFigures);

/// Length to cut of a conductor; of one whose route a redacted build keeps to itself none.
#[must_use]
pub(crate) fn cut((conductor, figures): Wire<'_>) -> Option<Metres> {
    figures.cut.filter(|_| conductor.route.length.is_some())
}

/// What it measures when it is good, from which its length follows: told where that is.
#[must_use]
pub(crate) fn good((conductor, figures): Wire<'_>) -> Option<Good> {
    figures.good.filter(|_| conductor.route.length.is_some())
}

/// The conductors that this job pulls, terminates and labels.
pub(crate) fn wires<'c>(context: &'c Context<'_>) -> impl Iterator<Item = Wire<'c>> {
    let known = |c: &'c Conductor| Some((c, context.electrical.conductors.get(&c.id)?));
    let own = context.build.wiring.conductors.values().filter(|c| is_worked_on(context.build, c));
    own.filter_map(known)
}

/// Conductors that stay and are joined to what this job fits, each with the end that is made anew: 0 where it begins, 1
/// where it ends.
pub(crate) fn rejoined<'c>(context: &'c Context<'_>) -> impl Iterator<Item = (Wire<'c>, usize)> {
    let build = context.build;
    let stays = move |c: &&'c Conductor| c.is_cut() && !is_worked_on(build, c);
    build.wiring.conductors.values().filter(stays).filter_map(move |conductor| {
        let (new, _) = build.joint(conductor)?;
        let figures = context.electrical.conductors.get(&conductor.id)?;
        Some(((conductor, figures), usize::from(new.part != conductor.from.part)))
    })
}

/// Conductors of one circuit that lie side by side between the same two parts: one row of a list.
#[derive(Clone, Debug)]
pub(crate) struct Run<'c> {
    /// What it is called: the circuit, or the conductor of none.
    pub label: &'c str,
    /// The conductors, what brings the current first.
    pub wires: Vec<Wire<'c>>,
}

/// All runs, in the order of the conductors.
pub(crate) fn runs<'c>(context: &'c Context<'_>) -> Vec<Run<'c>> {
    grouped(wires(context))
}

/// Some conductors, run by run.
pub(crate) fn grouped<'c>(wires: impl Iterator<Item = Wire<'c>>) -> Vec<Run<'c>> {
    let mut runs: Vec<Run<'c>> = Vec::new();
    for wire in wires {
        let label = wire.0.circuit.as_deref().unwrap_or(&wire.0.id);
        // Those of a circuit stand together in the list.
        let before = runs.iter_mut().rev().take_while(|run| run.label == label);
        match before.into_iter().find(|run| run.wires.first().is_some_and(|first| lie_together(*first, wire))) {
            Some(run) => run.wires.push(wire),
            None => runs.push(Run { label, wires: vec![wire] }),
        }
    }
    runs
}

/// Whether two conductors lie between the same two parts and are cut alike.
fn lie_together((a, of_a): Wire<'_>, (b, of_b): Wire<'_>) -> bool {
    let ends = |c: &Conductor| {
        // On one part, which of its bodies they lie between; where nobody tells bodies apart, which posts.
        let within = c.from.part == c.to.part;
        let told = |end: &Landing| (end.words.clone(), end.place.clone());
        let body = |end: &Landing| match within {
            true if told(&c.from) == told(&c.to) => (end.post.clone(), None),
            true => told(end),
            false => (String::new(), None),
        };
        let mut parts = [&c.from, &c.to].map(|end| (end.part.clone(), body(end)));
        parts.sort();
        parts
    };
    let close = |x: Option<Metres>, y: Option<Metres>| match (x, y) {
        (Some(x), Some(y)) => (x.0 - y.0).abs() < 1e-9,
        (x, y) => x.is_none() && y.is_none(),
    };
    ends(a) == ends(b) && of_a.size == of_b.size && close(a.route.length, b.route.length) && a.makers == b.makers
}

impl<'c> Run<'c> {
    /// The first conductor, which says where it begins and ends.
    pub(crate) fn first(&self) -> Wire<'c> {
        // A run is made with one.
        self.wires[0]
    }

    /// Where it begins and ends, each post that its live conductors are on: "Lounge switch, traveller 1 and traveller 2".
    pub(crate) fn ends(&self, build: &Build<'_>) -> [String; 2] {
        let first = self.first().0;
        let body = |end: &Landing| (end.part.clone(), end.words.clone(), end.place.clone());
        let mut there: [Vec<&Landing>; 2] = [Vec::new(), Vec::new()];
        for (conductor, _) in self.wires.iter().filter(|(c, _)| c.is_back() == first.is_back()) {
            let turned = body(&conductor.from) == body(&first.to) && body(&conductor.from) != body(&first.from);
            let [from, to] = conductor.ends();
            let own = if turned { [to, from] } else { [from, to] };
            there.iter_mut().zip(own).for_each(|(list, end)| list.push(end));
        }
        there.map(|ends| {
            let mut posts: Vec<String> = Vec::new();
            let all_alike = ends.iter().all(|end| end.terminal(build) == ends[0].terminal(build));
            for end in &ends {
                let told = end.terminal(build);
                let post = if told.is_empty() && !all_alike { end.post.replace('-', " ") } else { told };
                if !post.is_empty() && !posts.contains(&post) {
                    posts.push(post);
                }
            }
            let name = build.name(&ends[0].part);
            if posts.is_empty() { name.to_owned() } else { format!("{name}, {}", posts.join(" and ")) }
        })
    }

    /// Where it begins, with its place.
    pub(crate) fn start(&self, context: &Context<'_>, told: Told) -> String {
        let [start, _] = self.ends(context.build);
        placed(context, start, &self.first().0.from, told)
    }

    /// The same of its end with the place.
    pub(crate) fn end(&self, context: &Context<'_>, told: Told) -> String {
        let [_, end] = self.ends(context.build);
        placed(context, end, &self.first().0.to, told)
    }

    /// "supply +, return −"; of one that its label names already what it carries alone.
    pub(crate) fn conductors(&self) -> String {
        let said = self.wires.iter().map(|(c, _)| match c.carries.sign() {
            _ if c.circuit.is_none() => c.carries.show().to_owned(),
            sign if sign == c.local => sign.to_owned(),
            sign => format!("{} {sign}", c.local),
        });
        said.collect::<Vec<_>>().join(", ")
    }

    /// "red, yellow".
    pub(crate) fn colours(&self, context: &Context<'_>) -> String {
        let colours = &context.electrical.profile.colours;
        let said = self.wires.iter().filter(|(c, _)| c.is_cut()).map(|(c, _)| colour(c.carries, colours));
        said.filter(|colour| !colour.is_empty()).collect::<Vec<_>>().join(", ")
    }

    /// Size; "maker's" for a lead that is not cut.
    pub(crate) fn size(&self) -> String {
        let (conductor, figures) = self.first();
        match figures.size {
            Some(size) => size.to_string(),
            None if conductor.is_cut() => "none fits".to_owned(),
            None => "maker’s".to_owned(),
        }
    }

    /// Cables to pull: a jacket is one.
    pub(crate) fn pieces(&self) -> usize {
        self.wires.iter().map(|(c, _)| c.cable.as_str()).collect::<BTreeSet<_>>().len()
    }

    /// Length of the route, as a list prints it.
    pub(crate) fn route(&self, context: &Context<'_>, unsaid: &str) -> String {
        let conductor = self.first().0;
        let unsaid = if conductor.confidential { CONFIDENTIAL } else { unsaid };
        let length = laid(context.build, conductor);
        length.map_or_else(|| unsaid.to_owned(), |l| l.show(context.build.prints()))
    }

    /// Where it lies: the channels, else the places that its cable passes.
    pub(crate) fn passes(&self, context: &Context<'_>) -> String {
        let build = context.build;
        let conductor = self.first().0;
        if conductor.route.by == RouteBy::Channels {
            let name = |id: &String| {
                let about = build.channels.get(id).and_then(|c| c.about.text()).filter(|a| !a.trim().is_empty());
                about.map_or_else(|| id.replace('-', " "), str::to_owned)
            };
            return conductor.route.channels.iter().map(name).collect::<Vec<_>>().join(", ");
        }
        let circuit = conductor.circuit.as_ref().and_then(|id| build.circuits.get(id));
        circuit.map_or_else(String::new, |c| super::passes(build, c))
    }
}

/// What a piece is cut as: the wire of a switched positive is that of a positive.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Core {
    /// One conductor.
    Of(Carries),
    /// One conductor in a shield.
    Shielded(Carries),
    /// One sheath with this many.
    Sheathed(usize),
}

impl Core {
    pub(crate) const fn of(conductor: &Conductor) -> Self {
        match conductor.carries {
            carries if conductor.shielded => Self::Shielded(carries),
            Carries::SwitchedPositive => Self::Of(Carries::Positive),
            other => Self::Of(other),
        }
    }

    /// As documents print it.
    pub(crate) fn show(self) -> String {
        match self {
            Self::Of(carries) => carries.show().to_owned(),
            Self::Shielded(carries) => format!("{}, shielded", carries.show()),
            Self::Sheathed(n) => format!("{n} conductors in one sheath"),
        }
    }
}

/// A cable to cut.
#[derive(Clone, Debug)]
pub(crate) struct Cable<'c> {
    /// Its conductors.
    pub wires: Vec<Wire<'c>>,
    /// Size of each.
    pub size: ConductorSize,
    /// Length to cut; `None` where it is measured in the van.
    pub cut: Option<Metres>,
}

/// The cables that this job cuts from reels.
pub(crate) fn cables<'c>(context: &'c Context<'_>) -> Vec<Cable<'c>> {
    let mut cables: IndexMap<&str, Cable<'c>> = IndexMap::new();
    for (conductor, figures) in wires(context).filter(|(c, _)| c.is_cut()) {
        let Some(size) = figures.size else { continue };
        let cut = cut((conductor, figures));
        let cable = cables.entry(&conductor.cable).or_insert(Cable { wires: Vec::new(), size, cut });
        cable.wires.push((conductor, figures));
    }
    cables.into_values().collect()
}

/// An end of a conductor with its place: "House panel, way 5 (Garage, left)".
#[must_use]
pub(crate) fn landing(context: &Context<'_>, end: &Landing, told: Told) -> String {
    placed(context, end.show(context.build), end, told)
}

/// What an end is on, with its place: "House panel (Garage, left)"; of a second body the place of that.
#[must_use]
pub(crate) fn body(context: &Context<'_>, end: &Landing, told: Told) -> String {
    placed(context, context.build.name(&end.part).to_owned(), end, told)
}

fn placed(context: &Context<'_>, shown: String, end: &Landing, told: Told) -> String {
    let build = context.build;
    let number = |ids: &[String]| match told {
        Told::Number(stage) => context.numbers(stage, ids),
        Told::Name(_) => None,
    };
    let named = |place: &String| build.places.get(place).map_or_else(|| place.clone(), |_| build.place_name(place));
    let place = match &end.place {
        Some(place) => number(std::slice::from_ref(place)).unwrap_or_else(|| named(place)),
        None if is_elsewhere(build, end) => "place not given".to_owned(),
        None => {
            let part = build.parts.get(&end.part).filter(|part| !part.confidential);
            part.and_then(|part| number(&part.places)).unwrap_or_else(|| place_of(build, &end.part, told.reader()))
        }
    };
    if place.is_empty() { shown } else { format!("{shown} ({place})") }
}

/// Whether an end is on a second body of its part of which the spec tells no place: on a display, a dish, a controller.
fn is_elsewhere(build: &Build<'_>, end: &Landing) -> bool {
    use Carries::{Antenna, Control, Data, Sense, Signal};
    let part = build.parts.get(&end.part).filter(|part| !part.confidential);
    let post = part.and_then(|part| part.post(end)).filter(|post| post.place_from.is_some());
    post.is_some_and(|post| matches!(post.takes, Antenna | Control | Data | Sense | Signal))
}

/// Lug of an end, "" where the kind of the part does not tell.
#[must_use]
pub(crate) fn lug(end: &ConductorEnd) -> String {
    if end.form.is_some() { end.lug() } else { end.size.map_or_else(String::new, |size| size.to_string()) }
}

/// What is cut for a circuit: "2 × 4.5 m"; "" where nothing is known.
#[must_use]
pub(crate) fn cuts(build: &Build<'_>, electrical: &Electrical, circuit: &Circuit, units: System) -> String {
    let own = build.conductors_of(circuit).filter_map(|c| Some((c, electrical.conductors.get(&c.id)?)));
    let said = grouped(own).into_iter().filter_map(|run| {
        let cut = cut(run.first())?;
        Some(format!("{} × {}", run.pieces(), cut.show(units)))
    });
    said.collect::<Vec<_>>().join(", ")
}
