//! `compare`: what changed between two specs, or since the record of an earlier compile.

use super::args::MessageFormat;
use super::check::{load, summary};
use super::print::Print;
use super::{CLEAN, STOPPED};
use crate::documents::snapshot::Snapshot;
use crate::pipeline::{self, Worked};
use crate::publish::digest;
use std::path::Path;

pub(super) fn run(print: &Print, old: &Path, new: &Path, format: MessageFormat) -> Result<u8, String> {
    let text = |e: pipeline::Fault| e.to_string();
    let before = if old.extension().is_some_and(|e| e == "json") {
        read_record(old)?.0
    } else {
        let loaded = load(old)?;
        let worked = pipeline::work_out(&loaded).map_err(text)?;
        print.findings(&worked.findings, &loaded.file);
        if stops(print, &worked, old) {
            return Ok(STOPPED);
        }
        pipeline::whole_snapshot(&worked).map_err(text)?
    };
    let loaded = load(new)?;
    let kept = pipeline::kept_ways(&before, &loaded);
    let worked = pipeline::work_out_after(&loaded, &kept).map_err(text)?;
    print.findings(&worked.findings, &loaded.file);
    if stops(print, &worked, new) {
        return Ok(STOPPED);
    }
    let after = pipeline::whole_snapshot(&worked).map_err(text)?;
    let (notice, changes) = pipeline::change_notice(&worked, &before, &after).map_err(text)?;
    if format == MessageFormat::Json {
        print.out(&format!("{}\n", serde_json::to_string_pretty(&changes).map_err(|e| e.to_string())?));
    } else {
        print.out(&notice.markdown);
    }
    Ok(CLEAN)
}

fn stops(print: &Print, worked: &Worked<'_>, path: &Path) -> bool {
    let stops = worked.counts().0 > 0;
    if stops {
        print.note(&format!("{}: {}", path.display(), summary(worked)));
        print.note("a build with errors cannot be compared");
    }
    stops
}

/// The snapshot in the record of an earlier compile, its revision, and the digest of the record.
pub(super) fn read_record(path: &Path) -> Result<(Snapshot, String, String), String> {
    let name = path.display();
    let bytes = std::fs::read(path).map_err(|e| format!("cannot read {name}: {e}"))?;
    let record: serde_json::Value =
        serde_json::from_slice(&bytes).map_err(|e| format!("{name} is no record of a compile: {e}"))?;
    let build = record.get("build").cloned().ok_or_else(|| format!("{name} is no record of a compile: no `build`"))?;
    let snapshot = serde_json::from_value(build).map_err(|e| format!("{name} is no record of a compile: {e}"))?;
    let revision = record.get("revision").and_then(serde_json::Value::as_str).unwrap_or_default().to_owned();
    Ok((snapshot, revision, digest(&bytes)))
}
