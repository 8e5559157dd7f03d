//! The gate: what handover needs, and which of it is not there yet. Until nothing is missing every sheet says DRAFT.

use super::heat::fuel_word;
use super::readings::{self, CIRCUIT_TESTS, CircuitTest, DEAD_TESTS, Readings, is_skipped, joined};
use super::weight::Weight;
use crate::build::{Build, Hold, Part, Proved};
use crate::diag::{Finding, Severity};
use crate::fields::is_placeholder;
use crate::kinds::{HandoverSet, Stage, System};
use crate::spec::{Signature, is_about_the_words};
use serde::Serialize;
use std::collections::BTreeMap;

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
    /// Defects of existing work that the customer has not signed for.
    AsFound,
    /// Stages not signed.
    Stages,
    /// Hold points not signed.
    Holds,
    /// Readings not taken.
    Readings,
    /// Tests of circuits not done.
    Circuits,
    /// Papers of those who tested.
    Certificates,
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
            Self::AsFound => "Defects as found, to be signed by the customer",
            Self::Build => "The build",
            Self::Contacts => "Numbers to call",
            Self::Stages => "Stages to sign",
            Self::Holds => "Hold points to sign",
            Self::Readings => "Readings to take",
            Self::Circuits => "Circuits to test",
            Self::Certificates => "Certificates to record",
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
            Self::AsFound | Self::Stages | Self::Holds => "[recorded.signed]",
            Self::Readings => "[recorded.readings]",
            Self::Circuits => "[recorded.circuits]",
            Self::Certificates => "[[certificate]]",
            Self::Serials => "[recorded.serials]",
            Self::Weights => "[recorded.weights]",
        }
    }
}

/// Name in `[recorded.signed]` under which the customer signs for the defects of existing work.
pub const AS_FOUND: &str = "as-found";

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
    /// The hold point in this list that it proves: done together, it counts with that; "" where it stands by itself.
    pub of: String,
}

/// How many things are missing; what proves a hold point counts with it.
#[must_use]
pub fn count(missing: &[Missing]) -> usize {
    missing.iter().filter(|m| m.of.is_empty()).count()
}

/// What is missing for the handover, in groups.
#[must_use]
pub fn missing(build: &Build<'_>, readings: &Readings, weight: &Weight, findings: &[Finding]) -> Vec<Missing> {
    let mut all = Vec::new();
    let open = |f: &&Finding| f.accepted.is_none() && f.severity != Severity::AsFound && !is_about_the_words(f.name);
    all.extend(findings.iter().filter(open).map(of_finding));
    all.sort_by_key(|m: &Missing| m.group);
    if build.about.handover.get().is_none() {
        all.push(Missing {
            group: Group::Build,
            stage: None,
            id: "handover".to_owned(),
            what: "Day of the handover".to_owned(),
            expect: String::new(),
            write: "handover = …".to_owned(),
            of: String::new(),
        });
    }
    contacts(build, &mut all);
    let defects = findings.iter().filter(|f| f.severity == Severity::AsFound).count();
    let told = build.spec.recorded.signed.get(AS_FOUND).is_some_and(|s| is_signature(&s.value));
    if defects > 0 && !told {
        all.push(Missing {
            group: Group::AsFound,
            stage: Some(Stage::Intake),
            id: AS_FOUND.to_owned(),
            what: match defects {
                1 => "The customer knows of 1 defect of existing work".to_owned(),
                n => format!("The customer knows of {n} defects of existing work"),
            },
            expect: String::new(),
            write: format!("{AS_FOUND} = {{ by = \"…\", date = … }}"),
            of: String::new(),
        });
    }
    let open = signatures(build, &mut all);
    let with = With::of(&open, readings);
    taken(build, readings, &with, &mut all);
    circuits(build, readings, &with, &mut all);
    all.extend(gas_paper(build));
    let known = |id: &str| build.spec.recorded.serials.get(id).is_some_and(|s| !is_placeholder(&s.value));
    let set = build.handover_set();
    let unknown = |p: &&Part<'_>| p.carries_serial() && p.serial_set() <= set && !known(&p.id);
    all.extend(build.parts.values().filter(unknown).map(|p| Missing {
        group: Group::Serials,
        stage: None,
        id: p.id.clone(),
        what: p.name.clone(),
        expect: String::new(),
        write: format!("{} = \"…\"", p.id),
        of: String::new(),
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
        of: String::new(),
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
        of: String::new(),
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
            of: String::new(),
        });
    }
}

/// The paper of who tested the gas, where Europe's rules are in force and this job works on it (EN 1949; common practice,
/// no source read).
fn gas_paper(build: &Build<'_>) -> Option<Missing> {
    let is_gas = |p: &&Part<'_>| p.kind.system == System::Lpg || fuel_word(p) == Some("lpg");
    let part = build.parts.values().filter(|p| p.is_worked_on()).find(is_gas)?;
    let there = build.site.certificates.iter().any(|c| c.of.is("gas") && c.date.get().is_some());
    (build.about.rules.is("eu") && !there).then(|| Missing {
        group: Group::Certificates,
        stage: None,
        id: "gas".to_owned(),
        what: format!("The certificate of the gas test: {} is worked on", part.name),
        expect: String::new(),
        write: String::new(),
        of: String::new(),
    })
}

