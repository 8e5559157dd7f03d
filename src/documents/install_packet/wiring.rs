//! Wires to pull.

use super::channels::letters;
use super::circuit_tests::{DeadTest, dead_test};
use crate::build::RouteBy;
use crate::documents::Context;
use crate::documents::shared::conductors::{Run, cut, runs};
use crate::documents::shared::{self, CONFIDENTIAL, Reader, by_panel};
use serde::Serialize;

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
    /// What proves it before anything covers it; `None` for a maker's lead.
    pub test: Option<DeadTest>,
}

/// What is pulled: by the panel or busbar that feeds it, then the rest, then what belongs to no circuit.
pub(super) fn pulls(context: &Context<'_>) -> Vec<PullGroup> {
    let runs = runs(context);
    let group = |from: Option<&str>, rows: Vec<PullRow>| PullGroup {
        from: from.map_or_else(String::new, |f| shared::name_and_place(context.build, f, Reader::Shop)),
        rows,
    };
    let of = |circuit: &str, run: &&Run<'_>| run.first().0.circuit.as_deref() == Some(circuit);
    let circuits = by_panel(context).into_iter().map(|(from, circuits)| {
        let own = circuits.iter().flat_map(|(c, _)| runs.iter().filter(|run| of(&c.id, run)));
        group(from, own.map(|run| pull(context, run, from.is_none())).collect())
    });
    let mut groups: Vec<PullGroup> = circuits.filter(|g| !g.rows.is_empty()).collect();
    let apart: Vec<PullRow> =
        runs.iter().filter(|r| r.first().0.circuit.is_none()).map(|r| pull(context, r, true)).collect();
    match groups.last_mut().filter(|g| g.from.is_empty()) {
        Some(rest) => rest.rows.extend(apart),
        None if apart.is_empty() => {}
        None => groups.push(group(None, apart)),
    }
    groups
}

fn pull(context: &Context<'_>, run: &Run<'_>, placed: bool) -> PullRow {
    let build = context.build;
    let system = build.prints();
    let (conductor, figures) = run.first();
    let measure = || if conductor.confidential { CONFIDENTIAL } else { "measure: ______" }.to_owned();
    let passes = run.passes(context);
    let passes = match conductor.route.by {
        RouteBy::Channels => format!("through {}", letters(context, &conductor.route.channels)),
        RouteBy::Straight if passes.is_empty() => "straight across".to_owned(),
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
    let from = if placed { run.start(context, Reader::Shop) } else { run.ends(build)[0].clone() };
    PullRow {
        label: run.label.to_owned(),
        conductors: run.conductors(),
        from,
        to: run.end(context, Reader::Shop),
        conductor: run.size(),
        colours: run.colours(context),
        run: run.route(context, "not given"),
        pieces: run.pieces(),
        each,
        route,
        local: run.wires.iter().map(|(c, _)| c.local.clone()).collect(),
        test: conductor.is_cut().then(|| dead_test(context, run)),
    }
}
