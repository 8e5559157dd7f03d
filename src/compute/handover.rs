//! The gate: what handover needs, and which of it is not there yet. Until nothing is missing every sheet says DRAFT.

use super::readings::{self, CIRCUIT_TESTS, CircuitTest, Readings, is_skipped, joined};
use super::weight::Weight;
use crate::build::{Build, Part, Task};
use crate::diag::{Finding, Severity};
use crate::fields::is_placeholder;
use crate::kinds::Stage;
use crate::spec::{Signature, is_about_the_words};
use serde::Serialize;

/// Groups of what handover needs, in the order of the list.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Group {
    /// Findings that stop.
    Errors,
    /// Warnings neither fixed nor accepted.
    Warnings,
    /// The build itself: its handover date.
    Build,
    /// Numbers to call.
    Contacts,
    /// Stages not signed.
    Stages,
    /// Hold points not signed.
    Holds,
    /// Readings not taken.
    Readings,
    /// Tests of circuits not done.
    Circuits,
    /// Serial numbers not recorded.
    Serials,
    /// The van not weighed.
    Weights,
}

impl Group {
    /// For people.
    #[must_use]
    pub const fn title(self) -> &'static str {
        match self {
            Self::Errors => "Errors to fix",
            Self::Warnings => "Warnings to fix or to accept",
            Self::Build => "The build",
            Self::Contacts => "Numbers to call",
            Self::Stages => "Stages to sign",
            Self::Holds => "Hold points to sign",
            Self::Readings => "Readings to take",
            Self::Circuits => "Circuits to test",
            Self::Serials => "Serial numbers to record",
            Self::Weights => "Weights to measure",
        }
    }

    /// Where in the spec it is written.
    #[must_use]
    pub const fn section(self) -> &'static str {
        match self {
            Self::Errors | Self::Contacts => "",
            Self::Warnings => "[[accepted]]",
            Self::Build => "[build]",
            Self::Stages | Self::Holds => "[recorded.signed]",
            Self::Readings => "[recorded.readings]",
            Self::Circuits => "[recorded.circuits]",
            Self::Serials => "[recorded.serials]",
            Self::Weights => "[recorded.weights]",
        }
    }
}

/// One thing that is missing.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Missing {
    /// What kind of thing.
    pub group: Group,
    /// Stage it belongs to, where it has one.
    pub stage: Option<Stage>,
    /// Id: of a stage, hold point, reading, circuit, component, field or finding.
    pub id: String,
    /// What it is, in plain text.
    pub what: String,
    /// Expected value and tolerance of a reading, plain text; "" where there is none.
    pub expect: String,
    /// The line to write in its section; "" where something is to be fixed.
    pub write: String,
}

/// What is missing for the handover, in groups.
#[must_use]
pub fn missing(build: &Build<'_>, readings: &Readings, weight: &Weight, findings: &[Finding]) -> Vec<Missing> {
    let mut all = Vec::new();
    all.extend(findings.iter().filter(|f| f.accepted.is_none() && !is_about_the_words(f.name)).map(of_finding));
    all.sort_by_key(|m: &Missing| m.group);
    if build.about.handover.get().is_none() {
        all.push(Missing {
            group: Group::Build,
            stage: None,
            id: "handover".to_owned(),
            what: "Day of the handover".to_owned(),
            expect: String::new(),
            write: "handover = …".to_owned(),
        });
    }
    contacts(build, &mut all);
    signatures(build, &mut all);
    taken(build, readings, &mut all);
    circuits(build, readings, &mut all);
    let known = |id: &str| build.spec.recorded.serials.get(id).is_some_and(|s| !is_placeholder(&s.value));
    let unknown = |p: &&Part<'_>| p.carries_serial() && !known(&p.id);
    all.extend(build.parts.values().filter(unknown).map(|p| Missing {
        group: Group::Serials,
        stage: None,
        id: p.id.clone(),
        what: p.name.clone(),
        expect: String::new(),
        write: format!("{} = \"…\"", p.id),
    }));
    // Nobody weighs a build that says nothing of its vehicle's weights.
    let weighed = &build.spec.recorded.weights;
    let axles = [("front_axle", "Load on the front axle"), ("rear_axle", "Load on the rear axle")];
    let open = axles.iter().filter(|(field, _)| weight.base.is_some() && !weighed.gave(field));
    all.extend(open.map(|(field, what)| Missing {
        group: Group::Weights,
        stage: None,
        id: (*field).to_owned(),
        what: (*what).to_owned(),
        expect: String::new(),
        write: format!("{field} = \"… kg\""),
    }));
    all
}

fn of_finding(finding: &Finding) -> Missing {
    let subject = finding.subject.as_deref().unwrap_or("");
    let about = if subject.is_empty() { String::new() } else { format!(", about = \"{subject}\"") };
    let error = finding.severity == Severity::Error;
    Missing {
        group: if error { Group::Errors } else { Group::Warnings },
        stage: None,
        id: finding.name.to_owned(),
        what: finding.headline.clone(),
        expect: String::new(),
        write: if error {
            String::new()
        } else {
            format!("finding = \"{}\"{about}, reason = \"…\", by = \"…\"", finding.name)
        },
    }
}

