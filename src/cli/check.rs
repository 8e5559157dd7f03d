//! `check`: read, work out, print findings.

use super::print::Print;
use super::{CLEAN, Purpose, STOPPED, gate, read};
use crate::pipeline::{self, Loaded, Worked};
use std::path::Path;

pub(super) fn run(print: &Print, spec: &Path, purpose: Option<Purpose>) -> Result<u8, String> {
    let loaded = load(spec)?;
    let worked = pipeline::work_out(&loaded).map_err(|e| e.to_string())?;
    if purpose == Some(Purpose::Handover) {
        return Ok(gate::run(print, &worked, &loaded.file));
    }
    print.findings(&worked.findings, &loaded.file);
    print.note(&summary(&worked));
    Ok(if worked.counts().0 > 0 { STOPPED } else { CLEAN })
}

/// Reads a spec file.
pub(super) fn load(spec: &Path) -> Result<Loaded, String> {
    pipeline::load(&spec.display().to_string(), &read::spec(spec)?).map_err(|e| e.to_string())
}

/// One line on what there is and what was found.
pub(super) fn summary(worked: &Worked<'_>) -> String {
    let (errors, warnings, accepted) = worked.counts();
    let plural = |n: usize, one: &str| if n == 1 { format!("1 {one}") } else { format!("{n} {one}s") };
    let errors_only = plural(errors, "error");
    if worked.unchecked() {
        let lines = plural(worked.build.spec.unread, "line");
        return format!("{errors_only}; {lines} cannot be read, and the build is checked once every line can");
    }
    format!(
        "{}, {}, {}, {}: {errors_only}, {}{}",
        plural(worked.build.parts.len(), "component"),
        plural(worked.build.circuits.len(), "circuit"),
        plural(worked.build.tasks.len(), "task"),
        plural(worked.ledger.len(), "figure"),
        plural(warnings, "warning"),
        if accepted > 0 { format!(", {accepted} accepted") } else { String::new() },
    )
}
