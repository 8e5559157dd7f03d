//! `check`: read, work out, print findings.

use super::after::After;
use super::print::Print;
use super::spec_file::{folder_name, load, summary};
use super::{CLEAN, Purpose, STOPPED, gate};
use crate::catalogue::Catalogue;
use crate::pipeline;
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
