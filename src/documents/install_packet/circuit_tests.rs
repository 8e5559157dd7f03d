//! Tests of circuits: dead as soon as the cables are pulled, live and under load in commissioning.

use crate::build::Circuit;
use crate::compute::network::CircuitFigures;
use crate::compute::readings::{self, AMPS_BAND, CircuitTest};
use crate::documents::Context;
use crate::documents::shared::cable;
use crate::kinds::{Network, Stage};
use crate::units::Volts;
use serde::Serialize;

/// What is tested.
#[derive(Clone, Debug, Serialize)]
pub struct Tests {
    /// Every circuit, in the packet after which cables may be covered.
    pub dead: Vec<DeadRow>,
    /// There are AC circuits.
    pub mains: bool,
    /// Circuits with a load at the end, live.
    pub live: Vec<LiveRow>,
}

/// A circuit before it is energised.
#[derive(Clone, Debug, Serialize)]
pub struct DeadRow {
    /// Label.
    pub label: String,
    /// Start.
    pub from: String,
    /// End.
    pub to: String,
    /// Conductors to prove: "+, −" or "L, N, E".
    pub conductors: String,
}

/// A circuit with its load running.
#[derive(Clone, Debug, Serialize)]
pub struct LiveRow {
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

/// Those that are taken in `stage`.
pub(super) fn tests(context: &Context<'_>, stage: Stage) -> Option<Tests> {
    let build = context.build;
    let is_dead = readings::DEAD_TESTS.iter().any(|test| readings::stage_of(build, test) == stage);
    let is_live = stage == Stage::Commissioning;
    if !is_dead && !is_live {
        return None;
    }
    let mut tests = Tests { dead: Vec::new(), mains: false, live: Vec::new() };
    for test in &context.readings.circuits {
        let Some(circuit) = build.circuits.get(&test.circuit) else { continue };
        let Some(figures) = context.electrical.circuits.get(&test.circuit) else { continue };
        tests.mains |= circuit.network == Network::Ac;
        if is_dead {
            tests.dead.push(dead(context, circuit, figures));
        }
        if is_live && test.live {
            tests.live.push(live(context, circuit, figures, test));
        }
    }
    (!tests.dead.is_empty() || !tests.live.is_empty()).then_some(tests)
}

fn dead(context: &Context<'_>, circuit: &Circuit, figures: &CircuitFigures) -> DeadRow {
    let build = context.build;
    let cores = cable::conductors(build, circuit, figures);
    DeadRow {
        label: circuit.id.clone(),
        from: build.name(&circuit.from).to_owned(),
        to: build.name(&circuit.to).to_owned(),
        conductors: cores.iter().map(|c| short(&c.show())).collect::<Vec<_>>().join(", "),
    }
}

fn live(context: &Context<'_>, circuit: &Circuit, figures: &CircuitFigures, test: &CircuitTest) -> LiveRow {
    let build = context.build;
    let load = test.amps.show(build.prints());
    let volts = |v: Option<Volts>| v.map_or_else(String::new, readings::hundredths);
    LiveRow {
        label: circuit.id.clone(),
        to: build.name(&circuit.to).to_owned(),
        fed: circuit.way.map_or_else(
            || build.name(&circuit.from).to_owned(),
            |w| format!("{}, way {w}", build.name(&circuit.from)),
        ),
        source: figures.nominal.show(build.prints()),
        below: volts(test.below),
        most: volts(test.most),
        amps: if test.steady {
            format!("{load} ± {}", AMPS_BAND.show(build.prints()))
        } else {
            format!("up to {load}")
        },
    }
}

/// A conductor as a meter's leads name it.
fn short(core: &str) -> String {
    let known = [("positive", "+"), ("negative", "−"), ("line", "L"), ("neutral", "N"), ("earth", "E")];
    known.iter().find(|(word, _)| *word == core).map_or_else(|| core.to_owned(), |(_, sign)| (*sign).to_owned())
}
