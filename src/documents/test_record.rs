//! Test record: every reading with what it should be, by stage and system; blank to write on, or as recorded.

use super::install_packet::task::{self, ReadingView};
use super::shared::{self, stage_title};
use super::snapshot::STALE;
use super::{BuildView, Context};
use crate::build::{Build, Task};
use crate::compute::handover::has_work;
use crate::compute::readings::band::Verdict;
use crate::compute::readings::{CIRCUIT_TESTS, CircuitTest, joined, taken};
use crate::fields::Field;
use crate::kinds::{Stage, System};
use crate::source::Spanned;
use crate::spec::Signature;
use crate::units::Ratio;
use serde::Serialize;

/// What the template prints.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct View {
    /// Head.
    pub build: BuildView,
    /// Counts.
    pub counts: Counts,
    /// Stages with something to measure or to sign.
    pub stages: Vec<StageView>,
    /// State the van was weighed in, in words; "" where it was not weighed.
    pub weighed: String,
    /// The weighbridge against the figures.
    pub weights: Vec<WeightRow>,
}

/// How many tests there are, and what they gave.
#[derive(Clone, Debug, Default, Serialize)]
pub(crate) struct Counts {
    /// Tests.
    pub all: usize,
    /// Recorded.
    pub taken: usize,
    /// Out of tolerance.
    pub out: usize,
    /// Judged by a person: what is expected is no figure.
    pub noted: usize,
    /// Taken before the circuit changed: to be taken again.
    pub repeat: usize,
}

/// A stage.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct StageView {
    /// Its id.
    pub id: &'static str,
    /// Its number, from 1.
    pub number: usize,
    /// Its title.
    pub title: String,
    /// Readings by system.
    pub systems: Vec<SystemView>,
    /// Tests of circuits.
    pub circuits: Vec<CircuitRow>,
    /// One insulation test proves several of them.
    pub by_panel: bool,
    /// The loop of line and earth is measured in some.
    pub loops: bool,
    /// Hold points.
    pub holds: Vec<Hold>,
    /// Who took the readings, "" where it is not recorded.
    pub taken: String,
    /// Who signed the stage, "" where nobody has.
    pub signed: String,
    /// Its work changed since.
    pub outdated: bool,
}

/// Readings of a system.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct SystemView {
    /// Its title.
    pub title: &'static str,
    /// Its readings.
    pub rows: Vec<TestRow>,
}

/// A reading.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct TestRow {
    /// Name of the part, "" where the row above has the same.
    pub component: String,
    /// What is read, Markdown.
    pub what: String,
    /// Expected value and tolerance, Markdown.
    pub expect: String,
    /// Tolerance, Markdown.
    pub tolerance: String,
    /// As recorded, "" where it is not.
    pub recorded: String,
    /// "good", "OUT", "noted"; "" where it is not recorded.
    pub verdict: &'static str,
    /// Who read it and when, where that is another than for the stage.
    pub taken: String,
}

/// A circuit.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct CircuitRow {
    /// Label.
    pub label: String,
    /// What it feeds.
    pub to: String,
    /// Conductor (its resistance, or the drop over it), insulation, below source, current: what is expected and what was
    /// read.
    pub tests: Vec<Cell>,
    /// "good", "OUT", "repeat"; "" where something is not recorded.
    pub verdict: &'static str,
}

/// A test of a circuit.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Cell {
    /// The circuit has this test.
    pub applies: bool,
    /// Limit or expected value.
    pub expect: String,
    /// As recorded.
    pub recorded: String,
}

/// A hold point.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Hold {
    /// Component, or title of the task.
    pub what: String,
    /// What must be seen before the work goes on, Markdown.
    pub text: String,
    /// Who signed it, "" where nobody has.
    pub signed: String,
    /// Its work changed since.
    pub outdated: bool,
}

/// A weighed figure.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct WeightRow {
    /// What.
    pub what: &'static str,
    /// As computed for the state the van was weighed in.
    pub computed: String,
    /// Tolerance.
    pub tolerance: String,
    /// As weighed.
    pub measured: String,
    /// Measured less computed, with its sign.
    pub difference: String,
}

/// The view.
#[must_use]
pub(crate) fn view(context: &Context<'_>) -> View {
    let build = context.build;
    let stages: Vec<StageView> =
        Stage::ALL.iter().enumerate().filter_map(|(at, stage)| stage_view(context, at + 1, *stage)).collect();
    View {
        build: BuildView::of(build),
        counts: counts(context),
        stages,
        weighed: weighed(context),
        weights: weights(context),
    }
}

