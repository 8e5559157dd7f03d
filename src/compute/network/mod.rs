//! The electrical network: current in every circuit, what protects it, its conductor, drop and fault current.

mod acceptance;
mod assumed;
mod bank;
mod batteries;
mod budget;
mod bundles;
mod conductors;
mod converter;
mod converter_load;
mod demand;
mod device;
mod device_at;
mod earth;
mod en1648;
mod ends;
mod enter;
mod evidence;
mod fault;
mod fault_loop;
mod floor;
mod laid;
mod loading;
mod plugged_in;
mod rated;
mod reach;
mod returns;
mod sizing;
mod solar;
mod studs;
mod together;
mod totals;

pub use acceptance::{Acceptance, Good, LEAST_LOAD};
pub use bank::{Bank, Doubt};
pub(crate) use bank::{charge_harms_below, is_warmed};
pub use batteries::Batteries;
pub use conductors::{ConductorFigures, bond_size, colour, colours, is_worked_on, laid, slack};
pub use converter::rating as converter_rating;
pub use converter_load::ConverterLoad;
pub use demand::Demand;
pub use device::read_protection;
pub use device_at::{Device, DeviceAt, family_name};
pub use earth::earth_most;
pub use en1648::{SupplyDrop, supply_drop};
pub use ends::{ConductorEnd, Holder, MAKERS, is_told, post_words};
pub use evidence::{Evidence, evidence};
pub use fault::{Short, is_of_makers};
pub use fault_loop::FaultLoop;
pub use loading::{AcSource, Panel};
pub use plugged_in::plugged_in;
pub use rated::{Rated, rated};
pub use reach::{reach, reach_at, reach_of_tail};
pub use returns::bank_of;
pub use solar::Strings;
pub use studs::{Bar, bars, stud_of};
pub use together::{Together, load_behind, waits_for_its_test};

use crate::build::{Build, Circuit, Feeding, Lines};
use crate::compute::electrical::ampacity::{Installation, Surroundings};
use crate::compute::electrical::interrupting::Interrupting;
use crate::compute::electrical::size::{Criterion, NoSize, Sized};
use crate::compute::ledger::Ledger;
use crate::kinds::{Network, Role};
use crate::tables::profile::Profile;
use crate::units::{Amps, Celsius, Ohms, Ratio, Volts};
use indexmap::IndexMap;
use serde::Serialize;

/// Everything computed for one circuit.
#[derive(Clone, Debug, Serialize)]
pub struct CircuitFigures {
    /// Nominal voltage.
    pub nominal: Volts,
    /// Current the circuit carries.
    pub demand: Demand,
    /// 100 % of the short part and 125 % of the continuous part.
    pub design: Amps,
    /// What protects it.
    pub device: Device,
    /// Conductor, ampacity and drop; the reason where no standard size does it.
    pub sized: Result<Sized, NoSize>,
    /// Whether length and load are known, so that the drop means something.
    pub run_known: bool,
    /// Drop limit it is held to.
    pub drop_limit: Ratio,
    /// Where the conductor lies, for the ampacity.
    pub installation: Installation,
    /// Sum of the drops from the source to the end of this circuit.
    pub drop_from_source: Volts,
    /// Lost from the source to the end of this circuit and back, all that the current passes included.
    pub total: Volts,
    /// Resistance of all conductors from the source to the end of this circuit, warm.
    pub loops_from_source: Ohms,
    /// Sum of the drops from the source to its end when this circuit alone runs steadily.
    pub drop_alone: Volts,
    /// What its conductors measure when they are good; `None` where length or conductor is not known.
    pub acceptance: Option<Acceptance>,
    /// A dead short where its device sits.
    pub fault: Option<Short>,
    /// Whether its device is shown to break that current.
    pub breaking: Option<Interrupting>,
}

impl CircuitFigures {
    /// What is lost in all, as a share of the nominal voltage.
    #[must_use]
    pub fn total_share(&self) -> Option<Ratio> {
        crate::compute::electrical::positive(self.nominal.0).map(|nominal| Ratio(self.total.0 / nominal))
    }

