//! Wires to pull and conductors to terminate.

use crate::build::Circuit;
use crate::compute::directory::{Directory, directories};
use crate::compute::network::{self, CircuitEnd, CircuitFigures, Core, DeviceAt, Terminus};
use crate::documents::Context;
use crate::documents::shared::{self, CONFIDENTIAL, Reader, by_panel, cable, device_place, fuses};
use serde::Serialize;
use std::collections::BTreeSet;

/// Wires that start at one panel or busbar.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct PullGroup {
    /// Where they start, "" for all the rest.
    pub from: String,
    /// The wires.
    pub rows: Vec<PullRow>,
}

/// A circuit to pull.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct PullRow {
    /// Label for both ends.
    pub label: String,
    /// Where it starts.
    pub from: String,
    /// Where it ends.
    pub to: String,
    /// Way.
    pub way: String,
    /// Conductor size.
    pub conductor: String,
    /// Colours by the rules in force.
    pub colours: String,
    /// One-way length of the route.
    pub run: String,
    /// Pieces of cable.
    pub pieces: u32,
    /// Length of each piece.
    pub each: String,
    /// Length of all pieces.
    pub cut: String,
    /// Places it passes, and its sheath.
    pub route: String,
}

pub(super) fn pulls(context: &Context<'_>) -> Vec<PullGroup> {
    let group = |(from, circuits): (Option<&str>, Vec<(&Circuit, &CircuitFigures)>)| PullGroup {
        from: from.map_or_else(String::new, |f| shared::name_and_place(context.build, f, Reader::Shop)),
        rows: circuits
            .into_iter()
            .filter(|(c, _)| context.build.is_worked_on(c))
            .map(|(c, f)| pull(context, c, f))
            .collect(),
    };
    by_panel(context).into_iter().map(group).filter(|g| !g.rows.is_empty()).collect()
}

fn pull(context: &Context<'_>, circuit: &Circuit, figures: &CircuitFigures) -> PullRow {
    let build = context.build;
    let system = build.prints();
    let cut = cable::cut(build, circuit, figures);
    let measure = || if circuit.confidential { CONFIDENTIAL } else { "measure" }.to_owned();
    let cores = cable::conductors(build, circuit, figures).len();
    let passes = shared::passes(build, circuit);
    let passes = if passes.is_empty() { passes } else { format!("through {passes}") };
    let sheath = if circuit.sheathed { "sheathed" } else { "" };
    let route = [passes.as_str(), sheath].into_iter().filter(|t| !t.is_empty()).collect::<Vec<_>>().join("; ");
    PullRow {
        label: circuit.id.clone(),
        from: build.name(&circuit.from).to_owned(),
        to: shared::name_and_place(build, &circuit.to, Reader::Shop),
        way: shared::way(circuit),
        conductor: shared::conductor(figures),
        colours: signed_colours(context, circuit, figures),
        run: shared::run(build, circuit),
        pieces: cable::pieces(circuit, cores),
        each: cut.map_or_else(measure, |c| c.each.show(system)),
        cut: cut.map_or_else(measure, |c| c.total().show(system)),
        route,
    }
}

/// What is terminated.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Terminations {
    /// Panels way by way, without their free ways.
    pub panels: Vec<PanelView>,
    /// Devices outside the panels, and where each sits.
    pub in_line: Vec<InLineRow>,
    /// Circuits that leave no panel: main path, busbars, outputs of chargers, solar.
    pub others: Vec<OtherRow>,
}

/// A panel to terminate.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct PanelView {
    /// The panel and its used ways.
    pub panel: Directory,
    /// By row: lug and torque at the panel and at the far end, "" where that is the maker's alone.
    pub ends: Vec<[String; 2]>,
    /// A far end is known.
    pub far: bool,
    /// Its free ways: "7–10"; "" where none is free.
    pub free: String,
    /// Where the negatives of its ways end here: "House panel, negative bar"; "" for AC.
    pub negatives: String,
}

/// A device outside the panels.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct InLineRow {
    /// Label of the circuit.
    pub label: String,
    /// Device.
    pub device: String,
    /// Colour.
    pub colour: String,
    /// Where it sits.
    pub place: String,
}

/// A circuit that leaves no panel.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct OtherRow {
    /// Label.
    pub label: String,
    /// Start.
    pub from: String,
    /// End.
    pub to: String,
    /// Conductor.
    pub conductor: String,
    /// Lug and torque at start and end, "" where that is the maker's alone.
    pub ends: [String; 2],
    /// Colours.
    pub colours: String,
    /// What protects it.
    pub protection: String,
    /// Where its negative begins and ends, "" where it has none.
    pub negative: String,
}