fn counts(context: &Context<'_>) -> Counts {
    let readings = &context.readings;
    let circuits = readings.circuits.iter().flat_map(|c| CIRCUIT_TESTS.iter().filter(|t| c.asks(t)));
    let results = || readings.results.values().chain(readings.circuit_results.values());
    Counts {
        all: readings.tests.len() + circuits.count(),
        taken: results().count(),
        out: results().filter(|r| r.verdict == Verdict::Outside).count(),
        repeat: readings.circuit_results.keys().filter(|id| repeats(context, id)).count()
            + readings.results.keys().filter(|id| is_outdated(context, id)).count(),
        noted: results().filter(|r| matches!(r.verdict, Verdict::Judge | Verdict::Unreadable)).count(),
    }
}

/// Whether what is recorded of a stage, hold point, circuit or reading is older than its work.
fn is_outdated(context: &Context<'_>, id: &str) -> bool {
    context.findings.iter().any(|f| f.name == STALE && f.subject.as_deref() == Some(id))
}

/// Whether a test of a circuit, by `<circuit>.<test>`, is to be taken again.
fn repeats(context: &Context<'_>, id: &str) -> bool {
    id.rsplit_once('.').is_some_and(|(circuit, _)| is_outdated(context, circuit))
}

fn stage_view(context: &Context<'_>, number: usize, stage: Stage) -> Option<StageView> {
    let build = context.build;
    if !has_work(build, stage) {
        return None;
    }
    let systems: Vec<SystemView> = System::ALL.iter().filter_map(|s| system_view(context, stage, *s)).collect();
    let circuits: Vec<CircuitRow> = if stage == Stage::Commissioning {
        context.readings.circuits.iter().map(|c| circuit(context, c)).collect()
    } else {
        Vec::new()
    };
    Some(StageView {
        id: stage.id(),
        number,
        title: stage_title(build, stage),
        systems,
        by_panel: circuits.iter().any(|c| c.tests[1].recorded.starts_with("with ")),
        loops: context.readings.circuits.iter().any(|c| stage == Stage::Commissioning && c.asks("loop")),
        circuits,
        holds: holds(context, stage),
        taken: taken(build, stage, stage.id()).map_or_else(String::new, |t| read_by(build, t)),
        signed: shared::signed(build, stage.id()),
        outdated: is_outdated(context, stage.id()),
    })
}

/// Who took readings, when, and with which instruments.
fn read_by(build: &Build<'_>, taken: &Spanned<Signature>) -> String {
    let with = taken.value.instruments.iter().filter_map(|id| {
        let instrument = build.spec.instruments.get(&id.value)?;
        let until = instrument.date("calibrated_until").map_or_else(String::new, |d| format!(", calibrated until {d}"));
        let about = instrument.text("about").unwrap_or(&id.value);
        Some(format!("; {about}, no. {}{until}", instrument.text("number").unwrap_or_default()))
    });
    by(Some(taken)) + &with.collect::<String>()
}

fn by(signature: Option<&Spanned<Signature>>) -> String {
    signature.map_or_else(String::new, |s| {
        let date = s.value.date.map_or_else(String::new, |d| format!(", {d}"));
        format!("{}{date}", s.value.by)
    })
}

fn system_view(context: &Context<'_>, stage: Stage, system: System) -> Option<SystemView> {
    let build = context.build;
    let usual = by(taken(build, stage, stage.id()));
    let mut rows: Vec<TestRow> = Vec::new();
    let mut last = String::new();
    let mut put = |about: &str, name: &str, r: ReadingView| {
        let id = format!("{about}.{}", r.id);
        let who = by(taken(build, stage, &id));
        let known = !r.recorded.is_empty();
        rows.push(TestRow {
            component: if last == about { String::new() } else { name.to_owned() },
            what: r.what,
            expect: r.expect,
            tolerance: r.tolerance,
            recorded: r.recorded,
            verdict: match context.readings.results.get(&id) {
                Some(_) if is_outdated(context, &id) => "repeat",
                Some(result) => word(result.verdict),
                None => "",
            },
            taken: if known && who != usual { who } else { String::new() },
        });
        about.clone_into(&mut last);
    };
    for part in build.parts.values().filter(|p| p.kind.system == system) {
        for of_part in build.tasks_of(&part.id).filter(|t| t.stage == stage) {
            let readings = match of_part.template {
                Some(template) => task::readings(context, template, part),
                None => task::own_readings(context, of_part),
            };
            for reading in readings {
                put(&part.id, &part.name, reading);
            }
        }
    }
    // What is read of the van as a whole.
    let own = |t: &&Task<'_>| t.stage == stage && t.part.is_none() && system == System::Body;
    for whole in build.tasks.values().filter(own) {
        let name = shared::task_title(context, whole);
        for reading in task::own_readings(context, whole) {
            put(&whole.id, &name, reading);
        }
    }
    (!rows.is_empty()).then(|| SystemView { title: system.title(), rows })
}

