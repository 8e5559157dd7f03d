//! Tests of the finished van: what each expects, what was recorded, and whether it is good.

pub mod band;

use crate::build::{Build, Circuit, Part};
use crate::compute::network::{CircuitFigures, DeviceAt, Electrical};
use crate::fields::is_placeholder;
use crate::kinds::{Network, Role, Stage};
use crate::source::{Span, Spanned};
use crate::spec::Signature;
use crate::units::{Amps, Ohms, Ratio, System, Volts, in_words};
use band::{Band, Measure, Verdict};
use serde::Serialize;
use std::collections::BTreeMap;

/// How much more than expected a DC load may lie below its source, as a share of the nominal voltage: meters and
/// connections. Common practice, no source.
const DC_BAND: Ratio = Ratio(0.025);

/// The same for AC. Common practice, no source.
const AC_BAND: Ratio = Ratio(0.1);

/// How far the current of a steady load may be off. Common practice, no source.
pub const AMPS_BAND: Ratio = Ratio(0.2);

/// A conductor from end to end, leads taken off, has less. Common practice, no source.
pub const CONTINUITY: Ohms = Ohms(1.0);

/// A conductor against the others and the body has more. Common practice, no source.
pub const INSULATION: Ohms = Ohms(1e6);

/// Tests of a circuit by their field in `[recorded.circuits.<label>]`.
pub const CIRCUIT_TESTS: [&str; 4] = ["continuity", "insulation", "below", "amps"];

/// Those of them that are taken dead, before anything covers the cable.
pub const DEAD_TESTS: [&str; 2] = ["continuity", "insulation"];

/// The stage in which a test of a circuit is taken: dead as soon as the cables are pulled.
#[must_use]
pub fn stage_of(build: &Build<'_>, test: &str) -> Stage {
    let early = [Stage::ElectricalRoughIn, Stage::ElectricalFitOff].into_iter().filter(|_| DEAD_TESTS.contains(&test));
    early.into_iter().find(|s| !is_skipped(build, *s)).unwrap_or(Stage::Commissioning)
}

/// A reading that a task of a part takes.
#[derive(Clone, Debug, Serialize)]
pub struct Test {
    /// `<part>.<reading>`: its key in `[recorded.readings]`.
    pub id: String,
    /// Part.
    pub part: String,
    /// Task.
    pub task: String,
    /// Stage of the task.
    pub stage: Stage,
    /// What is read, plain text.
    pub what: String,
    /// Expected value, plain text, differences in kelvins; "" where the build does not give it.
    pub expect: String,
    /// Tolerance, plain text, differences in kelvins.
    pub tolerance: String,
}

/// A record and what it says.
#[derive(Clone, Debug, Serialize)]
pub struct Result {
    /// Key in its section: `fridge.volts-running`; for circuits `<label>.<test>`.
    pub id: String,
    /// Component it is about.
    pub part: String,
    /// As recorded.
    pub recorded: String,
    /// Expected value as printed, but differences in kelvins.
    pub expect: String,
    /// Tolerance likewise; "" where the expected value is a limit.
    pub tolerance: String,
    /// What it says.
    pub verdict: Verdict,
    /// Where it is recorded.
    pub span: Span,
}

/// What a circuit's tests expect.
#[derive(Clone, Debug, Serialize)]
pub struct CircuitTest {
    /// Label.
    pub circuit: String,
    /// It ends at a load: it is tested live too.
    pub live: bool,
    /// How far the load lies below its source with this circuit alone running; `None` where the length is not known.
    pub below: Option<Volts>,
    /// The most it may lie below.
    pub most: Option<Volts>,
    /// Current.
    pub amps: Amps,
    /// A load takes about that current; else it is the most.
    pub steady: bool,
}

/// The tests of a build and what was recorded.
#[derive(Clone, Debug, Default, Serialize)]
pub struct Readings {
    /// Readings that tasks take, in the order of the build.
    pub tests: Vec<Test>,
    /// Tests of circuits, in the order of the build.
    pub circuits: Vec<CircuitTest>,
    /// What was recorded, readings first, by key.
    pub results: BTreeMap<String, Result>,
    /// The same for circuits, by `<label>.<test>`.
    pub circuit_results: BTreeMap<String, Result>,
}