    /// The sized conductor, if there is one.
    #[must_use]
    pub fn conductor(&self) -> Option<&Sized> {
        self.sized.as_ref().ok()
    }

    /// Whether its device lets through more than its conductor may carry: a van is handed over with that only where earlier
    /// work left it so.
    #[must_use]
    pub fn lets_too_much_through(&self) -> bool {
        self.conductor().is_some_and(|sized| sized.fails.contains(&Criterion::Protection))
    }
}

/// All electrical figures.
#[derive(Clone, Debug, Serialize)]
pub struct Electrical {
    /// Rules in force.
    #[serde(skip)]
    pub profile: Profile,
    /// By circuit id.
    pub circuits: IndexMap<String, CircuitFigures>,
    /// Of all conductors, by id, but for those of the vehicle.
    pub conductors: IndexMap<String, ConductorFigures>,
    /// By bank id.
    pub banks: IndexMap<String, Bank>,
    /// Panels, busbars and in-line devices, by part id.
    pub panels: IndexMap<String, Panel>,
    /// Inverters and inlets, by part id.
    pub ac_sources: IndexMap<String, AcSource>,
    /// Breakers that are parts, or in one: the main breaker of a consumer unit, a residual-current device with
    /// overcurrent protection; by part id.
    pub breakers: IndexMap<String, Device>,
    /// Loops of line and earth, by circuit id.
    pub loops: IndexMap<String, FaultLoop>,
    /// Loads on converters, by the part that several feed or by the one converter.
    pub converters: IndexMap<String, ConverterLoad>,
    /// Solar strings, by array id.
    pub strings: IndexMap<String, Strings>,
    /// What a test of a panel switches on together, by panel id.
    pub together: IndexMap<String, Together>,
    /// Circuit of the largest load that can be left on for a test.
    pub largest: Option<String>,
}

impl Electrical {
    /// Computes the network of `build` under `profile`; every figure is entered in `ledger`.
    #[must_use]
    pub fn compute(build: &Build<'_>, profile: Profile, ledger: &mut Ledger) -> Self {
        let mut all = Self {
            profile,
            circuits: IndexMap::new(),
            conductors: IndexMap::new(),
            banks: IndexMap::new(),
            panels: IndexMap::new(),
            ac_sources: IndexMap::new(),
            breakers: IndexMap::new(),
            loops: IndexMap::new(),
            converters: IndexMap::new(),
            strings: IndexMap::new(),
            together: IndexMap::new(),
            largest: None,
        };
        all.breakers = device::breakers(build, &all);
        let demands = demand::demands(build, &all.profile);
        if build.channels.is_empty() {
            all.size(build, &demands, &|c| c.bundle);
        } else {
            // First each by itself: what it may carry there tells which of those side by side warm the others.
            all.size(build, &demands, &|c| if c.bundle_given { c.bundle } else { 1 });
            let counted = bundles::counted(build, &all);
            all.circuits.clear();
            all.size(build, &demands, &|c| counted.get(&c.id).copied().unwrap_or(c.bundle));
        }
        all.circuits.sort_by_cached_key(|id, _| build.circuits.get_index_of(id));
        all.total(build);
        all.banks = bank::banks(build, &all);
        all.conductors = conductors::conductors(build, &all);
        all.loops = fault_loop::loops(build, &all);
        all.panels = loading::panels(build, &all);
        all.ac_sources = loading::ac_sources(build, &all);
        all.converters = converter_load::loads(build, &all);
        all.strings = solar::strings(build);
        all.together = together::of_panels(build, &all);
        all.largest = together::largest(build, &all);
        enter::enter(build, &all, ledger);
        all
    }