const fn word(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Within => "good",
        Verdict::Outside => "OUT",
        Verdict::Judge | Verdict::Unreadable => "noted",
    }
}

fn circuit(context: &Context<'_>, test: &CircuitTest) -> CircuitRow {
    let build = context.build;
    let results = &context.readings.circuit_results;
    let mut verdicts = Vec::new();
    let proved_with = test.proved_with(build.handover_set());
    let cell = |field: &&str| {
        let applies = test.asks(field);
        let result = results.get(&format!("{}.{field}", test.circuit));
        if let (Some(at), "insulation", None) = (proved_with, *field, result) {
            verdicts.push(results.get(&format!("{at}.insulation")).map(|r| r.verdict));
            return Cell { applies, expect: String::new(), recorded: format!("with {at}") };
        }
        if applies || result.is_some() {
            verdicts.push(result.map(|r| r.verdict));
        }
        // What was read is held to the limit at the current that was read beside it.
        let said = result.map(|r| (r.expect.clone(), r.tolerance.clone()));
        let (expect, tolerance) = said.unwrap_or_else(|| test.expected(build, field, None));
        // The limit counts for the drops, the value with its tolerance for all else.
        let drops = matches!(*field, "drop" | "below");
        let expect = if drops { tolerance } else { joined(&expect, &tolerance) };
        Cell { applies, expect, recorded: result.map_or_else(String::new, |r| r.recorded.clone()) }
    };
    let conductor = if test.by_drop() { "drop" } else { "continuity" };
    let columns = [conductor, "insulation", "below", "amps", "loop"];
    let tests: Vec<Cell> = columns.iter().map(cell).collect();
    // A resistance that was written down beside the drop counts as well.
    verdicts.extend(results.get(&format!("{}.continuity", test.circuit)).map(|r| Some(r.verdict)));
    let verdict = if is_outdated(context, &test.circuit) {
        "repeat"
    } else if verdicts.contains(&Some(Verdict::Outside)) {
        "OUT"
    } else if verdicts.iter().all(|v| *v == Some(Verdict::Within)) {
        "good"
    } else {
        ""
    };
    let to = build.circuits.get(&test.circuit).map_or("", |c| build.name(&c.to));
    CircuitRow { label: test.circuit.clone(), to: to.to_owned(), tests, verdict }
}

fn holds(context: &Context<'_>, stage: Stage) -> Vec<Hold> {
    let build = context.build;
    let mut holds = Vec::new();
    for task in build.tasks.values().filter(|t| t.stage == stage && build.holds.contains_key(&t.id)) {
        let part = task.part.as_ref().and_then(|p| build.bearer(p));
        let own = || build.own_tasks.get(&task.id).and_then(|r| r.hold.text()).unwrap_or("").to_owned();
        let text = match (part, task.template.and_then(|t| t.hold.as_deref())) {
            (Some(part), Some(hold)) => context.text(context.facts.part(&part.id), hold),
            _ => shared::plain(context, &own()),
        };
        let own_title = || build.own_tasks.get(&task.id).and_then(|r| r.title.text()).unwrap_or(&task.id).to_owned();
        let what = part.filter(|_| task.template.is_some()).map_or_else(own_title, |p| p.name.clone());
        let outdated = is_outdated(context, &task.id);
        holds.push(Hold { what, text, signed: shared::signed(build, &task.id), outdated });
    }
    holds
}

/// State, day, scale and who, as recorded.
fn weighed(context: &Context<'_>) -> String {
    let weights = &context.build.weights;
    if context.weight.measured.is_empty() {
        return String::new();
    }
    let system = context.build.prints();
    let share = |field: &Field<Ratio>, what: &str| field.get().map(|r| format!("{what} {}", r.show(system)));
    let words = [
        weights.date.get().map(|d| d.to_string()),
        weights.by.text().map(str::to_owned),
        weights.scale.text().map(str::to_owned),
        share(&weights.fuel_share, "fuel"),
        share(&weights.fresh_share, "fresh water"),
        share(&weights.grey_share, "waste water"),
        weights.people.get().map(|n| if n == 0 { "nobody aboard".to_owned() } else { format!("{n} aboard") }),
    ];
    words.into_iter().flatten().collect::<Vec<_>>().join(", ")
}

fn weights(context: &Context<'_>) -> Vec<WeightRow> {
    let system = context.build.prints();
    let row = |m: &crate::compute::weight::measured::WeighedFigure| {
        let difference = m.difference();
        let sign = if difference.0 > 0.0 { "+" } else { "" };
        WeightRow {
            what: m.title(),
            computed: m.computed.show(system),
            tolerance: format!("± {}", m.tolerance.show(system)),
            measured: m.measured.show(system),
            difference: format!("{sign}{}", difference.show(system)),
        }
    };
    context.weight.measured.iter().map(row).collect()
}
