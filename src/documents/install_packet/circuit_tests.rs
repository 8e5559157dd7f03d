//! Tests of circuits: dead as soon as the cables are pulled, live and under load in commissioning.

use super::task::TaskView;
use crate::build::{Circuit, Feeding};
use crate::compute::electrical::acceptance;
use crate::compute::network::{CircuitFigures, LEAST_LOAD, load_behind};
use crate::compute::readings::{self, CircuitTest};
use crate::documents::Context;
use crate::documents::shared::conductors::{Run, runs};
use crate::kinds::{Network, Stage};
use crate::units::{Amps, Bound, ConductorSize, Dimension, Metres, Ohms, System, print_bound};
use serde::Serialize;
use std::collections::BTreeMap;

/// What is tested.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Tests {
    /// Every circuit, in the packet after which cables may be covered.
    pub dead: Vec<DeadRow>,
    /// There are AC circuits.
    pub mains: bool,
    /// One insulation test at a panel proves all that leaves it.
    pub by_panel: bool,
    /// Circuits with a load at the end, live.
    pub live: Vec<LiveRow>,
    /// Conductors whose resistance no meter at the van can tell, under load.
    pub heavy: Vec<HeavyRow>,
    /// AC circuits whose loop of line and earth is measured on shore power.
    pub loops: Vec<LoopRow>,
}

/// A loop of line and earth.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct LoopRow {
    /// Label.
    pub label: String,
    /// Load or outlet.
    pub to: String,
    /// What is to open.
    pub device: String,
    /// Line and earth of the van and its lead, "" where a length is not known.
    pub own: String,
    /// The most with the supply.
    pub most: String,
}

/// A circuit before it is energised.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct DeadRow {
    /// Label.
    pub label: String,
    /// Start.
    pub from: String,
    /// End.
    pub to: String,
    /// Conductors to prove: "supply +, return −".
    pub conductors: String,
    /// What is good.
    #[serde(flatten)]
    pub good: DeadTest,
}

/// What proves a conductor before it is energised.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct DeadTest {
    /// What one conductor measures; "" where the length is not known.
    pub expect: String,
    /// The most it may measure, "" where its drop under load is measured.
    pub most: String,
    /// Its drop under load is measured.
    pub by_drop: bool,
    /// What one of its size may measure by its length, where that is measured in the van.
    pub by_length: Option<ByLength>,
}

/// What a good conductor of a size measures by its length.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub(crate) struct ByLength {
    /// Its size.
    pub size: String,
    /// For each metre or foot.
    pub each: String,
    /// What both its ends may add.
    pub ends: String,
    /// Below this length its drop tells, as of any other.
    pub shorter: String,
}

/// A conductor to test by its drop.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct HeavyRow {
    /// Label.
    pub label: String,
    /// Start.
    pub from: String,
    /// End.
    pub to: String,
    /// Conductors to prove.
    pub conductors: String,
    /// The circuit whose load is switched on for it; "" where `with` tells what makes its current.
    pub load: String,
    /// What makes its current where that is no load of the van.
    pub with: &'static str,
    /// Its current in the figures.
    pub amps: String,
    /// The least current at which the drop says something.
    pub least: String,
    /// Drop at the current of the figures.
    pub expect: String,
    /// The most it may be.
    pub most: String,
}

/// A circuit with its load running.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct LiveRow {
    /// Number of the task of the packet that runs the load; "" where its panel's own is enough.
    pub task: String,
    /// Label.
    pub label: String,
    /// Load.
    pub to: String,
    /// Panel and way, or where it is fed from.
    pub fed: String,
    /// Voltage of the source in the figures.
    pub source: String,
    /// How far the load lies below it with this circuit alone running, "" where the length is not known.
    pub below: String,
    /// The most it may lie below.
    pub most: String,
    /// Current.
    pub amps: String,
}

/// Numbers of the tasks that run a part, by the part.
fn running<'t>(context: &'t Context<'_>, tasks: &'t [TaskView]) -> BTreeMap<&'t str, usize> {
    let mut numbers: BTreeMap<&str, (bool, usize)> = BTreeMap::new();
    let told = tasks.iter().enumerate().flat_map(|(at, view)| {
        let of_group = view.group.iter().flat_map(|g| g.rows.iter().map(|row| row.id.as_str()));
        let ids: Vec<&str> = if view.group.is_some() { of_group.collect() } else { vec![view.id.as_str()] };
        ids.into_iter().map(move |id| (at + 1, id))
    });
    for (number, id) in told {
        let Some(task) = context.build.tasks.get(id) else { continue };
        let Some((part, template)) = task.part.as_deref().zip(task.template) else { continue };
        // Where none says that it runs the part, the last does: those before it set it up.
        let (runs, known) = numbers.entry(part).or_default();
        if !*runs {
            (*runs, *known) = (template.brings("tried"), number);
        }
    }
    numbers.into_iter().map(|(part, (_, number))| (part, number)).collect()
}

