//! Tests of a circuit: what each expects, and the limit it is held to at the current that was really measured.

use super::band::{Band, SIGNS};
use super::{is_skipped, panel};
use crate::build::{Build, Circuit, Part};
use crate::compute::network::{Acceptance, CircuitFigures, Electrical, LEAST_LOAD, is_end};
use crate::compute::{isolation, wording};
use crate::kinds::{HandoverSet, Limits, Measured, Network, Role, Stage};
use crate::units::{Amps, Bound, Dimension, Ohms, Ratio, Volts, parse_quantity, print_bound};
use serde::Serialize;
use std::collections::BTreeSet;

/// How far the current of a steady load may be off. Common practice, no source.
pub const AMPS_BAND: Ratio = Ratio(0.2);

/// The top of the band of a steady load.
fn band_most(amps: Amps) -> Amps {
    amps * (1.0 + AMPS_BAND.0)
}

/// A conductor against the others and the body has more. Common practice, no source.
pub const INSULATION: Ohms = Ohms(1e6);

/// Tests of a circuit by their field in `[recorded.circuits.<label>]`.
pub const CIRCUIT_TESTS: [&str; 6] = ["continuity", "insulation", "drop", "below", "amps", "loop"];

/// What a circuit's tests expect.
#[derive(Clone, Debug, Serialize)]
pub struct CircuitTest {
    /// Label.
    pub circuit: String,
    /// Label of the circuit whose insulation test, with all ways connected, proves that of this one too.
    pub proved_at: String,
    /// Its insulation test proves that of others, or of this one alone.
    pub leads: bool,
    /// Network.
    pub network: Network,
    /// It ends at a load: it is tested live too.
    pub live: bool,
    /// What its conductors measure; `None` where the length or the conductor is not known.
    pub good: Option<Acceptance>,
    /// How far the load lies below its source with this circuit alone running; `None` where the length is not known.
    pub below: Option<Volts>,
    /// Current in steady running.
    pub amps: Amps,
    /// The most that may flow in its tests: where it takes what is asked of it, its figure, in a feeder its protection;
    /// of a load the top of its band, and no more than its protection carries.
    pub amps_most: Amps,
    /// A load takes about its figure.
    pub steady: bool,
    /// The most that the loop of line and earth may have; `None` where no rule of the build asks for it.
    pub loop_most: Option<Ohms>,
}

impl CircuitTest {
    /// Whether its conductors are tested by the drop under load: no meter at the van tells a good one from a bad one by
    /// its resistance.
    #[must_use]
    pub fn by_drop(&self) -> bool {
        self.good.is_some_and(|good| !good.good.is_tellable())
    }

    /// Whether a record of this test is held against something.
    #[must_use]
    pub fn has(&self, test: &str) -> bool {
        match test {
            "drop" => self.good.is_some(),
            "below" => self.live && self.good.is_some_and(|good| good.path.is_some()),
            "amps" => self.live || self.by_drop(),
            "loop" => self.loop_most.is_some(),
            _ => true,
        }
    }

    /// Whether the finished van needs this test.
    #[must_use]
    pub fn asks(&self, test: &str) -> bool {
        match test {
            "continuity" => !self.by_drop(),
            "drop" => self.by_drop(),
            _ => self.has(test),
        }
    }

    /// Whether the finished van needs this test in a set: in the essential one insulation once for each panel, and what
    /// no test at the panel proves, the protective earth and the loop of a mains circuit.
    #[must_use]
    pub fn asks_in(&self, test: &str, set: HandoverSet) -> bool {
        let essential = || match test {
            "insulation" => self.leads,
            "continuity" | "loop" => self.network == Network::Ac,
            _ => false,
        };
        self.asks(test) && (set == HandoverSet::Full || essential())
    }