/// Whether the build has work in a stage.
#[must_use]
pub fn has_work(build: &Build<'_>, stage: Stage) -> bool {
    let wires = matches!(stage, Stage::ElectricalRoughIn | Stage::ElectricalFitOff | Stage::Commissioning);
    // A van is handed over whatever else is done to it.
    let always = stage == Stage::Handover;
    !is_skipped(build, stage)
        && (always || build.tasks.values().any(|t| t.stage == stage) || wires && build.has_wiring_work())
}

/// Whether the work stops at a task until someone signs.
#[must_use]
pub fn is_hold(build: &Build<'_>, task: &Task<'_>) -> bool {
    let own = || build.own_tasks.get(&task.id).and_then(|r| r.hold.text()).is_some_and(|h| !h.trim().is_empty());
    task.template.is_some_and(|t| t.hold.is_some()) || task.template.is_none() && own()
}

/// Numbers that reach nobody: a starter's "+00 000 000000", or words that hold a place.
fn contacts(build: &Build<'_>, all: &mut Vec<Missing>) {
    let is_blank = |phone: &str| is_placeholder(phone) || !phone.chars().any(|c| c.is_ascii_digit() && c != '0');
    for (id, contact) in &build.spec.contacts {
        let Some(phone) = contact.text("phone").filter(|phone| !phone.is_empty() && is_blank(phone)) else { continue };
        all.push(Missing {
            group: Group::Contacts,
            stage: None,
            id: id.clone(),
            what: format!("{}: {phone} reaches nobody", contact.text("role").unwrap_or(id)),
            expect: String::new(),
            write: String::new(),
        });
    }
}

fn signatures(build: &Build<'_>, all: &mut Vec<Missing>) {
    let is_signature = |s: &Signature| s.date.is_some() && !is_placeholder(&s.by);
    let dated = |id: &str| build.spec.recorded.signed.get(id).is_some_and(|s| is_signature(&s.value));
    // The hold points of a component with the name of a stage would make a table of the stage's signature.
    let write = |id: &str| {
        let (first, rest) = id.split_once('.').unwrap_or((id, ""));
        let quote = if !rest.is_empty() && Stage::from_id(first).is_some() { "\"" } else { "" };
        format!("{quote}{id}{quote} = {{ by = \"…\", date = … }}")
    };
    for stage in Stage::ALL.iter().copied().filter(|s| has_work(build, *s) && !dated(s.id())) {
        let title = build.stages.get(stage.id()).and_then(|r| r.title.text()).unwrap_or(stage.title());
        all.push(Missing {
            group: Group::Stages,
            stage: Some(stage),
            id: stage.id().to_owned(),
            what: title.to_owned(),
            expect: String::new(),
            write: write(stage.id()),
        });
    }
    for stage in Stage::ALL.iter().copied().filter(|s| !is_skipped(build, *s)) {
        let of_stage = build.tasks.values().filter(|t| t.stage == stage && is_hold(build, t) && !dated(&t.id));
        all.extend(of_stage.map(|t| Missing {
            group: Group::Holds,
            stage: Some(stage),
            id: t.id.clone(),
            what: t.part.as_ref().map_or_else(|| t.id.replace('-', " "), |p| build.name(p).to_owned()),
            expect: String::new(),
            write: write(&t.id),
        }));
    }
}

fn taken(build: &Build<'_>, readings: &Readings, all: &mut Vec<Missing>) {
    for stage in Stage::ALL.iter().copied() {
        let open = readings.tests.iter().filter(|t| t.stage == stage && !readings.results.contains_key(&t.id));
        all.extend(open.map(|t| Missing {
            group: Group::Readings,
            stage: Some(stage),
            id: t.id.clone(),
            what: format!("{}: {}", build.name(&t.part), t.what),
            expect: t.expected(build.prints()),
            write: format!("{} = \"…\"", t.id),
        }));
    }
}

fn circuits(build: &Build<'_>, readings: &Readings, all: &mut Vec<Missing>) {
    for test in &readings.circuits {
        let done = |field: &str| readings.circuit_results.contains_key(&format!("{}.{field}", test.circuit));
        let open: Vec<&str> = CIRCUIT_TESTS.iter().copied().filter(|f| test.asks(f) && !done(f)).collect();
        if open.is_empty() {
            continue;
        }
        let label = if test.circuit.contains('.') { format!("\"{}\"", test.circuit) } else { test.circuit.clone() };
        let fields: Vec<String> = open.iter().map(|f| format!("{f} = \"…\"")).collect();
        let to = build.circuits.get(&test.circuit).map_or("", |c| build.name(&c.to));
        all.push(Missing {
            group: Group::Circuits,
            stage: open.first().map(|first| readings::stage_of(build, first)),
            id: test.circuit.clone(),
            what: format!("Cable to {to}"),
            expect: open.iter().map(|f| expected(build, test, f)).collect::<Vec<_>>().join(", "),
            write: format!("{label} = {{ {} }}", fields.join(", ")),
        });
    }
}

/// "amps 4.2 A ± 20 %".
fn expected(build: &Build<'_>, test: &CircuitTest, field: &str) -> String {
    let (expect, tolerance) = test.expected(build, field, None);
    format!("{field} {}", joined(&expect, &tolerance))
}