/// Those that are taken in `stage`, whose tasks these are.
pub(super) fn tests(context: &Context<'_>, stage: Stage, tasks: &[TaskView]) -> Option<Tests> {
    let build = context.build;
    let is_dead = readings::DEAD_TESTS.iter().any(|test| readings::stage_of(build, test) == stage);
    let is_live = stage == Stage::Commissioning;
    if !is_dead && !is_live {
        return None;
    }
    let set = context.build.handover_set();
    let by_panel = context.readings.circuits.iter().any(|test| test.proved_with(set).is_some());
    let mut tests =
        Tests { dead: Vec::new(), mains: false, by_panel, live: Vec::new(), heavy: Vec::new(), loops: Vec::new() };
    let running = if is_live { running(context, tasks) } else { BTreeMap::new() };
    for test in &context.readings.circuits {
        let Some(circuit) = build.circuits.get(&test.circuit) else { continue };
        let Some(figures) = context.electrical.circuits.get(&test.circuit) else { continue };
        tests.mains |= circuit.network == Network::Ac;
        if is_live && test.live {
            tests.live.push(live(context, circuit, figures, test, running.get(circuit.to.as_str()).copied()));
        }
        if is_live && test.by_drop() {
            tests.heavy.push(heavy(context, circuit, test));
        }
        if let Some(found) = context.electrical.loops.get(&test.circuit).filter(|_| is_live) {
            let system = build.prints();
            tests.loops.push(LoopRow {
                label: circuit.id.clone(),
                to: build.name(&circuit.to).to_owned(),
                device: format!("{}, curve {}", found.rating.show(system), found.curve),
                own: found.own.map_or_else(String::new, |own| own.show(system)),
                most: test.expected(build, "loop", None).0,
            });
        }
    }
    if is_dead {
        tests.dead = runs(context).iter().filter(|run| run.first().0.is_cut()).map(|run| dead(context, run)).collect();
    }
    let any = !(tests.dead.is_empty() && tests.live.is_empty() && tests.heavy.is_empty() && tests.loops.is_empty());
    any.then_some(tests)
}

/// No cable of a van is longer. Common practice, no source.
const LONGEST: Metres = Metres(15.0);

/// What a good conductor whose length is measured in the van has for each metre or foot, and what both its ends may add.
struct Each {
    resistance: Ohms,
    unit: &'static str,
    ends: Ohms,
}

impl Each {
    /// From which length on a meter at the van tells a good one from a bad one.
    fn tellable(&self) -> Metres {
        let unit = if self.unit == "m" { 1.0 } else { 0.3048 };
        Metres(acceptance::TELLABLE.0 / self.resistance.0 * unit)
    }

    fn of(size: ConductorSize, prints: System) -> Self {
        let (length, unit) = match prints {
            System::Metric => (Metres(1.0), "m"),
            System::Us => (Metres(0.3048), "ft"),
        };
        Self { resistance: acceptance::conductor(size, length), unit, ends: acceptance::end(size) * 2.0 }
    }
}

/// What the conductors of some tests may measure by their length, size by size.
pub(super) fn by_length<'t>(tests: impl Iterator<Item = &'t DeadTest>) -> Vec<ByLength> {
    let mut sizes: Vec<ByLength> = Vec::new();
    for size in tests.filter(|test| !test.by_drop).filter_map(|test| test.by_length.as_ref()) {
        if !sizes.contains(size) {
            sizes.push(size.clone());
        }
    }
    sizes
}

fn dead(context: &Context<'_>, run: &Run<'_>) -> DeadRow {
    let [from, to] = run.ends(context.build);
    let (label, conductors) = (run.label.to_owned(), run.conductors());
    DeadRow { label, from, to, conductors, good: dead_test(context, run) }
}

