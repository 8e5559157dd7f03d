//! Every finding has a broken spec that fires it, a quiet twin that does not, and a boundary where there is one.

use crate::harness::{files, load, root, stem};
use rigbinder::diag::{Finding, Severity};
use rigbinder::pipeline;
use std::path::Path;

fn findings_of(path: &Path) -> Vec<Finding> {
    let loaded = load(path);
    pipeline::work_out(&loaded).expect("profile").findings
}

fn report(path: &Path, findings: &[Finding]) -> String {
    let list: Vec<_> = findings.iter().map(|f| format!("  {} {}", f.name, f.headline)).collect();
    format!("{}:\n{}", path.display(), list.join("\n"))
}

#[test]
fn every_broken_spec_fires_its_finding_and_no_other_error() {
    let mut faults = Vec::new();
    for path in files("specs/broken", "toml") {
        let name = stem(&path);
        let found = findings_of(&path);
        // An error that is accepted must be there to be accepted.
        let others = name != "accepted-error" && found.iter().any(|f| f.severity == Severity::Error && f.name != name);
        if others || !found.iter().any(|f| f.name == name) {
            faults.push(report(&path, &found));
        }
    }
    assert!(faults.is_empty(), "{} broken specs are off:\n{}", faults.len(), faults.join("\n"));
}

#[test]
fn quiet_twins_and_boundaries_stay_quiet() {
    let mut faults = Vec::new();
    for path in files("tests/quiet", "toml").into_iter().chain(files("tests/boundary", "toml")) {
        let name = stem(&path);
        let found = findings_of(&path);
        if found.iter().any(|f| f.name == name || f.severity == Severity::Error) {
            faults.push(report(&path, &found));
        }
    }
    assert!(faults.is_empty(), "{} specs are not quiet:\n{}", faults.len(), faults.join("\n"));
}

/// Findings on the bytes of a file, or on two specs, not on a text that could be kept as a spec.
const NOT_A_TEXT: &[&str] = &[
    "not-utf8",
    "file-too-large",
    "nesting-too-deep",
    "empty-spec",
    "too-many-components",
    "too-many-entries",
    "revision-not-raised",
    "recorded-before-change",
];

#[test]
fn every_finding_has_its_broken_spec_and_quiet_twin() {
    for doc in pipeline::finding_docs() {
        // Those on a shop's folder have their cases in `shop.rs`.
        let of_a_shop = rigbinder::spec::SHOP_FINDINGS.iter().any(|other| other.name == doc.name);
        if NOT_A_TEXT.contains(&doc.name) || of_a_shop {
            continue;
        }
        for folder in ["specs/broken", "tests/quiet"] {
            let path = root().join(folder).join(format!("{}.toml", doc.name));
            assert!(path.is_file(), "{} has no {}", doc.name, path.display());
        }
    }
}

#[test]
fn no_case_is_left_without_a_finding() {
    let docs = pipeline::finding_docs();
    for folder in ["specs/broken", "tests/quiet", "tests/boundary"] {
        for path in files(folder, "toml") {
            assert!(docs.iter().any(|d| d.name == stem(&path)), "{} is about no finding", path.display());
        }
    }
}

/// A finding points at a line, names what it rests on, and says what to do.
#[test]
fn findings_of_checks_point_and_help() {
    for path in files("specs/broken", "toml") {
        for finding in findings_of(&path) {
            assert!(!finding.help.is_empty(), "{}: {} helps nobody", path.display(), finding.name);
            let text = &load(&path).file.text;
            if let Some(span) = finding.span {
                assert!(
                    span.end <= text.len() && text.is_char_boundary(span.start),
                    "{}: {}",
                    path.display(),
                    finding.name
                );
            }
        }
    }
}

/// A spec cut off anywhere is answered with findings, never with a panic.
#[test]
fn checks_run_on_partial_specs() {
    let text = std::fs::read_to_string(root().join("specs/heron.toml")).expect("demo");
    let cuts = (0..text.len()).step_by(text.len() / 60).filter(|c| text.is_char_boundary(*c));
    for cut in cuts {
        let found = crate::harness::findings(&text[..cut]);
        assert!(found.iter().all(|f| !f.headline.is_empty()));
    }
}
