//! Tests of the finished van: what each expects, what was recorded, and whether it is good.

pub mod band;
mod circuit;
mod conductor;
mod panel;
mod proof;

pub use circuit::{AMPS_BAND, CIRCUIT_TESTS, CircuitTest, INSULATION};
pub use proof::{Proofs, each_once};

use crate::build::{Build, Task};
use crate::compute::network::Electrical;
use crate::fields::is_placeholder;
use crate::kinds::Stage;
use crate::source::{Span, Spanned};
use crate::spec::Signature;
use crate::units::{System, in_words};
use band::{Band, Verdict};
use serde::Serialize;
use std::collections::BTreeMap;

/// Tests of a circuit that are taken dead, before anything covers the cable.
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
    /// Figures that are good.
    pub band: Band,
    /// Handover can't be without it: it says so itself, or proves a hold point that does.
    pub essential: bool,
}

/// A record and what it says.
#[derive(Clone, Debug, Serialize)]
pub struct Result {
    /// Key in its section: `fridge.drop-running`; for circuits `<label>.<test>`, for a conductor its label.
    pub id: String,
    /// Component it is about.
    pub part: String,
    /// As recorded.
    pub recorded: String,
    /// Expected value as printed, but differences in kelvins.
    pub expect: String,
    /// Tolerance likewise: "± 20 %", or beside an expected value the most or least that is good: "≤ 40.1 mΩ"; "" where the
    /// expected value is a limit.
    pub tolerance: String,
    /// Figures that are good.
    pub band: Band,
    /// What it says.
    pub verdict: Verdict,
    /// Where it is recorded.
    pub span: Span,
    /// The conductor whose reading it is, where those of single conductors stand for their circuit.
    pub of_conductor: Option<String>,
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
    /// The same for single conductors, by their label.
    pub conductor_results: BTreeMap<String, Result>,
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
    in_words(&joined(expect, tolerance), system).into_owned()
}

/// Fills in a text of a kind with the facts of a part.
pub type Say<'a> = dyn Fn(&str, &str) -> String + 'a;

impl Readings {
    /// All that was recorded, each once: what stands for a circuit as the worst of its conductors is told of that one.
    pub fn recorded(&self) -> impl Iterator<Item = &Result> {
        let circuits = self.circuit_results.values().filter(|result| result.of_conductor.is_none());
        self.results.values().chain(circuits).chain(self.conductor_results.values())
    }

    /// Lists the tests and judges what is recorded. `say(part, text)` fills in a text of a kind.
    #[must_use]
    pub fn compute(build: &Build<'_>, electrical: &Electrical, say: &Say<'_>) -> Self {
        let mut readings = Self { circuits: circuit::tests(build, electrical), ..Self::default() };
        let recorded = &build.spec.recorded;
        for task in build.tasks.values().filter(|t| !is_skipped(build, t.stage)) {
            readings.take_own(build, task);
            let (Some(part), Some(template)) = (&task.part, task.template) else { continue };
            let Some(bearer) = build.bearer(part) else { continue };
            for reading in build.readings_of(bearer, template) {
                let id = format!("{part}.{}", reading.id);
                let told = |name: &str| say(part, &format!("{{{{ {name} }}}}"));
                let test = Test {
                    part: part.clone(),
                    task: task.id.clone(),
                    stage: task.stage,
                    what: in_words(&say(part, &reading.what), build.prints()).into_owned(),
                    expect: say(part, &reading.expected()),
                    tolerance: say(part, &reading.tolerance_of(&told)),
                    band: Band { measured: reading.measured(&told), limits: reading.limits(&told) },
                    essential: reading.essential,
                    id,
                };
                if let Some(text) = recorded.readings.get(&test.id).filter(|text| is_record(&text.value)) {
                    readings.results.insert(test.id.clone(), judged(build, &test, text));
                }
                readings.tests.push(test);
            }
        }
        readings.mark_essential(build);
        readings.conductor_results = conductor::results(build, electrical, &readings.circuits);
        readings.judge_circuits(build);
        readings
    }

