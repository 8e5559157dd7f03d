//! `check`: read, work out, print findings.

use super::compile::folder_name;
use super::print::Print;
use super::release::After;
use super::{CLEAN, Purpose, STOPPED, gate, read};
use crate::catalogue::Catalogue;
use crate::pipeline::{self, Loaded, Worked};
use std::path::Path;

pub(super) fn run(
    print: &Print,
    catalogue: &Catalogue,
    spec: &Path,
    purpose: Option<Purpose>,
    out: &Path,
) -> Result<u8, String> {
    let loaded = load(catalogue, spec)?;
    let after = After::last(out, &folder_name(spec))?;
    let earlier = after.as_ref().map(|after| &after.earlier.build);
    let worked = pipeline::work_out_after(&loaded, earlier).map_err(|e| e.to_string())?;
    if let Some(after) = after {
        print.note(&after.told);
    }
    if purpose == Some(Purpose::Handover) {
        return Ok(gate::run(print, &worked, &loaded.file));
    }
    print.findings(&worked.findings, &loaded.file);
    print.note(&summary(&worked, 0));
    Ok(if worked.counts().0 > 0 { STOPPED } else { CLEAN })
}

/// Reads a spec file.
pub(super) fn load(catalogue: &Catalogue, spec: &Path) -> Result<Loaded, String> {
    pipeline::load(catalogue, &spec.display().to_string(), &read::spec(spec)?).map_err(|e| e.to_string())
}

/// One line on what there is and what was found, with so many `more` warnings.
pub(super) fn summary(worked: &Worked<'_>, more: usize) -> String {
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
        plural(warnings + more, "warning"),
        if accepted > 0 { format!(", {accepted} accepted") } else { String::new() },
    )
}