    /// Sizes every circuit, with so many loaded conductors side by side.
    fn size(&mut self, build: &Build<'_>, demands: &IndexMap<String, Demand>, bundled: &dyn Fn(&Circuit) -> u32) {
        let floors = floor::floors(build, self, demands);
        let mut shorts = fault::Shorts::of_sources(build);
        // What a charger puts out is fused at the busbar: a short there is known once the busbar's own feed is.
        let later = |c: &&Circuit| c.network == Network::Dc && c.feeding == Feeding::Output;
        let (outputs, others): (Vec<_>, Vec<_>) = build.circuits.values().partition(later);
        for circuit in others.into_iter().chain(outputs) {
            let floor = floors.get(&circuit.id).copied().unwrap_or_default();
            let mut figures = self.circuit(build, circuit, demands, (floor, bundled(circuit)), shorts.before(circuit));
            figures.fault = shorts.of_device(circuit, &figures);
            figures.breaking = fault::judged(&figures);
            shorts.pass(build, circuit, &figures);
            self.circuits.insert(circuit.id.clone(), figures);
        }
    }

    fn circuit(
        &self,
        build: &Build<'_>,
        circuit: &Circuit,
        demands: &IndexMap<String, Demand>,
        (floor, bundled): (Amps, u32),
        short: Option<Short>,
    ) -> CircuitFigures {
        let demand = demands.get(&circuit.id).copied().unwrap_or_default();
        let design = demand.design(self.profile.continuous_factor);
        let nominal = nominal(build, circuit, &self.profile);
        let installation = Installation { bundled, ..installation(build, circuit, &self.profile, nominal) };
        let wanted = device::wanted(build, self, circuit, design.max(floor), short.map_or(Amps(0.0), |s| s.current));
        let drop_limit = drop_limit(build, circuit, &self.profile);
        let feeder = self.feeder_of(build, circuit);
        let before = feeder.map_or(Volts(0.0), |f| f.total);
        let left = budget::left(build, circuit, (drop_limit, nominal), before, wanted.is_own());
        let (device, sized) = sizing::size(&sizing::Job {
            build,
            all: self,
            circuit,
            demand,
            design,
            floor,
            nominal,
            drop_limit: (left, drop_limit),
            installation: &installation,
            wanted,
        });
        let above = feeder.map_or(Volts(0.0), |f| f.drop_from_source);
        let above_loops = feeder.map_or(Ohms(0.0), |f| f.loops_from_source);
        let loops = above_loops + sized.as_ref().map_or(Ohms(0.0), |s| s.drop.loop_resistance);
        let own = sized.as_ref().map_or(Volts(0.0), |s| s.drop.volts);
        let mut figures = CircuitFigures {
            nominal,
            demand,
            design,
            device,
            sized,
            run_known: circuit.run.is_some(),
            drop_limit,
            installation,
            drop_from_source: above + own,
            total: Volts(0.0),
            loops_from_source: loops,
            drop_alone: demand.running * loops,
            acceptance: None,
            fault: None,
            breaking: None,
        };
        // What comes after is sized by this; the way back along the bars is added when all are known.
        figures.total = before + own + figures.demand.load * totals::devices(build, circuit, &figures);
        figures.acceptance = acceptance::of(build, circuit, &figures, feeder);
        figures
    }

    /// Figures of the circuit that arrives at the part this one leaves, in the same network; behind a transfer switch
    /// of the one that loses more voltage.
    fn feeder_of(&self, build: &Build<'_>, circuit: &Circuit) -> Option<&CircuitFigures> {
        let feeders = device::feeders_of(build, circuit).filter(|_| passes(build, &circuit.from));
        let figures = feeders.filter_map(|f| self.circuits.get(&f.id));
        figures.reduce(|a, b| if b.drop_from_source > a.drop_from_source { b } else { a })
    }
}

fn passes(build: &Build<'_>, part: &str) -> bool {
    build.parts.get(part).and_then(crate::build::Part::role).is_some_and(Role::passes_through)
}

