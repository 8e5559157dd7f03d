//! `compare`: what changed between two specs, or since the record of an earlier compile.

use super::after::read_record;
use super::args::MessageFormat;
use super::house::House;
use super::print::Print;
use super::spec_file::{count, load, summary};
use super::{CLEAN, STOPPED, plain};
use crate::diag::{Finding, Severity, json};
use crate::pipeline::{self, Worked};
use crate::source::SourceFile;
use std::path::Path;

/// What is printed where the builds are the same.
const NOTHING: &str = "Nothing changed: both are the same build.\n";

pub(super) fn run(print: &Print, house: &House<'_>, old: &Path, new: &Path) -> Result<u8, String> {
    let text = |e: pipeline::Fault| e.to_string();
    // All of it is one value of JSON.
    let mut told = Vec::new();
    let before = if old.extension().is_some_and(|e| e == "json") {
        read_record(old)?.0
    } else {
        let loaded = load(house, old)?;
        let worked = pipeline::work_out(&loaded).map_err(text)?;
        if worked.counts().0 > 0 {
            return Ok(stopped(print, &[(&worked.findings, &loaded.file)], &worked, old));
        }
        let before = pipeline::whole_snapshot(&worked).map_err(text)?;
        told.push((worked.findings, loaded.file.clone()));
        before
    };
    if new.extension().is_some_and(|e| e == "json") {
        let name = new.display();
        return Err(format!("{name} is no spec: the earlier of the two may be a record, the later one is a spec"));
    }
    let loaded = load(house, new)?;
    let worked = pipeline::work_out_after(&loaded, Some(&before)).map_err(text)?;
    let mut findings: Vec<(&[Finding], &SourceFile)> = told.iter().map(|(f, file)| (f.as_slice(), file)).collect();
    findings.push((&worked.findings, &loaded.file));
    if worked.counts().0 > 0 {
        return Ok(stopped(print, &findings, &worked, new));
    }
    let after = pipeline::whole_snapshot(&worked).map_err(text)?;
    let (notice, changes) = pipeline::change_notice(&worked, &before, &after).map_err(text)?;
    let changes_json = serde_json::to_string_pretty(&changes).map_err(|e| e.to_string())?;
    if print.format() == MessageFormat::Json {
        tell(print, &findings, Some(&changes_json));
        return Ok(CLEAN);
    }
    // Documents may differ in what no notice tells: it says so itself.
    let nothing = changes.is_empty() && changes.sheets.is_empty();
    print.out(&if nothing { NOTHING.to_owned() } else { plain::laid_out(&notice.markdown) });
    for (findings, file) in findings {
        let open = findings.iter().filter(|f| f.accepted.is_none()).count();
        if open > 0 {
            print.note(&format!("{}: {}; `rigbinder check` tells them", file.name, count(open, "warning")));
        }
    }
    Ok(CLEAN)
}

/// The findings in the form asked for; as JSON with the changes, which are `null` where errors stop the comparison.
fn tell(print: &Print, findings: &[(&[Finding], &SourceFile)], changes: Option<&str>) {
    if print.format() == MessageFormat::Json {
        let all = json::render_all(findings.iter().copied());
        print.out_json(&format!("{{\"findings\": {}, \"changes\": {}}}\n", all.trim_end(), changes.unwrap_or("null")));
    } else {
        // Beside an error warnings are of no use here: what stops the comparison is told.
        let errors: Vec<(Vec<Finding>, &SourceFile)> = findings
            .iter()
            .map(|(all, file)| (all.iter().filter(|f| f.severity == Severity::Error).cloned().collect(), *file))
            .collect();
        print.findings_of(errors.iter().map(|(all, file)| (all.as_slice(), *file)));
    }
}

fn stopped(print: &Print, findings: &[(&[Finding], &SourceFile)], worked: &Worked<'_>, path: &Path) -> u8 {
    tell(print, findings, None);
    print.note(&format!("{}: {}", path.display(), summary(worked, 0)));
    print.note("a build with errors cannot be compared");
    STOPPED
}