/// Colours of a circuit's conductors with their polarity: "red +, yellow −".
fn signed_colours(context: &Context<'_>, circuit: &Circuit, figures: &CircuitFigures) -> String {
    let colours = &context.electrical.profile.colours;
    let cores = cable::conductors(context.build, circuit, figures);
    let said = cores.iter().map(|core| format!("{} {}", core.colour(colours), core.sign()));
    said.collect::<Vec<_>>().join(", ")
}

/// Where the negative of a circuit begins and ends: "Negative busbar → House panel, negative bar".
fn negative(context: &Context<'_>, circuit: &Circuit, figures: &CircuitFigures) -> String {
    let build = context.build;
    let ends = |ends: &[Terminus]| ends.iter().map(|t| t.show(build)).collect::<Vec<_>>().join(", ");
    let labels = network::wire_labels(build, circuit, figures);
    let negative = labels.iter().find(|l| l.polarity.split(", ").any(|sign| sign == Core::Negative.sign()));
    negative.map_or_else(String::new, |l| format!("{} → {}", ends(&l.from), ends(&l.to)))
}

/// The ways to terminate; the free ones in one line.
fn used(context: &Context<'_>, mut panel: Directory) -> PanelView {
    let (mut rows, free): (Vec<_>, Vec<_>) = panel.rows.into_iter().partition(|r| !r.label.is_empty());
    rows.retain(|r| context.build.circuits.get(&r.label).is_none_or(|c| context.build.is_worked_on(c)));
    panel.rows = rows;
    let ends = |label: &str| context.electrical.circuits.get(label).map_or_else(Default::default, |f| ends(context, f));
    let ends: Vec<[String; 2]> = panel.rows.iter().map(|r| ends(&r.label)).collect();
    let far = ends.iter().any(|[_, far]| !far.is_empty());
    let free = free.iter().filter_map(|r| usize::try_from(r.number?).ok()).collect();
    let (build, circuits) = (context.build, &context.electrical.circuits);
    let labels = panel
        .rows
        .iter()
        .filter_map(|r| Some(network::wire_labels(build, build.circuits.get(&r.label)?, circuits.get(&r.label)?)));
    let negatives = labels.flatten().filter(|l| l.polarity == Core::Negative.sign());
    let negatives: BTreeSet<String> = negatives.flat_map(|l| l.from).map(|t| t.show(build)).collect();
    let negatives = negatives.into_iter().collect::<Vec<_>>().join(", ");
    PanelView { panel, ends, far, free: shared::ranges(&free), negatives }
}

/// Lug and torque at both ends, "" where that is the maker's alone.
fn ends(context: &Context<'_>, figures: &CircuitFigures) -> [String; 2] {
    let say = |end: &CircuitEnd| match end.form {
        Some(_) => end.show(context.build.prints()),
        None => String::new(),
    };
    figures.ends.as_ref().map_or_else(Default::default, |ends| ends.each_ref().map(say))
}

pub(super) fn terminations(context: &Context<'_>) -> Option<Terminations> {
    let build = context.build;
    let mut in_line = Vec::new();
    let mut others = Vec::new();
    for (circuit, figures) in shared::worked(context) {
        if circuit.way.is_some() && matches!(figures.device.at, DeviceAt::Way) {
            continue;
        }
        if let Some(place) = device_place(context, circuit, &figures.device, Reader::Shop) {
            in_line.push(InLineRow {
                label: circuit.id.clone(),
                device: figures.device.show(),
                colour: fuses::colour(&figures.device),
                place,
            });
        }
        others.push(OtherRow {
            label: circuit.id.clone(),
            from: build.name(&circuit.from).to_owned(),
            to: build.name(&circuit.to).to_owned(),
            conductor: shared::conductor(figures),
            ends: ends(context, figures),
            colours: signed_colours(context, circuit, figures),
            protection: shared::protection(build, &figures.device),
            negative: negative(context, circuit, figures),
        });
    }
    let panels: Vec<_> = directories(context.build, &context.electrical, Reader::Shop)
        .into_iter()
        .map(|panel| used(context, panel))
        .filter(|p| !p.panel.rows.is_empty())
        .collect();
    let any = !(panels.is_empty() && others.is_empty());
    any.then_some(Terminations { panels, in_line, others })
}