/// Whether a circuit ends at something that takes its current: there it is tested live.
#[must_use]
pub fn is_end(build: &Build<'_>, circuit: &Circuit) -> bool {
    let role = build.parts.get(&circuit.to).and_then(crate::build::Part::role);
    let draws = circuit.network != Network::Pv && circuit.feeding.draws() && circuit.owner == circuit.to;
    draws && !role.is_some_and(Role::passes_through)
}

/// Voltage of a cable to modules that no array of the spec stands at: 36 cells at their peak power. Common practice, no
/// source; nothing flows there yet.
const NO_STRING: Volts = Volts(18.0);

/// Nominal voltage of a circuit: that of its DC network, the rules' AC voltage, the string's own for solar.
#[must_use]
pub fn nominal(build: &Build<'_>, circuit: &Circuit, profile: &Profile) -> Volts {
    match circuit.network {
        // Between two lines there is twice the voltage; what passes both on is reckoned line by line.
        Network::Ac if build.line_of(circuit) == Lines::Both && !passes(build, &circuit.to) => profile.ac.volts * 2.0,
        Network::Ac => profile.ac.volts,
        Network::Start | Network::Dc => build.dc_network(circuit).nominal,
        Network::Pv => string_volts(build, &circuit.from).unwrap_or(NO_STRING),
    }
}

/// Highest voltage that a device of the circuit has to break: of a DC network while its bank is charged.
#[must_use]
pub fn highest(build: &Build<'_>, circuit: &Circuit, profile: &Profile) -> Volts {
    match circuit.network {
        Network::Start | Network::Dc => build.dc_network(circuit).highest,
        Network::Ac | Network::Pv => nominal(build, circuit, profile),
    }
}

/// Voltage at peak power of the array that feeds `part`, through isolators.
fn string_volts(build: &Build<'_>, part: &str) -> Option<Volts> {
    let above = build.upstream(part).along(|c| c.network == Network::Pv).single().parts();
    let array = build.parts.get(part).into_iter().chain(above).find(|p| p.role() == Some(Role::Array))?;
    Some(array.roles.vmp().get()? * count(array.roles.series().get()?))
}

/// A count as a factor.
#[expect(clippy::cast_precision_loss, reason = "the reader bounds counts far below 2^52")]
pub(crate) fn count(n: i64) -> f64 {
    n.max(0) as f64
}

fn drop_limit(build: &Build<'_>, circuit: &Circuit, profile: &Profile) -> Ratio {
    let owner = build.parts.get(&circuit.owner);
    let given = owner.filter(|p| p.supply.critical.given).map(|p| p.supply.critical.is_set());
    let critical = given.or_else(|| owner.and_then(crate::build::Part::electric).map(|e| e.critical)).unwrap_or(true);
    if critical { profile.drop.critical } else { profile.drop.other }
}

/// Insulation class, ambient and bundling of a circuit's conductor.
fn installation(build: &Build<'_>, circuit: &Circuit, profile: &Profile, volts: Volts) -> Installation {
    let owner = build.parts.get(&circuit.owner);
    let given = owner.and_then(|p| p.supply.insulation.get().or(p.roles.insulation().get()));
    // It passes where its ends stand as well.
    let ends = [&circuit.from, &circuit.to].into_iter().filter_map(|id| build.parts.get(id)).flat_map(|p| &p.places);
    let hot = circuit.through.iter().chain(ends).any(|p| build.is_engine_space(p));
    let surroundings = if hot {
        Surroundings::EngineSpace(profile.ambient.engine_space)
    } else {
        Surroundings::Air(Celsius(profile.ambient.cabin.0))
    };
    let wire = if circuit.network == Network::Ac { &profile.wire.ac } else { &profile.wire.dc };
    Installation {
        rule: profile.ampacity,
        method: laid::method_of(build, circuit),
        insulation: given.and_then(|limit| profile.ampacity.class(limit)).unwrap_or(wire.insulation),
        surroundings,
        bundled: circuit.bundle,
        volts,
        bundle_at_all_voltages: profile.bundle_at_all_voltages,
    }
}
