//! Circuits, interrupting ratings and wire labels.

use crate::build::{Build, Circuit, Feeding};
use crate::compute::electrical::size::Criterion;
use crate::compute::formulas;
use crate::compute::ledger::{Figure, Formula};
use crate::compute::network::{CircuitFigures, evidence, read_protection};
use crate::compute::readings::CircuitTest;
use crate::documents::Context;
use crate::documents::shared::conductors::{Run, landing, runs};
use crate::documents::shared::{self, Reader, Told, by_panel, device_place, figure_anchor};
use crate::kinds::Network;
use crate::tables::iec60364::Method;
use serde::Serialize;
use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};

/// Circuits that leave one panel or busbar.
#[derive(Clone, Debug, Serialize)]
pub struct Group {
    /// The panel or busbar and its place, "" for all the rest.
    pub from: String,
    /// Its circuits.
    pub rows: Vec<ScheduleRow>,
}

/// A circuit.
#[derive(Clone, Debug, Serialize)]
pub struct ScheduleRow {
    /// Way.
    pub way: String,
    /// Wire label.
    pub label: String,
    /// Start.
    pub from: String,
    /// End.
    pub to: String,
    /// Load current.
    pub load: String,
    /// Design current.
    pub design: Cell,
    /// Protection.
    pub protection: Cell,
    /// Conductor.
    pub conductor: Cell,
    /// One-way length.
    pub run: String,
    /// Voltage drop.
    pub drop: Cell,
    /// What governed the conductor.
    pub governed: &'static str,
}

/// A value, and the figure on the calculation sheet that it is.
#[derive(Clone, Debug, Serialize)]
pub struct Cell {
    /// As printed.
    pub value: String,
    /// Anchor on the calculation sheet, "" where the value is no figure.
    pub figure: String,
}

/// A device against the fault current where it sits.
#[derive(Clone, Debug, Serialize)]
pub struct InterruptingRow {
    /// Label of the circuit.
    pub label: String,
    /// Device.
    pub device: String,
    /// Where it sits.
    pub place: String,
    /// Prospective fault current.
    pub fault: Cell,
    /// What the device is credited with.
    pub interrupting: String,
    /// Where that is read.
    pub source: String,
    /// Whether the device can break it.
    pub verdict: Cow<'static, str>,
}

/// What the conductors of a circuit must measure.
#[derive(Clone, Debug, Serialize)]
pub struct AcceptanceRow {
    /// Label of the circuit.
    pub label: String,
    /// One conductor at 20 °C, end to end.
    pub conductor: Cell,
    /// The most it may read; "" where its drop is measured.
    pub conductor_most: String,
    /// Current at which the drops stand.
    pub amps: String,
    /// Drop over one conductor, "" where its resistance is measured.
    pub drop: Cell,
    /// The most it may be.
    pub drop_most: String,
    /// How far the load lies below its source, "" where it is not tested live.
    pub below: Cell,
    /// The most it may be.
    pub below_most: String,
}

/// What drives a short.
#[derive(Clone, Debug, Serialize)]
pub struct BankRow {
    /// The bank.
    pub name: String,
    /// Its fault current.
    pub fault: Cell,
    /// What is usual for such a bank.
    pub usual: String,
    /// Between which figures that of a real one lies.
    pub range: String,
    /// Where it is read.
    pub source: String,
}

/// Labels of conductors side by side.
#[derive(Clone, Debug, Serialize)]
pub struct LabelRow {
    /// Label: the circuit, or the conductor of none.
    pub label: String,
    /// The conductors: "supply +, return −".
    pub conductors: String,
    /// Start, with the way.
    pub from: String,
    /// End.
    pub to: String,
    /// Conductor.
    pub conductor: String,
    /// Colours.
    pub colours: String,
    /// How many labels: one at each end of each cable.
    pub count: usize,
}

/// Figures by id, for the anchors and verdicts.
type Known<'c> = BTreeMap<&'c str, &'c Figure>;

fn known<'c>(context: &'c Context<'_>) -> Known<'c> {
    context.ledger.figures().map(|f| (f.id.as_str(), f)).collect()
}

fn cell(known: &Known<'_>, circuit: &Circuit, formula: &Formula, value: String) -> Cell {
    let id = format!("{}.{}", circuit.id, formula.id);
    let figure = if known.contains_key(id.as_str()) && !value.is_empty() { figure_anchor(&id) } else { String::new() };
    Cell { value, figure }
}

/// Whether the spec says of which family the protection of a circuit is; on the AC side the rules do.
fn tells_family(build: &Build<'_>, circuit: &Circuit) -> bool {
    let own = circuit.given_protection.as_deref().and_then(read_protection).is_some_and(|(_, family)| family.is_some());
    let ends = [&circuit.from, &circuit.to].into_iter().filter_map(|id| build.parts.get(id));
    own || circuit.network == Network::Ac || ends.into_iter().any(|part| part.roles.family().given)
}

