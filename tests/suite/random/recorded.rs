//! What a finished van brings into its spec: signatures, readings, serial numbers, and warnings that are accepted.

use super::draft::{Draft, Table};
use super::plan::BuildPlan;
use super::text;
use super::wiring::pick;
use indexmap::IndexMap;
use rigbinder::compute::readings::CIRCUIT_TESTS;
use rigbinder::diag::Severity;
use rigbinder::kinds::Stage;
use rigbinder::pipeline;
use std::collections::BTreeSet;
use toml::Value;

/// Adds what `plan` says of it, by what the build as it stands expects and warns of.
pub(super) fn add(draft: &mut Draft, plan: &BuildPlan) {
    let loaded = draft.load();
    let worked = pipeline::work_out(&loaded).expect("profile");
    let mut sections: IndexMap<&str, IndexMap<String, Value>> = IndexMap::new();
    let mut note = |section: &'static str, key: String, value: Value| {
        sections.entry(section).or_default().insert(key, value);
    };
    let inline = |fields: &[(&str, &str)]| {
        let fields = fields.iter().map(|(name, value)| ((*name).to_owned(), Value::from(*value)));
        Value::Table(fields.collect())
    };
    for (which, how) in &plan.recorded {
        let tests = &worked.readings.tests;
        let ids: Vec<&String> = worked.build.parts.keys().collect();
        let line = text::line(u16::from(*how));
        match how % 5 {
            0 | 1 => {
                let Some(test) = pick(which, tests) else { continue };
                let good = if test.expect.is_empty() { "good".to_owned() } else { test.expect.clone() };
                note("recorded.readings", test.id.clone(), Value::from(good));
                note("recorded.taken", test.part.clone(), inline(&[("by", &line)]));
            }
            2 => {
                let Some(test) = pick(which, &worked.readings.circuits).filter(|t| !t.circuit.contains('.')) else {
                    continue;
                };
                let field = CIRCUIT_TESTS[usize::from(*how) % 5];
                let reading = ["20 mohm", "> 200 Mohm", "12 mV", "0.2 V", "3 A"][usize::from(*how) % 5];
                note("recorded.circuits", test.circuit.clone(), inline(&[(field, reading)]));
            }
            3 => {
                let Some(id) = pick(which, &ids) else { continue };
                note("recorded.serials", (*id).clone(), Value::from(format!("SN-{how} {line}")));
            }
            _ => {
                let Some(id) = pick(which, &ids) else { continue };
                let photos = Value::Table([("files".to_owned(), Value::from(vec![line]))].into_iter().collect());
                note("recorded.photos", (*id).clone(), photos);
            }
        }
    }
    for stage in Stage::ALL.iter().take(usize::from(plan.signed)) {
        note("recorded.signed", stage.id().to_owned(), inline(&[("by", "O. Ü. \"Tester\"")]));
    }
    let warnings: Vec<_> = worked.findings.iter().filter(|f| f.severity == Severity::Warning).collect();
    let mut names = BTreeSet::new();
    let picked = plan.accepted.iter().filter_map(|i| pick(i, &warnings)).filter(|f| names.insert(f.name));
    for (n, finding) in picked.enumerate() {
        let reason = text::line(u16::try_from(n * 5 + finding.headline.len()).unwrap_or(0));
        let mut fields = IndexMap::from([("finding".to_owned(), Value::from(finding.name))]);
        if let (Some(subject), true) = (&finding.subject, n % 2 == 0) {
            fields.insert("about".to_owned(), Value::from(subject.clone()));
        }
        fields.insert("reason".to_owned(), Value::from(format!("It is so: {reason}")));
        fields.insert("by".to_owned(), Value::from("E. Ö."));
        let needed = fields.keys().cloned().collect();
        draft.tables.push(Table { section: "accepted".into(), id: None, fields, needed });
    }
    for (section, fields) in sections {
        draft.tables.push(Table { section: section.to_owned(), id: None, fields, needed: Vec::new() });
    }
}
