//! Wires to pull.

use super::channels::letters;
use super::circuit_tests::{DeadTest, dead_test};
use crate::build::{Landing, RouteBy};
use crate::compute::links::Links;
use crate::documents::Context;
use crate::documents::shared::conductors::{Run, cut, runs};
use crate::documents::shared::{self, CONFIDENTIAL, Told, by_panel};
use crate::kinds::{Network, Stage};
use crate::units::Metres;
use serde::Serialize;

/// From this length up somebody says in which channel a cable lies, or is told that nobody did. Common practice, no source.
pub(super) const LONG: Metres = Metres(2.0);

/// Wires that start at one panel or busbar.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct PullGroup {
    /// Where they start, "" for all the rest.
    pub from: String,
    /// The wires.
    pub rows: Vec<PullRow>,
}

/// A run to pull: conductors side by side.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct PullRow {
    /// Label: the circuit, or the conductor of none.
    pub label: String,
    /// Its conductors: "supply +, return −".
    pub conductors: String,
    /// Where it starts.
    pub from: String,
    /// Where it ends.
    pub to: String,
    /// Conductor size.
    pub conductor: String,
    /// Colours by the rules in force.
    pub colours: String,
    /// One-way length of the route.
    pub run: String,
    /// Pieces of cable.
    pub pieces: usize,
    /// Length of each piece.
    pub each: String,
    /// Where it lies, and its sheath.
    pub route: String,
    /// Its conductors, one by one: each is tested by itself.
    pub local: Vec<String>,
    /// What its insulation is measured between, a blank each; "" of one against all others and the body.
    pub insulated: Vec<String>,
    /// What proves it before anything covers it; `None` for a maker's lead.
    pub test: Option<DeadTest>,
}

/// What a stage pulls, or cuts where it stays: by the panel or busbar that feeds it, then the rest, then what belongs to no
/// circuit.
pub(super) fn pulls(context: &Context<'_>, stage: Stage) -> Vec<PullGroup> {
    let (links, cuts) = (Links::of(context.build), stage == Stage::ElectricalFitOff);
    if !cuts && stage != Stage::ElectricalRoughIn {
        return Vec::new();
    }
    let mut runs = runs(context);
    runs.retain(|run| links.has(run.first().0) == cuts);
    if cuts {
        // All at one place, which the heading of the section tells.
        let rows: Vec<PullRow> = runs
            .iter()
            .map(|run| PullRow { to: run.ends(context.build)[1].clone(), ..pull(context, run, stage, false) })
            .collect();
        return if rows.is_empty() { Vec::new() } else { vec![PullGroup { from: String::new(), rows }] };
    }
    let group = |from: Option<&str>, rows: Vec<PullRow>| PullGroup {
        from: from.map_or_else(String::new, |f| shared::part_and_place(context, f, Told::Number(stage))),
        rows,
    };
    let of = |circuit: &str, run: &&Run<'_>| run.first().0.circuit.as_deref() == Some(circuit);
    let circuits = by_panel(context).into_iter().map(|(from, circuits)| {
        let own = circuits.iter().flat_map(|(c, _)| runs.iter().filter(|run| of(&c.id, run)));
        group(from, own.map(|run| pull(context, run, stage, from.is_none())).collect())
    });
    let mut groups: Vec<PullGroup> = circuits.filter(|g| !g.rows.is_empty()).collect();
    let apart: Vec<PullRow> =
        runs.iter().filter(|r| r.first().0.circuit.is_none()).map(|r| pull(context, r, stage, true)).collect();
    match groups.last_mut().filter(|g| g.from.is_empty()) {
        Some(rest) => rest.rows.extend(apart),
        None if apart.is_empty() => {}
        None => groups.push(group(None, apart)),
    }
    groups
}

/// Whether nobody says where a cable lies that is long, or that leads from one place to another by a way to be measured.
fn is_unled(context: &Context<'_>, run: &Run<'_>) -> bool {
    let (conductor, figures) = run.first();
    let at = |end: &Landing| end.place.clone().or_else(|| context.build.parts.get(&end.part)?.places.first().cloned());
    let [from, to] = conductor.ends().map(at);
    let length = figures.cut.or(conductor.route.length).or(conductor.makers);
    conductor.route.channels.is_empty()
        && !conductor.confidential
        && from != to
        && length.is_none_or(|length| length.0 > LONG.0)
}

/// What the insulation of the conductors of a run is measured between: of AC each pair, of the rest each against all.
fn insulated(context: &Context<'_>, run: &Run<'_>) -> Vec<String> {
    let circuit = run.first().0.circuit.as_ref().and_then(|id| context.build.circuits.get(id));
    let signs: Vec<&str> = run.wires.iter().map(|(c, _)| c.carries.sign()).collect();
    if circuit.is_none_or(|c| c.network != Network::Ac) || signs.len() < 2 {
        return vec![String::new(); signs.len()];
    }
    let pairs = signs.iter().enumerate().flat_map(|(n, a)| signs[n + 1..].iter().map(move |b| format!("{a}–{b}")));
    pairs.collect()
}

fn pull(context: &Context<'_>, run: &Run<'_>, stage: Stage, placed: bool) -> PullRow {
    let build = context.build;
    let system = build.prints();
    let (conductor, figures) = run.first();
    let measure = || if conductor.confidential { CONFIDENTIAL } else { "measure: ______" }.to_owned();
    let passes = run.passes(context);
    let unled = is_unled(context, run);
    let passes = match conductor.route.by {
        RouteBy::Channels => format!("through {}", letters(context, &conductor.route.channels)),
        RouteBy::Straight if passes.is_empty() => {
            format!("straight across{}", if unled { "; no channel told" } else { "" })
        }
        _ if passes.is_empty() && unled => "no channel told".to_owned(),
        _ if passes.is_empty() => passes,
        _ => format!("through {passes}"),
    };
    let circuit = conductor.circuit.as_ref().and_then(|id| build.circuits.get(id));
    let sheath = match circuit.filter(|_| conductor.purpose == crate::build::Purpose::Circuit) {
        _ if conductor.shielded => "shielded",
        _ if run.pieces() < run.wires.len() => "sheathed",
        Some(circuit) if circuit.sheathed => "in a sheath all the way",
        _ => "",
    };
    let route = [passes.as_str(), sheath].into_iter().filter(|t| !t.is_empty()).collect::<Vec<_>>().join("; ");
    let each = match (conductor.makers, cut((conductor, figures))) {
        (Some(length), _) if !conductor.is_cut() => format!("{}, not cut", length.show(system)),
        (_, Some(cut)) => cut.show(system),
        _ => measure(),
    };
    // Under the name of a panel its place need not be told again.
    let from = if placed { run.start(context, Told::Number(stage)) } else { run.ends(build)[0].clone() };
    PullRow {
        label: run.label.to_owned(),
        conductors: run.conductors(),
        from,
        to: run.end(context, Told::Number(stage)),
        conductor: run.size(),
        colours: run.colours(context),
        run: run.route(context, "not given"),
        pieces: run.pieces(),
        each,
        route,
        local: run.wires.iter().map(|(c, _)| c.local.clone()).collect(),
        insulated: insulated(context, run),
        test: conductor.is_cut().then(|| dead_test(context, run)),
    }
}
