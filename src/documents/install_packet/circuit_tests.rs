//! Tests of circuits in commissioning: dead first, then live and under load.

use crate::build::Circuit;
use crate::compute::network::CircuitFigures;
use crate::documents::Context;
use crate::documents::facts::facts;
use crate::documents::shared::{self, Reader, cable};
use crate::kinds::{Network, Role};
use crate::units::{Ratio, Volts};
use serde::Serialize;

/// How far below the expected DC voltage a reading may lie, as a share of the nominal voltage: meter, connections, and
/// the state of the bank. Common practice, no source.
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
    /// Residual-current devices.
    pub trips: Vec<TripRow>,
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
    /// Conductors to prove.
    pub conductors: String,
    /// "DC" or "AC".
    pub network: &'static str,
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
    /// Lowest voltage at the load: with everything on its feeders running.
    pub volts: String,
    /// How far below it a reading may lie.
    pub volts_band: String,
    /// Current.
    pub amps: String,
    /// Drop of the circuit.
    pub drop: String,
}

/// A residual-current device.
#[derive(Clone, Debug, Serialize)]
pub struct TripRow {
    /// Name and place.
    pub device: String,
    /// Id.
    pub id: String,
    /// Residual current at which it must trip.
    pub current: String,
}

pub(super) fn tests(context: &Context<'_>) -> Option<Tests> {
    let build = context.build;
    let mut tests = Tests { dead: Vec::new(), mains: false, live: Vec::new(), trips: Vec::new() };
    for (circuit, figures) in shared::wired(context) {
        tests.mains |= circuit.network == Network::Ac;
        tests.dead.push(dead(context, circuit, figures));
        if circuit.network != Network::Pv && circuit.owner == circuit.to && !shared::passes_current(build, &circuit.to)
        {
            tests.live.push(live(context, circuit, figures));
        }
    }
    let rcds = build.parts.values().filter(|p| p.role() == Some(Role::Rcd));
    tests.trips = rcds
        .map(|p| TripRow {
            device: shared::name_and_place(build, &p.id, Reader::Shop),
            id: p.id.clone(),
            current: p
                .record
                .amps("trip_current")
                .unwrap_or(context.electrical.profile.ac.rcd_trip)
                .show(build.prints()),
        })
        .collect();
    (!tests.dead.is_empty()).then_some(tests)
}

fn dead(context: &Context<'_>, circuit: &Circuit, figures: &CircuitFigures) -> DeadRow {
    let build = context.build;
    let cores = cable::conductors(build, circuit, figures);
    DeadRow {
        label: circuit.id.clone(),
        from: build.name(&circuit.from).to_owned(),
        to: build.name(&circuit.to).to_owned(),
        conductors: cores.iter().map(|c| c.show()).collect::<Vec<_>>().join(", "),
        network: shared::network_name(circuit.network),
    }
}

fn live(context: &Context<'_>, circuit: &Circuit, figures: &CircuitFigures) -> LiveRow {
    let build = context.build;
    let system = build.prints();
    let part = build.parts.get(&circuit.to);
    // The facts of a part are those of its first supply.
    let facts = part.filter(|p| p.id == circuit.id).map(|p| facts(build, context.electrical, p));
    let volts = facts.and_then(|f| f.get("volts_at_load").cloned()).unwrap_or_default();
    let share = if circuit.network == Network::Ac { AC_BAND } else { DC_BAND };
    let band: Volts = figures.nominal * share.0;
    let load = figures.demand.load.show(system);
    // An outlet, charger or inverter takes what is asked of it, up to the figure; a load takes about its figure.
    let steady = matches!(part.and_then(crate::build::Part::role), Some(Role::Load | Role::Display));
    LiveRow {
        label: circuit.id.clone(),
        to: build.name(&circuit.to).to_owned(),
        fed: circuit.way.map_or_else(
            || build.name(&circuit.from).to_owned(),
            |w| format!("{}, way {w}", build.name(&circuit.from)),
        ),
        volts_band: if volts.is_empty() { String::new() } else { format!("(− {})", band.show(system)) },
        volts: if volts.is_empty() { volts } else { format!("≥ {volts}") },
        amps: if steady { format!("{load} ± 20 %") } else { format!("up to {load}") },
        drop: shared::drop_percent(figures),
    }
}