impl Test {
    /// Expected value and tolerance as documents print them.
    #[must_use]
    pub fn expected(&self, system: System) -> String {
        expected(&self.expect, &self.tolerance, system)
    }
}

impl Result {
    /// Expected value and tolerance as documents print them.
    #[must_use]
    pub fn expected(&self, system: System) -> String {
        expected(&self.expect, &self.tolerance, system)
    }
}

/// What is judged has differences of temperature in kelvins; what is printed has them in the units of the documents.
fn expected(expect: &str, tolerance: &str, system: System) -> String {
    in_words(format!("{expect} {tolerance}").trim(), system).into_owned()
}

/// Fills in a text of a kind with the facts of a part.
pub type Say<'a> = dyn Fn(&str, &str) -> String + 'a;

impl Readings {
    /// Lists the tests and judges what is recorded. `say(part, text)` fills in a text of a kind.
    #[must_use]
    pub fn compute(build: &Build<'_>, electrical: &Electrical, say: &Say<'_>) -> Self {
        let mut readings = Self { circuits: circuits(build, electrical), ..Self::default() };
        let recorded = &build.spec.recorded;
        for task in build.tasks.values().filter(|t| !is_skipped(build, t.stage)) {
            let (Some(part), Some(template)) = (&task.part, task.template) else { continue };
            for reading in &template.readings {
                let id = format!("{part}.{}", reading.id);
                let test = Test {
                    part: part.clone(),
                    task: task.id.clone(),
                    stage: task.stage,
                    what: in_words(&say(part, &reading.what), build.prints()).into_owned(),
                    expect: say(part, &reading.expect),
                    tolerance: say(part, &reading.tolerance),
                    id,
                };
                if let Some(text) = recorded.readings.get(&test.id).filter(|text| is_record(&text.value)) {
                    readings.results.insert(test.id.clone(), judged(build, &test, text));
                }
                readings.tests.push(test);
            }
        }
        readings.judge_circuits(build);
        readings
    }

    fn judge_circuits(&mut self, build: &Build<'_>) {
        for test in &self.circuits {
            let Some(record) = build.spec.recorded.circuits.get(&test.circuit) else { continue };
            for field in CIRCUIT_TESTS {
                let Some(entry) = record.get(field).filter(|e| e.given) else { continue };
                let text = record.text(field).filter(|text| is_record(text));
                let (Some(band), Some(text)) = (test.band(field), text) else { continue };
                let (expect, tolerance) = test.expected(build, field);
                let id = format!("{}.{field}", test.circuit);
                let part = test.circuit.split('.').next().unwrap_or_default().to_owned();
                let verdict = band.judge(text, None);
                let recorded = text.to_owned();
                let result = Result { id: id.clone(), part, recorded, expect, tolerance, verdict, span: entry.span };
                self.circuit_results.insert(id, result);
            }
        }
    }
}

impl CircuitTest {
    /// Figures that are good for a test; `None` where the circuit has no such test.
    #[must_use]
    pub fn band(&self, test: &str) -> Option<Band> {
        use crate::units::Dimension;
        let of = |dimension, low, high| Some(Band { measure: Measure::Of(dimension), low, high });
        match test {
            "continuity" => of(Dimension::Resistance, None, Some(CONTINUITY.0)),
            "insulation" => of(Dimension::Resistance, Some(INSULATION.0), None),
            "below" if self.live => of(Dimension::Voltage, None, Some(self.most?.0)),
            "amps" if self.live => {
                let low = self.steady.then_some(self.amps.0 * (1.0 - AMPS_BAND.0));
                let high = if self.steady { self.amps.0 * (1.0 + AMPS_BAND.0) } else { self.amps.0 };
                of(Dimension::Current, low, Some(high))
            }
            _ => None,
        }
    }