fn row(context: &Context<'_>, known: &Known<'_>, circuit: &Circuit, figures: &CircuitFigures) -> ScheduleRow {
    let build = context.build;
    let system = build.prints();
    // What was there before is told with how it is known.
    let sized = |field: &str, value: String| shared::with_known(value, build.known(circuit, field));
    let owner = build.parts.get(&circuit.owner);
    let told = |field: &str, value: String| {
        shared::with_known(value, owner.and_then(|part| part.known(&circuit.end.field(field))))
    };
    let own = figures.device.is_own();
    let protection = shared::protection(build, &figures.device);
    let protection = match build.known(circuit, "protection").filter(|_| own) {
        // A rating that was read does not say of which family the fuse is.
        Some(known @ ("read" | "measured")) if !tells_family(build, circuit) => {
            shared::with_known(protection, Some(&format!("{known}, family assumed")))
        }
        known => shared::with_known(protection, known),
    };
    let conductor = sized("conductor", laid(figures));
    ScheduleRow {
        way: shared::way(circuit),
        label: circuit.id.clone(),
        from: build.name(&circuit.from).to_owned(),
        to: build.name(&circuit.to).to_owned(),
        load: figures.demand.load.show(system),
        design: cell(known, circuit, &formulas::electrical::DESIGN_CURRENT, figures.design.show(system)),
        protection: cell(known, circuit, &formulas::electrical::PROTECTION, protection),
        conductor: cell(known, circuit, &formulas::electrical::AMPACITY, conductor),
        run: told("run", shared::run(build, circuit)),
        drop: cell(known, circuit, &formulas::electrical::VOLTAGE_DROP, shared::drop_percent(figures)),
        governed: figures.conductor().map_or("", |s| governed(s.governed_by)),
    }
}

/// The conductor, and the method of installation that its ampacity was read for: "2.5 mm², B2".
fn laid(figures: &CircuitFigures) -> String {
    let method = figures.conductor().and_then(|s| s.ampacity.as_ref()?.method);
    let method = method.map_or_else(String::new, |m| format!(", {m}"));
    format!("{}{method}", shared::conductor(figures))
}

/// The methods of installation of the circuits that this job wires, each in words: "B2 a cable in conduit or a cavity; …".
pub(super) fn methods(context: &Context<'_>) -> String {
    let methods = shared::wired(context).filter_map(|(_, f)| f.conductor()?.ampacity.as_ref()?.method);
    let methods: BTreeSet<Method> = methods.collect();
    methods.into_iter().map(|m| format!("{m} {}", m.words())).collect::<Vec<_>>().join("; ")
}

/// What governed a conductor, in a word or two.
#[must_use]
pub(crate) const fn governed(criterion: Criterion) -> &'static str {
    match criterion {
        Criterion::Ampacity => "ampacity",
        Criterion::Protection => "protection",
        Criterion::VoltageDrop => "voltage drop",
        Criterion::Mechanical => "strength",
        Criterion::Ring => "ring",
        Criterion::Given => "given",
        Criterion::Positive => "as the positive",
    }
}

/// Whether a circuit feeds others, or comes from a charger or a source: the main path and the feeders.
fn is_feeder(context: &Context<'_>, circuit: &Circuit) -> bool {
    matches!(circuit.feeding, Feeding::Output | Feeding::Return)
        || circuit.network == Network::Pv
        || shared::passes_current(context.build, &circuit.to)
        || !shared::passes_current(context.build, &circuit.from)
}

pub(super) fn feeders(context: &Context<'_>) -> Vec<ScheduleRow> {
    let known = known(context);
    let feeders = shared::wired(context).filter(|(c, _)| c.network != Network::Ac && is_feeder(context, c));
    feeders.map(|(c, f)| row(context, &known, c, f)).collect()
}

pub(super) fn finals(context: &Context<'_>) -> Vec<Group> {
    groups(context, |c| c.network != Network::Ac && !is_feeder(context, c))
}

pub(super) fn ac(context: &Context<'_>) -> Vec<Group> {
    groups(context, |c| c.network == Network::Ac)
}

fn groups(context: &Context<'_>, wanted: impl Fn(&Circuit) -> bool) -> Vec<Group> {
    let known = known(context);
    let group = |(from, circuits): (Option<&str>, Vec<(&Circuit, &CircuitFigures)>)| Group {
        from: from.map_or_else(String::new, |f| shared::name_and_place(context.build, f, Reader::Binder)),
        rows: circuits.into_iter().filter(|(c, _)| wanted(c)).map(|(c, f)| row(context, &known, c, f)).collect(),
    };
    by_panel(context).into_iter().map(group).filter(|g| !g.rows.is_empty()).collect()
}