    /// The circuit whose insulation test proves that of this one in a set: nobody measures it by itself.
    #[must_use]
    pub fn proved_with(&self, set: HandoverSet) -> Option<&str> {
        let spared = self.asks("insulation") && !self.asks_in("insulation", set);
        spared.then_some(self.proved_at.as_str())
    }

    /// Current that was read beside the other readings.
    pub(super) fn measured_amps(&self, recorded: Option<&str>) -> Option<Amps> {
        let text = recorded?.trim_start_matches(SIGNS).trim_start_matches('~');
        let read = parse_quantity(text, Dimension::Current).ok()?;
        self.has("amps").then_some(Amps(read.value))
    }

    /// Figures that are good for a test, with a current read beside it; without limits where they can't be told.
    #[must_use]
    pub fn band(&self, test: &str, amps: Option<Amps>) -> Band {
        let dimension = match test {
            "continuity" | "insulation" | "loop" => Dimension::Resistance,
            "amps" => Dimension::Current,
            _ => Dimension::Voltage,
        };
        Band { measured: Measured::Of(dimension), limits: self.limits(test, amps) }
    }

    fn limits(&self, test: &str, amps: Option<Amps>) -> Option<Limits> {
        let most = |high: f64| Some(Limits { low: None, high: Some(high) });
        match test {
            "continuity" => most(self.good?.good.conductor_most.0),
            "insulation" => Some(Limits { low: Some(INSULATION.0), high: None }),
            "loop" => most(self.loop_most?.0),
            // A drop without its current says nothing.
            "drop" => most(self.good?.good.drop_most(amps?).0),
            "below" => most(self.good?.below_most(amps.unwrap_or(self.amps))?.0),
            "amps" => {
                let share = if self.steady { 1.0 - AMPS_BAND.0 } else { LEAST_LOAD };
                Some(Limits { low: Some(self.amps.0 * share), high: Some(self.amps_most.0) })
            }
            _ => None,
        }
    }

    /// What a test expects, and the most that is good, each without the current it stands for: "0.4 V", "0.52 V".
    #[must_use]
    pub fn limit(&self, build: &Build<'_>, test: &str) -> (String, String) {
        let (expect, most) = self.expected(build, test, None);
        (expect, most.trim_start_matches("≤ ").split(" (").next().unwrap_or_default().to_owned())
    }

    /// Expected value and tolerance of a test, as documents print them; a drop at the current that was read, else at
    /// the expected one.
    #[must_use]
    pub fn expected(&self, build: &Build<'_>, test: &str, amps: Option<Amps>) -> (String, String) {
        let system = build.prints();
        let at = amps.unwrap_or(self.amps);
        let limit = |dimension, most: f64| format!("≤ {}", print_bound(dimension, most, system, Bound::Most));
        let at_current = |most: Volts| format!("{} (at {})", limit(Dimension::Voltage, most.0), at.show(system));
        match test {
            "continuity" => self.good.map_or_else(
                || ("by its length, which is not given".to_owned(), String::new()),
                |good| (good.good.conductor.show(system), limit(Dimension::Resistance, good.good.conductor_most.0)),
            ),
            "insulation" => (format!("> {}", INSULATION.show(system)), String::new()),
            "loop" => {
                let most = self.loop_most.map_or_else(String::new, |most| limit(Dimension::Resistance, most.0));
                (most, String::new())
            }
            "drop" => self.good.map_or_else(Default::default, |good| {
                (good.good.drop(at).show(system), at_current(good.good.drop_most(at)))
            }),
            "below" => {
                let path = self.good.and_then(|good| good.path);
                let below = path.map_or_else(String::new, |path| (at * path.conductors).show(system));
                let most = self.good.and_then(|good| good.below_most(at)).map_or_else(String::new, at_current);
                (below, most)
            }
            _ if self.steady => {
                let band = AMPS_BAND.show(system);
                let whole = self.amps_most >= band_most(self.amps);
                let most = limit(Dimension::Current, self.amps_most.0);
                (self.amps.show(system), if whole { format!("± {band}") } else { format!("− {band}, {most}") })
            }
            _ => {
                let least = self.amps * LEAST_LOAD;
                (format!("≤ {}", self.amps_most.show(system)), format!("≥ {}", least.show(system)))
            }
        }
    }
}