    /// Expected value and tolerance of a test, as documents print them.
    #[must_use]
    pub fn expected(&self, build: &Build<'_>, test: &str) -> (String, String) {
        let system = build.prints();
        let volts = |v: Option<Volts>| v.map_or_else(String::new, hundredths);
        match test {
            "continuity" => (format!("< {}", CONTINUITY.show(system)), String::new()),
            "insulation" => (format!("> {}", INSULATION.show(system)), String::new()),
            "below" => (volts(self.below), format!("≤ {}", volts(self.most))),
            _ if self.steady => (self.amps.show(system), format!("± {}", AMPS_BAND.show(system))),
            _ => (format!("≤ {}", self.amps.show(system)), String::new()),
        }
    }
}

fn judged(build: &Build<'_>, test: &Test, written: &Spanned<String>) -> Result {
    let Test { id, part, expect, tolerance, .. } = test.clone();
    // A date counts from the day it was read, else from the handover.
    let day = taken(build, test.stage, &id).and_then(|s| s.value.date);
    let day = day.or_else(|| build.spec.build.date("handover"));
    let verdict = band::judge(&expect, &tolerance, &written.value, day);
    Result { id, part, recorded: written.value.clone(), expect, tolerance, verdict, span: written.span }
}

/// Words that answer a test whose expected value is in words, and would be no record elsewhere.
const ANSWERS: [&str; 7] = ["yes", "no", "ok", "none", "nil", "open", "empty"];

/// Whether a text is a reading, good or bad, and not just the place of one.
#[must_use]
pub fn is_record(text: &str) -> bool {
    !is_placeholder(text) || ANSWERS.contains(&text.trim().to_lowercase().as_str())
}

/// Who took a reading and when: the closest entry of `[recorded.taken]`.
#[must_use]
pub fn taken<'b>(build: &'b Build<'_>, stage: Stage, id: &str) -> Option<&'b Spanned<Signature>> {
    let taken = &build.spec.recorded.taken;
    let part = id.split('.').next().unwrap_or(id);
    [id, part, stage.id()].iter().find_map(|key| taken.get(*key))
}

/// To hundredths, as the meters of the trade show them.
#[must_use]
pub fn hundredths(volts: Volts) -> String {
    format!("{:.2} V", volts.0)
}

/// Whether the spec leaves the stage out.
#[must_use]
pub fn is_skipped(build: &Build<'_>, stage: Stage) -> bool {
    build.spec.stages.get(stage.id()).is_some_and(|r| r.flag("skip"))
}

/// Tests of the circuits that the shop wires.
fn circuits<'b>(build: &'b Build<'_>, electrical: &'b Electrical) -> Vec<CircuitTest> {
    if is_skipped(build, Stage::Commissioning) {
        return Vec::new();
    }
    let with_figures = |c: &'b Circuit| Some((c, electrical.circuits.get(&c.id)?));
    let wired = build.circuits.values().filter_map(with_figures).filter(|(_, f)| f.device.at != DeviceAt::Vehicle);
    wired.map(|(circuit, figures)| test_of(build, circuit, figures)).collect()
}

fn test_of(build: &Build<'_>, circuit: &Circuit, figures: &CircuitFigures) -> CircuitTest {
    let part = build.parts.get(&circuit.to);
    let role = part.and_then(Part::role);
    let ends = circuit.owner == circuit.to && !role.is_some_and(Role::passes_through);
    let band = if circuit.network == Network::Ac { AC_BAND } else { DC_BAND };
    let below = Some(figures.drop_alone).filter(|_| figures.run_known);
    CircuitTest {
        circuit: circuit.id.clone(),
        live: circuit.network != Network::Pv && ends,
        below,
        most: below.map(|b| b + figures.nominal * band.0),
        amps: figures.demand.load,
        // An outlet, charger or inverter takes what is asked of it, up to the figure; a load takes about its figure.
        steady: matches!(role, Some(Role::Load | Role::Display)),
    }
}