pub(super) fn interrupting(context: &Context<'_>) -> Vec<InterruptingRow> {
    let system = context.build.prints();
    let known = known(context);
    let mut rows = Vec::new();
    for (circuit, figures) in shared::wired(context) {
        let id = format!("{}.{}", circuit.id, formulas::electrical::FAULT.id);
        let Some((fault, figure)) = figures.fault.zip(known.get(id.as_str())) else { continue };
        rows.push(InterruptingRow {
            label: circuit.id.clone(),
            device: figures.device.show(),
            place: device_place(context, circuit, &figures.device, Told::Name(Reader::Binder)).unwrap_or_default(),
            fault: cell(&known, circuit, &formulas::electrical::FAULT, fault.current.show(system)),
            interrupting: figures.device.breaks.credited().map_or_else(|| "none known".to_owned(), |i| i.show(system)),
            source: source(context, circuit, figures),
            verdict: shared::fault_verdict(context, figure),
        });
    }
    rows
}

pub(super) fn acceptance(context: &Context<'_>) -> Vec<AcceptanceRow> {
    let build = context.build;
    let system = build.prints();
    let known = known(context);
    let row = |test: &CircuitTest| {
        let circuit = build.circuits.get(&test.circuit)?;
        test.good?;
        let by_drop = test.by_drop();
        let limits = |test: &CircuitTest, field: &str, on: bool| {
            if on { test.limit(build, field) } else { (String::new(), String::new()) }
        };
        let (conductor, conductor_most) = test.limit(build, "continuity");
        let (drop, drop_most) = limits(test, "drop", by_drop);
        let (below, below_most) = limits(test, "below", test.has("below"));
        Some(AcceptanceRow {
            label: test.circuit.clone(),
            conductor: cell(&known, circuit, &formulas::electrical::CONTINUITY, conductor),
            conductor_most: if by_drop { String::new() } else { conductor_most },
            amps: if by_drop || !below.is_empty() { test.amps.show(system) } else { String::new() },
            drop: cell(&known, circuit, &formulas::electrical::CONDUCTOR_DROP, drop),
            drop_most,
            below: cell(&known, circuit, &formulas::electrical::BELOW_SOURCE, below),
            below_most,
        })
    };
    context.readings.circuits.iter().filter_map(row).collect()
}

/// Where it is read what a device breaks: the data sheet of the spec, else the rule of its family.
fn source(context: &Context<'_>, circuit: &Circuit, figures: &CircuitFigures) -> String {
    let breaks = &figures.device.breaks;
    let found = evidence(context.build, circuit, &figures.device);
    match found.as_ref().and_then(|e| e.source().map(|source| (e, source))).filter(|_| breaks.given.is_some()) {
        Some((evidence, source)) => {
            let with = evidence.pair().filter(|_| breaks.pair);
            let with = with.map_or_else(String::new, |w| format!(", with {}", context.build.name(w)));
            format!("{source}{with}")
        }
        None if breaks.given.is_some() => "no source named".to_owned(),
        None => {
            let family = figures.device.family_breaks();
            family.map_or_else(String::new, |b| b.source.id.to_owned())
        }
    }
}

/// The fault current of each bank, and where it is read.
pub(super) fn banks(context: &Context<'_>) -> Vec<BankRow> {
    let system = context.build.prints();
    let known = known(context);
    let rows = context.electrical.banks.iter().filter_map(|(id, bank)| {
        let figure = format!("{id}.{}", formulas::electrical::BANK_FAULT.id);
        let figure = known.get(figure.as_str())?;
        Some(BankRow {
            name: context.build.name(id).to_owned(),
            fault: Cell { value: bank.fault?.show(system), figure: figure_anchor(&figure.id) },
            range: bank.plausible_fault.map_or_else(String::new, |range| {
                let [low, high] = range.map(|amps| amps.show(system));
                format!("{low} to {high}")
            }),
            usual: bank.usual_fault.map_or_else(String::new, |u| u.show(system)),
            source: figure.inputs.last().map_or_else(String::new, |from| from.show(system)),
        })
    });
    rows.collect()
}

/// Labels of the conductors that this job pulls.
#[must_use]
pub(crate) fn labels(context: &Context<'_>) -> Vec<LabelRow> {
    let row = |run: &Run<'_>| {
        let conductor = run.first().0;
        LabelRow {
            label: run.label.to_owned(),
            conductors: run.conductors(),
            from: landing(context, &conductor.from, Told::Name(Reader::Binder)),
            to: landing(context, &conductor.to, Told::Name(Reader::Binder)),
            conductor: run.size(),
            colours: run.colours(context),
            count: run.pieces() * 2,
        }
    };
    runs(context).iter().map(row).collect()
}