/// How the conductors of a run are proved dead.
pub(super) fn dead_test(context: &Context<'_>, run: &Run<'_>) -> DeadTest {
    let system = context.build.prints();
    let (_, figures) = run.first();
    let measured = figures.size.filter(|_| figures.good.is_none());
    let each = measured.map(|size| Each::of(size, system));
    // One that no way in the van makes long enough for a meter.
    let never = each.as_ref().is_some_and(|each| each.tellable().0 > LONGEST.0);
    let by_drop = never || figures.good.is_some_and(|good| !good.is_tellable());
    let most = figures.good.filter(|_| !by_drop);
    // Of a piece that is measured in the van what each length of it adds, and what both its ends may.
    let by_length = measured.zip(each.as_ref()).map(|(size, each)| ByLength {
        size: size.to_string(),
        each: format!("{}/{}", each.resistance.show(system), each.unit),
        ends: print_bound(Dimension::Resistance, each.ends.0, system, Bound::Most),
        shorter: print_bound(Dimension::Length, each.tellable().0, system, Bound::Most),
    });
    DeadTest {
        expect: match (figures.good, &by_length) {
            (Some(good), _) => good.conductor.show(system),
            (None, Some(by)) => by.each.clone(),
            (None, None) => String::new(),
        },
        most: match (most, &by_length) {
            (Some(good), _) => {
                format!("≤ {}", print_bound(Dimension::Resistance, good.conductor_most.0, system, Bound::Most))
            }
            (None, Some(by)) => format!("a tenth more, and {}; by drop where shorter than {}", by.ends, by.shorter),
            (None, None) => String::new(),
        },
        by_drop,
        by_length,
    }
}

fn heavy(context: &Context<'_>, circuit: &Circuit, test: &CircuitTest) -> HeavyRow {
    let build = context.build;
    let system = build.prints();
    let (expect, most) = test.limit(build, "drop");
    let (load, with) = loaded_with(context, circuit, test.amps * LEAST_LOAD);
    HeavyRow {
        label: circuit.id.clone(),
        from: build.name(&circuit.from).to_owned(),
        to: build.name(&circuit.to).to_owned(),
        // No current flows in a protective earth: it is proved dead.
        conductors: cores(context, circuit),
        load: load.to_owned(),
        with,
        amps: test.amps.show(system),
        least: (test.amps * LEAST_LOAD).show(system),
        expect,
        most,
    }
}

/// What is brought along where nothing aboard draws enough.
pub(super) const TEST_LOAD: &str = "test load";

/// What makes at least that current flow in a circuit: the label of a load behind it, or what charges through it, several
/// loads, or one that is brought along.
fn loaded_with<'c>(context: &'c Context<'_>, circuit: &'c Circuit, least: Amps) -> (&'c str, &'static str) {
    match (circuit.network, circuit.feeding) {
        (Network::Pv, _) => return ("", "full sun"),
        (network, Feeding::Output) if network != Network::Ac => return ("", "charging"),
        _ => {}
    }
    let behind = load_behind(context.build, &context.electrical, circuit, least);
    let together = || context.electrical.together.get(&circuit.to).is_some_and(|t| t.running >= least);
    match behind.filter(|(_, amps)| *amps >= least) {
        Some((load, _)) => (&load.id, ""),
        None if together() => ("", "load test"),
        None => ("", TEST_LOAD),
    }
}

fn live(
    context: &Context<'_>,
    circuit: &Circuit,
    figures: &CircuitFigures,
    test: &CircuitTest,
    task: Option<usize>,
) -> LiveRow {
    let build = context.build;
    let (below, most) = if test.has("below") { test.limit(build, "below") } else { Default::default() };
    let (amps, tolerance) = test.expected(build, "amps", None);
    LiveRow {
        task: task.map_or_else(String::new, |number| number.to_string()),
        label: circuit.id.clone(),
        to: build.name(&circuit.to).to_owned(),
        fed: circuit.way.map_or_else(
            || build.name(&circuit.from).to_owned(),
            |w| format!("{}, way {w}", build.name(&circuit.from)),
        ),
        source: figures.nominal.show(build.prints()),
        below,
        most,
        amps: readings::joined(&amps, &tolerance),
    }
}

/// Conductors of a circuit that carry its current.
fn cores(context: &Context<'_>, circuit: &Circuit) -> String {
    let all = context
        .build
        .conductors_of(circuit)
        .filter(|c| c.is_loaded())
        .map(|c| format!("{} {}", c.local, c.carries.sign()));
    all.collect::<Vec<_>>().join(", ")
}