    /// Readings of a task of the build, whose texts are plain.
    fn take_own(&mut self, build: &Build<'_>, task: &Task<'_>) {
        // What no component stands for is recorded under the task.
        let part = task.part.as_ref().unwrap_or(&task.id);
        let none = |_: &str| String::new();
        // What is said of a hidden part could tell where it is.
        let secret = build.parts.get(part).is_some_and(|p| p.confidential);
        for reading in &task.readings {
            let test = Test {
                id: format!("{part}.{}", reading.id),
                part: part.clone(),
                task: task.id.clone(),
                stage: task.stage,
                what: if secret { reading.id.clone() } else { reading.what.clone() },
                expect: if secret { String::new() } else { reading.expected() },
                tolerance: reading.tolerance(),
                band: Band { measured: reading.measured(&none), limits: reading.limits(&none) },
                essential: reading.essential,
            };
            if let Some(text) = build.spec.recorded.readings.get(&test.id).filter(|text| is_record(&text.value)) {
                self.results.insert(test.id.clone(), judged(build, &test, text));
            }
            self.tests.push(test);
        }
    }

    fn judge_circuits(&mut self, build: &Build<'_>) {
        for test in &self.circuits {
            let conductor = if test.by_drop() { "drop" } else { "continuity" };
            let summed = conductor::of_circuit(build, &self.conductor_results, test, conductor);
            self.circuit_results.extend(summed.map(|result| (result.id.clone(), result)));
            let Some(record) = build.spec.recorded.circuits.get(&test.circuit) else { continue };
            for field in CIRCUIT_TESTS {
                let Some(entry) = record.get(field).filter(|e| e.given) else { continue };
                let Some(text) = record.text(field).filter(|text| is_record(text)) else { continue };
                if !test.has(field) {
                    continue;
                }
                let amps = test.measured_amps(record.text("amps"));
                let (expect, tolerance) = test.expected(build, field, amps);
                let id = format!("{}.{field}", test.circuit);
                let part = test.circuit.split('.').next().unwrap_or_default().to_owned();
                let band = test.band(field, amps);
                let verdict = band.judge(text, None);
                let recorded = text.to_owned();
                let (id_of, span) = (id.clone(), entry.span);
                let result =
                    Result { id: id_of, part, recorded, expect, tolerance, band, verdict, span, of_conductor: None };
                self.circuit_results.insert(id, result);
            }
        }
    }
}

fn judged(build: &Build<'_>, test: &Test, written: &Spanned<String>) -> Result {
    let Test { id, part, expect, tolerance, band, .. } = test.clone();
    // A date counts from the day it was read, else from the handover.
    let day = taken(build, test.stage, &id).and_then(|s| s.value.date);
    let day = day.or_else(|| build.about.handover.get());
    let verdict = band.judge(&written.value, day);
    let recorded = written.value.clone();
    Result { id, part, recorded, expect, tolerance, band, verdict, span: written.span, of_conductor: None }
}

/// Words that answer a test whose expected value is in words, and would be no record elsewhere.
const ANSWERS: [&str; 7] = ["yes", "no", "ok", "none", "nil", "open", "empty"];

/// Whether a text is a reading, good or bad, and not just the place of one.
#[must_use]
pub fn is_record(text: &str) -> bool {
    !is_placeholder(text) || ANSWERS.contains(&text.trim().to_lowercase().as_str())
}

/// Who took a dead test of a circuit, `<label>.<test>`, and when. Readings of a component are taken when it runs, its
/// cable is tested dead long before.
#[must_use]
pub fn taken_dead<'b>(build: &'b Build<'_>, id: &str, test: &str) -> Option<&'b Spanned<Signature>> {
    let taken = &build.spec.recorded.taken;
    taken.get(id).or_else(|| taken.get(stage_of(build, test).id()))
}

/// Who took a reading and when: the closest entry of `[recorded.taken]`.
#[must_use]
pub fn taken<'b>(build: &'b Build<'_>, stage: Stage, id: &str) -> Option<&'b Spanned<Signature>> {
    let taken = &build.spec.recorded.taken;
    let part = id.split('.').next().unwrap_or(id);
    [id, part, stage.id()].iter().find_map(|key| taken.get(*key))
}

/// Whether the spec leaves the stage out.
#[must_use]
pub fn is_skipped(build: &Build<'_>, stage: Stage) -> bool {
    build.stages.get(stage.id()).is_some_and(|r| r.skip.is_set())
}

/// Expected value and tolerance in one: "4.2 A ± 20 %", "33.8 mΩ, ≤ 40.1 mΩ".
#[must_use]
pub fn joined(expect: &str, tolerance: &str) -> String {
    let comma = if !expect.is_empty() && tolerance.starts_with(['≤', '≥']) { "," } else { "" };
    format!("{expect}{comma} {tolerance}").trim().to_owned()
}