/// Whether a record is one: a name and a day.
fn is_signature(signature: &Signature) -> bool {
    signature.date.is_some() && !is_placeholder(&signature.by)
}

/// The hold points that are not signed, with the ids of their tasks.
fn signatures<'b>(build: &'b Build<'_>, all: &mut Vec<Missing>) -> Vec<(&'b str, &'b Hold)> {
    let set = build.handover_set();
    let dated = |id: &str| build.spec.recorded.signed.get(id).is_some_and(|s| is_signature(&s.value));
    // The hold points of a component with the name of a stage would make a table of the stage's signature.
    let write = |id: &str| {
        let (first, rest) = id.split_once('.').unwrap_or((id, ""));
        let quote = if !rest.is_empty() && Stage::from_id(first).is_some() { "\"" } else { "" };
        format!("{quote}{id}{quote} = {{ by = \"…\", date = … }}")
    };
    // Who hands over answers for all stages; each by itself is the shop's own record.
    let asked = |stage: Stage| set == HandoverSet::Full || stage == Stage::Handover;
    for stage in Stage::ALL.iter().copied().filter(|s| asked(*s) && has_work(build, *s) && !dated(s.id())) {
        let title = build.stages.get(stage.id()).and_then(|r| r.title.text()).unwrap_or(stage.title());
        all.push(Missing {
            group: Group::Stages,
            stage: Some(stage),
            id: stage.id().to_owned(),
            what: title.to_owned(),
            expect: String::new(),
            write: write(stage.id()),
            of: String::new(),
        });
    }
    let mut open = Vec::new();
    for stage in Stage::ALL.iter().copied().filter(|s| !is_skipped(build, *s)) {
        for task in build.tasks.values().filter(|t| t.stage == stage && !dated(&t.id)) {
            let in_set = |h: &&Hold| h.essential || set == HandoverSet::Full;
            let Some(hold) = build.holds.get(&task.id).filter(in_set) else { continue };
            open.push((task.id.as_str(), hold));
            all.push(Missing {
                group: Group::Holds,
                stage: Some(stage),
                id: task.id.clone(),
                what: task.part.as_ref().map_or_else(|| task.id.replace('-', " "), |p| build.name(p).to_owned()),
                expect: String::new(),
                write: write(&task.id),
                of: String::new(),
            });
        }
    }
    open
}

/// What is read and tested for hold points that are open: it is done with them.
struct With<'b> {
    readings: BTreeMap<&'b str, &'b str>,
    dead_tests: Option<&'b str>,
}

impl<'b> With<'b> {
    fn of(open: &[(&'b str, &'b Hold)], readings: &'b Readings) -> Self {
        let proofs = readings.proofs();
        let mut with = Self { readings: BTreeMap::new(), dead_tests: None };
        for (id, hold) in open {
            for reading in proofs.readings(hold) {
                with.readings.entry(reading).or_insert(id);
            }
            if hold.proof.iter().any(|p| matches!(p, Proved::DeadTests)) {
                with.dead_tests.get_or_insert(id);
            }
        }
        with
    }
}

fn taken(build: &Build<'_>, readings: &Readings, with: &With<'_>, all: &mut Vec<Missing>) {
    let full = build.handover_set() == HandoverSet::Full;
    for stage in Stage::ALL.iter().copied() {
        let of_stage = readings.tests.iter().filter(|t| t.stage == stage && (full || t.essential));
        let open = of_stage.filter(|t| !readings.results.contains_key(&t.id));
        all.extend(open.map(|t| Missing {
            group: Group::Readings,
            stage: Some(stage),
            id: t.id.clone(),
            what: format!("{}: {}", build.name(&t.part), t.what),
            expect: t.expected(build.prints()),
            write: format!("{} = \"…\"", t.id),
            of: with.readings.get(t.id.as_str()).copied().unwrap_or_default().to_owned(),
        }));
    }
}

fn circuits(build: &Build<'_>, readings: &Readings, with: &With<'_>, all: &mut Vec<Missing>) {
    let set = build.handover_set();
    for test in &readings.circuits {
        let done = |field: &str| readings.circuit_results.contains_key(&format!("{}.{field}", test.circuit));
        let open: Vec<&str> = CIRCUIT_TESTS.iter().copied().filter(|f| test.asks_in(f, set) && !done(f)).collect();
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
            what: match set {
                HandoverSet::Full => format!("Cable to {to}"),
                HandoverSet::Essential => format!("Cable to {to}, with all that is connected behind it"),
            },
            expect: open.iter().map(|f| expected(build, test, f)).collect::<Vec<_>>().join(", "),
            write: format!("{label} = {{ {} }}", fields.join(", ")),
            of: with.dead_tests.filter(|_| open.iter().all(|f| DEAD_TESTS.contains(f))).unwrap_or_default().to_owned(),
        });
    }
}

/// "amps 4.2 A ± 20 %".
fn expected(build: &Build<'_>, test: &CircuitTest, field: &str) -> String {
    let (expect, tolerance) = test.expected(build, field, None);
    format!("{field} {}", joined(&expect, &tolerance))
}
