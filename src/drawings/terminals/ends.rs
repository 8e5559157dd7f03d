//! The ends of conductors at a part, each on its side of it and in the order of its posts.

use crate::build::{Build, Conductor, Landing, Part};
use crate::compute::network::post_words;
use crate::drawings::Context;
use crate::kinds::{Carries, PostSide, Role};
use crate::units::{Dimension, print};
use std::collections::BTreeMap;

/// One end of a conductor at a part.
#[derive(Clone, Debug)]
pub(super) struct Terminal {
    /// Post, as the part has it: "negative bar", "way 5".
    pub post: String,
    /// Wire label: the conductor, of several in one jacket the circuit.
    pub label: String,
    /// Which core of a jacket: "N"; "" of a conductor by itself.
    pub core: &'static str,
    /// Lug and torque.
    pub lug: String,
}

/// A row: what is on the left and on the right of it. A way that nothing is on has neither.
#[derive(Clone, Debug, Default)]
pub(super) struct Row {
    /// Way, or words for the row; "" where the posts say it.
    pub head: String,
    /// Device of the way.
    pub device: String,
    /// Toward the source.
    pub left: Vec<Terminal>,
    /// Toward the load.
    pub right: Vec<Terminal>,
}

/// An end at the part, with what decides where it is drawn.
struct End<'a> {
    conductor: &'a Conductor,
    own: &'a Landing,
    starts: bool,
    /// Its stud on a bar.
    stud: Option<usize>,
    terminal: Terminal,
}

/// The conductors of a build, as the plans ask for them.
pub(super) struct Wires<'a> {
    /// How many each cable has.
    cores: BTreeMap<&'a str, usize>,
    /// Those that end at a part, each with which of its ends that is, in their order.
    at: BTreeMap<&'a str, Vec<(&'a Conductor, usize)>>,
}

impl<'a> Wires<'a> {
    /// All there are.
    pub(super) fn of(build: &'a Build<'_>) -> Self {
        let mut wires = Self { cores: BTreeMap::new(), at: BTreeMap::new() };
        for conductor in build.wiring.conductors.values() {
            *wires.cores.entry(conductor.cable.as_str()).or_default() += 1;
            for (at, end) in conductor.ends().into_iter().enumerate() {
                wires.at.entry(end.part.as_str()).or_default().push((conductor, at));
            }
        }
        wires
    }
}

/// All ends at a part, in the order of the conductors.
fn ends<'a>(context: &'a Context<'_>, part: &str, wires: &Wires<'a>) -> Vec<End<'a>> {
    let end = |(conductor, at): &(&'a Conductor, usize)| {
        let own = conductor.ends()[*at];
        let stud = context.electrical.conductors.get(&conductor.id).and_then(|f| f.ends[*at].stud);
        End { conductor, own, starts: *at == 0, stud, terminal: terminal(context, conductor, (own, *at), wires) }
    };
    wires.at.get(part).into_iter().flatten().map(end).collect()
}

fn terminal(context: &Context<'_>, conductor: &Conductor, (own, at): (&Landing, usize), wires: &Wires<'_>) -> Terminal {
    let build = context.build;
    let known = context.electrical.conductors.get(&conductor.id).map(|f| &f.ends[at]);
    let post = post_words(build, own, known);
    let lug = match known {
        // What the vehicle brought along is on it already.
        None => "as built".to_owned(),
        Some(end) => {
            let torque = end.torque.map_or_else(String::new, |t| print(Dimension::Torque, t, build.prints()));
            let lug = if conductor.is_cut() { end.lug() } else { "maker’s lead".to_owned() };
            [lug, torque].into_iter().filter(|text| !text.is_empty()).collect::<Vec<_>>().join(" · ")
        }
    };
    let in_jacket = wires.cores.get(conductor.cable.as_str()).is_some_and(|cores| *cores > 1);
    let core = if in_jacket { conductor.carries.sign() } else { "" };
    // What was laid otherwise on site is marked until the spec says how.
    let mark = if build.site.has_conductor(conductor) { " Δ" } else { "" };
    Terminal { post, label: format!("{}{mark}", conductor.flag(in_jacket)), core, lug }
}

/// Whether an end is on the side of the source: by its post where that has a side, else by the way the current goes.
fn is_toward_source(part: &Part<'_>, end: &End<'_>) -> bool {
    let side = match &end.own.switch {
        Some(_) => Some(if end.own.post == "in" { PostSide::In } else { PostSide::Out }),
        None => part.post(end.own).and_then(|post| post.side),
    };
    let is_bar = part.roles.negative_bar.is_some();
    match side {
        // Of a bar, what comes from the loads is on the side of the loads.
        Some(side) if !is_bar => side == PostSide::In,
        _ if end.conductor.carries == Carries::Bond => false,
        _ if end.conductor.is_back() => end.starts,
        _ => !end.starts,
    }
}

