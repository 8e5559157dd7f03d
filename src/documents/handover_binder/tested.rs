//! What was tested, in short: the record itself stands in the service file.

use crate::documents::test_record::{self, Counts, StageView, WeightRow};
use serde::Serialize;

/// The test record on a page.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Tested {
    /// Counts.
    pub counts: Counts,
    /// Systems, in the order of the documents.
    pub systems: Vec<SystemRow>,
    /// Stages.
    pub stages: Vec<StageRow>,
    /// What is out of tolerance, or to be read again.
    pub open: Vec<OpenRow>,
    /// State the van was weighed in, in words; "" where it was not weighed.
    pub weighed: String,
    /// The weighbridge against the figures.
    pub weights: Vec<WeightRow>,
}

/// Readings of a system.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct SystemRow {
    /// Title.
    pub title: &'static str,
    /// Readings there are.
    pub all: usize,
    /// Within their tolerance.
    pub good: usize,
    /// Judged by a person.
    pub noted: usize,
}

/// Who tested and signed a stage.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct StageRow {
    /// Title.
    pub title: String,
    /// Who read, when, with what.
    pub taken: String,
    /// Who signed, and when.
    pub signed: String,
}

/// A reading that does not stand.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct OpenRow {
    /// What it is of.
    pub component: String,
    /// What is read, Markdown.
    pub what: String,
    /// What was expected, Markdown.
    pub expect: String,
    /// What was read.
    pub recorded: String,
}

impl Tested {
    pub(super) fn of(record: test_record::View) -> Self {
        let mut systems: Vec<SystemRow> = Vec::new();
        let mut open = Vec::new();
        let put = |systems: &mut Vec<SystemRow>, title: &'static str, verdict: &str| {
            let at = systems.iter().position(|s| s.title == title).unwrap_or_else(|| {
                systems.push(SystemRow { title, all: 0, good: 0, noted: 0 });
                systems.len() - 1
            });
            systems[at].all += 1;
            systems[at].good += usize::from(verdict == "good");
            systems[at].noted += usize::from(verdict == "noted");
        };
        for stage in &record.stages {
            for system in &stage.systems {
                let mut component = "";
                for row in &system.rows {
                    if !row.component.is_empty() {
                        component = &row.component;
                    }
                    put(&mut systems, system.title, row.verdict);
                    if is_open(row.verdict) {
                        let (what, expect, recorded) = (row.what.clone(), row.expect.clone(), row.recorded.clone());
                        open.push(OpenRow { component: component.to_owned(), what, expect, recorded });
                    }
                }
            }
            for circuit in &stage.circuits {
                put(&mut systems, "Circuits", circuit.verdict);
                if is_open(circuit.verdict) {
                    let component = format!("{} ({})", circuit.to, circuit.label);
                    open.push(OpenRow {
                        component,
                        what: String::new(),
                        expect: String::new(),
                        recorded: String::new(),
                    });
                }
            }
        }
        let stages = record.stages.iter().map(StageRow::of).collect();
        let test_record::View { counts, weighed, weights, .. } = record;
        Self { counts, systems, stages, open, weighed, weights }
    }
}

impl StageRow {
    fn of(stage: &StageView) -> Self {
        let signed = if stage.outdated { String::new() } else { stage.signed.clone() };
        Self { title: stage.title.clone(), taken: stage.taken.clone(), signed }
    }
}

/// Whether a verdict leaves something to do.
fn is_open(verdict: &str) -> bool {
    matches!(verdict, "OUT" | "repeat")
}
