//! `check`: read, work out, print findings.

use super::after::After;
use super::house::House;
use super::print::Print;
use super::spec_file::{count, folder_name, load, summary};
use super::{CLEAN, Purpose, STOPPED, gate};
use crate::diag::Severity;
use crate::pipeline;
use std::path::Path;

pub(super) fn run(
    print: &Print,
    house: &House<'_>,
    spec: Option<&Path>,
    purpose: Option<Purpose>,
    out: &Path,
) -> Result<u8, String> {
    let Some(spec) = spec else { return shop(print, house) };
    let loaded = load(house, spec)?;
    let after = After::last(out, &folder_name(spec))?;
    let earlier = after.as_ref().map(|after| &after.earlier.build);
    let mut worked = pipeline::work_out_after(&loaded, earlier).map_err(|e| e.to_string())?;
    if let Some(after) = &after {
        print.note(&after.told);
        for changed in pipeline::stock_changes(&after.earlier.build, &worked) {
            print.note(&changed);
        }
    }
    if purpose == Some(Purpose::Handover) {
        return Ok(gate::run(print, &worked, &loaded.file));
    }
    // A build with errors has no documents that could differ from those released.
    if let Some(after) = after.as_ref().filter(|_| worked.counts().0 == 0) {
        let unraised = after.earlier.unraised_by(&worked).map_err(|e| e.to_string())?;
        worked.findings.extend(unraised);
    }
    print.findings(&worked.findings, &loaded.file);
    print.note(&summary(&worked, 0));
    let code = if worked.counts().0 > 0 { STOPPED } else { CLEAN };
    // The program ends here: to take a build apart piece by piece would be a twentieth of its work.
    std::mem::forget(worked);
    std::mem::forget(loaded);
    Ok(code)
}

/// The shop's folder alone: every kind and every item, whether a spec uses it or not.
fn shop(print: &Print, house: &House<'_>) -> Result<u8, String> {
    let Some(named) = house.named() else {
        return Err("name a spec, or a shop's folder by --shop".to_owned());
    };
    let catalogue = house.catalogue(named)?;
    let checked = pipeline::check_shop(&catalogue, &named.display().to_string()).map_err(|e| e.to_string())?;
    print.findings(&checked.findings, &checked.file);
    let errors = checked.findings.iter().filter(|f| f.severity == Severity::Error).count();
    print.note(&format!(
        "{}, {} of its own: {}",
        count(checked.items, "stock item"),
        count(checked.kinds, "kind"),
        count(errors, "error")
    ));
    Ok(if errors > 0 { STOPPED } else { CLEAN })
}