/// The rows of a part.
pub(super) fn rows(context: &Context<'_>, part: &Part<'_>, wires: &Wires<'_>) -> Vec<Row> {
    let ends = ends(context, &part.id, wires);
    if part.role().is_some_and(Role::has_ways) {
        return by_way(context, part, ends);
    }
    if !part.switches().is_empty() {
        return by_switch(part, ends);
    }
    // A bank is the source itself: its positive posts on the left, battery by battery.
    let is_bank = part.role() == Some(Role::Bank);
    let is_left = |end: &End<'_>| {
        if is_bank {
            matches!(end.conductor.carries, Carries::Positive | Carries::Sense)
        } else {
            is_toward_source(part, end)
        }
    };
    let (mut left, mut right): (Vec<_>, Vec<_>) = ends.into_iter().partition(is_left);
    if is_bank {
        let order = |end: &End<'_>| (end.own.words.clone(), end.own.post.clone(), end.stud);
        left.sort_by_cached_key(order);
        right.sort_by_cached_key(order);
    }
    side_by_side(left.into_iter().map(|e| e.terminal), right.into_iter().map(|e| e.terminal))
}

/// The ends of both sides, one beside another.
fn side_by_side(left: impl Iterator<Item = Terminal>, right: impl Iterator<Item = Terminal>) -> Vec<Row> {
    let (left, right): (Vec<_>, Vec<_>) = (left.collect(), right.collect());
    let row = |at: usize| Row {
        left: left.get(at).cloned().into_iter().collect(),
        right: right.get(at).cloned().into_iter().collect(),
        ..Row::default()
    };
    (0..left.len().max(right.len())).map(row).collect()
}

/// Feed first, then way by way with what goes back from it, then the rest.
fn by_way(context: &Context<'_>, part: &Part<'_>, ends: Vec<End<'_>>) -> Vec<Row> {
    let build = context.build;
    let given = context.electrical.panels.get(&part.id).and_then(|panel| panel.ways);
    let way_of = |end: &End<'_>| {
        let circuit = end.conductor.circuit.as_ref().and_then(|id| build.circuits.get(id));
        end.own.way.or_else(|| circuit.filter(|c| c.from == part.id).and_then(|c| c.way))
    };
    let most = ends.iter().filter_map(way_of).chain(given).max().unwrap_or(0);
    let (of_ways, others): (Vec<_>, Vec<_>) = ends.into_iter().partition(|end| way_of(end).is_some());
    let is_live = |end: &End<'_>| !end.conductor.is_back() && end.conductor.carries != Carries::Bond;
    let (left, right): (Vec<_>, Vec<_>) = others.into_iter().partition(is_live);
    let mut rows = side_by_side(left.into_iter().map(|e| e.terminal), right.into_iter().map(|e| e.terminal));
    // A spec can give any number to a way.
    let used: Vec<u32> = of_ways.iter().filter_map(way_of).collect();
    for way in (1..=most.min(200)).chain(used.iter().copied().filter(|way| *way > 200)) {
        let mut row = Row { head: format!("way {way}"), ..Row::default() };
        for end in of_ways.iter().filter(|end| way_of(end) == Some(way)) {
            if is_live(end) {
                row.device = device(context, end);
                row.left.push(Terminal { post: String::new(), ..end.terminal.clone() });
            } else {
                row.right.push(end.terminal.clone());
            }
        }
        rows.push(row);
    }
    free_together(rows)
}

/// Ways that nothing is on, several in a row as one: "ways 17 to 20".
fn free_together(rows: Vec<Row>) -> Vec<Row> {
    let is_free = |row: &Row| row.left.is_empty() && row.right.is_empty();
    let mut out: Vec<Row> = Vec::new();
    for row in rows {
        match out.last_mut().filter(|last| is_free(last) && is_free(&row)) {
            Some(last) => {
                let first = last.head.trim_start_matches("ways ").trim_start_matches("way ");
                let first = first.split(' ').next().unwrap_or_default();
                last.head = format!("ways {first} to {}", row.head.trim_start_matches("way "));
            }
            None => out.push(row),
        }
    }
    out
}

/// The device of a way.
fn device(context: &Context<'_>, end: &End<'_>) -> String {
    let circuit = end.conductor.circuit.as_ref().and_then(|id| context.electrical.circuits.get(id));
    circuit.map_or_else(String::new, |figures| figures.device.show())
}

/// The panel's own supply first, then switch by switch.
fn by_switch(part: &Part<'_>, ends: Vec<End<'_>>) -> Vec<Row> {
    let (of_switches, others): (Vec<_>, Vec<_>) = ends.into_iter().partition(|end| end.own.switch.is_some());
    let (left, right): (Vec<_>, Vec<_>) = others.into_iter().partition(|end| is_toward_source(part, end));
    let mut rows = side_by_side(left.into_iter().map(|e| e.terminal), right.into_iter().map(|e| e.terminal));
    for (id, switch) in part.switches() {
        let mut row = Row { head: switch.label.text().unwrap_or(id).to_owned(), ..Row::default() };
        for end in of_switches.iter().filter(|end| end.own.switch.as_deref() == Some(id)) {
            let side = if is_toward_source(part, end) { &mut row.left } else { &mut row.right };
            side.push(Terminal { post: end.own.post.clone(), ..end.terminal.clone() });
        }
        if !(row.left.is_empty() && row.right.is_empty()) {
            rows.push(row);
        }
    }
    rows
}

/// Name of a part with its place.
pub(super) fn place(build: &Build<'_>, part: &Part<'_>) -> String {
    part.places.iter().map(|place| build.place_name(place)).collect::<Vec<_>>().join(", ")
}