/// Tests of the circuits that this job pulls, or joins to what it fits.
pub(super) fn tests<'b>(build: &'b Build<'_>, electrical: &'b Electrical) -> Vec<CircuitTest> {
    if is_skipped(build, Stage::Commissioning) {
        return Vec::new();
    }
    let tested: BTreeSet<&str> = wording::tested(build, electrical).map(|(c, _)| c.id.as_str()).collect();
    let of = |(circuit, figures): (&Circuit, &CircuitFigures)| {
        let loop_most = electrical.loops.get(&circuit.id).map(|found| found.most);
        let proved_at = panel::proved_at(build, circuit, &tested);
        CircuitTest { proved_at, loop_most, ..test_of(build, electrical, circuit, figures) }
    };
    let mut tests: Vec<CircuitTest> = wording::tested(build, electrical).map(of).collect();
    let leads: BTreeSet<String> = tests.iter().map(|t| t.proved_at.clone()).collect();
    for test in &mut tests {
        test.leads = leads.contains(&test.circuit);
    }
    tests
}

fn test_of(build: &Build<'_>, electrical: &Electrical, circuit: &Circuit, figures: &CircuitFigures) -> CircuitTest {
    let role = build.parts.get(&circuit.to).and_then(Part::role);
    let live = is_end(build, circuit);
    // A test asks for no more than what feeds the circuit gives.
    let given = given_by_sources(build, electrical, circuit);
    let amps = given.map_or(figures.demand.running, |given| figures.demand.running.min(given));
    let steady = matches!(role, Some(Role::Load | Role::Display));
    let protected = figures.device.rating.filter(|_| !live);
    let asked = protected.map_or(amps, |rating| rating.max(amps));
    let banded = figures.device.rating.map_or(band_most(amps), |rating| rating.max(amps).min(band_most(amps)));
    CircuitTest {
        circuit: circuit.id.clone(),
        proved_at: String::new(),
        leads: false,
        network: circuit.network,
        live,
        good: figures.acceptance,
        below: Some(figures.drop_alone).filter(|_| figures.run_known),
        amps,
        amps_most: if steady { banded } else { asked },
        // An outlet, charger or inverter takes what is asked of it, up to the figure; a load takes about its figure.
        steady,
        loop_most: None,
    }
}

/// What the largest of the sources of an AC circuit gives without end; `None` where one tells nothing of it.
fn given_by_sources(build: &Build<'_>, electrical: &Electrical, circuit: &Circuit) -> Option<Amps> {
    if circuit.network != Network::Ac {
        return None;
    }
    let is_source = |p: &Part<'_>| p.role().is_some_and(Role::gives_ac);
    let own = build.parts.get(&circuit.from).filter(|p| is_source(p));
    let sources = own.map_or_else(|| isolation::nearest(build, &circuit.from, is_source), |own| vec![own]);
    let gives = |part: &&Part<'_>| match part.role()? {
        Role::Inverter | Role::InverterCharger => {
            let volts = part.roles.output_voltage().get().unwrap_or(electrical.profile.ac.volts);
            let own = part.roles.power().get()? * part.times() / volts;
            // What passes from the shore to its output is no less than that.
            let passed = part.roles.inverter_charger.as_ref().filter(|own| own.shore_from.first().is_some());
            Some(passed.and_then(|own| own.transfer_rating.get()).map_or(own, |rating| rating.max(own)))
        }
        _ => part.roles.rating().get(),
    };
    let all: Option<Vec<Amps>> = sources.iter().map(gives).collect();
    all?.into_iter().reduce(Amps::max)
}
