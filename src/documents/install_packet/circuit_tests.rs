//! Tests of circuits in commissioning: dead first, then live and under load.

use crate::build::Circuit;
use crate::compute::network::CircuitFigures;
use crate::documents::Context;
use crate::documents::shared::{self, cable};
use crate::kinds::{Network, Role};
use crate::units::{Ratio, Volts};
use serde::Serialize;

/// How much more than expected a DC load may lie below its source, as a share of the nominal voltage: meters and
/// connections. Common practice, no source.
const DC_BAND: Ratio = Ratio(0.025);

/// The same for AC. Common practice, no source.
const AC_BAND: Ratio = Ratio(0.1);

/// What is tested.
#[derive(Clone, Debug, Serialize)]
pub struct Tests {
    /// Every circuit, before it is energised.
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

pub(super) fn tests(context: &Context<'_>) -> Option<Tests> {
    let build = context.build;
    let mut tests = Tests { dead: Vec::new(), mains: false, live: Vec::new() };
    for (circuit, figures) in shared::wired(context) {
        tests.mains |= circuit.network == Network::Ac;
        tests.dead.push(dead(context, circuit, figures));
        if circuit.network != Network::Pv && circuit.owner == circuit.to && !shared::passes_current(build, &circuit.to)
        {
            tests.live.push(live(context, circuit, figures));
        }
    }
    (!tests.dead.is_empty()).then_some(tests)
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

fn live(context: &Context<'_>, circuit: &Circuit, figures: &CircuitFigures) -> LiveRow {
    let build = context.build;
    let part = build.parts.get(&circuit.to);
    let band = if circuit.network == Network::Ac { AC_BAND } else { DC_BAND };
    let below = Some(figures.drop_alone).filter(|_| figures.run_known);
    let load = figures.demand.load.show(build.prints());
    // An outlet, charger or inverter takes what is asked of it, up to the figure; a load takes about its figure.
    let steady = matches!(part.and_then(crate::build::Part::role), Some(Role::Load | Role::Display));
    LiveRow {
        label: circuit.id.clone(),
        to: build.name(&circuit.to).to_owned(),
        fed: circuit.way.map_or_else(
            || build.name(&circuit.from).to_owned(),
            |w| format!("{}, way {w}", build.name(&circuit.from)),
        ),
        source: figures.nominal.show(build.prints()),
        below: below.map_or_else(String::new, volts),
        most: below.map_or_else(String::new, |b| volts(b + figures.nominal * band.0)),
        amps: if steady { format!("{load} ± 20 %") } else { format!("up to {load}") },
    }
}

/// To hundredths, as the meters of the trade show them.
fn volts(volts: Volts) -> String {
    format!("{:.2} V", volts.0)
}

/// A conductor as a meter's leads name it.
fn short(core: &str) -> String {
    let known = [("positive", "+"), ("negative", "−"), ("line", "L"), ("neutral", "N"), ("earth", "E")];
    known.iter().find(|(word, _)| *word == core).map_or_else(|| core.to_owned(), |(_, sign)| (*sign).to_owned())
}
