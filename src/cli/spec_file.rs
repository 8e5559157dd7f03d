//! A spec file: how it is read, what is found in it in one line, and the folder of its output.

use super::house::House;
use super::read;
use crate::pipeline::{self, Loaded, Worked};
use crate::publish;
use std::path::{Path, PathBuf};

/// Reads a spec file.
pub(super) fn load(house: &House<'_>, spec: &Path) -> Result<Loaded, String> {
    let name = spec.display().to_string();
    let mut loaded = pipeline::load(&house.catalogue(spec)?, &name, &read::spec(spec)?).map_err(|e| e.to_string())?;
    // What a shell pipes in has no folder, whatever its name.
    let is_piped = ["/dev", "/proc"].iter().any(|system| spec.starts_with(system));
    if let Some(folder) = spec.parent().filter(|_| spec.is_file() && !is_piped) {
        loaded.read_papers(folder);
    }
    Ok(loaded)
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
        "{}, {}, {}, {}: {errors_only}, {}{}{}",
        plural(worked.build.parts.len(), "component"),
        plural(worked.build.circuits.len(), "circuit"),
        plural(worked.build.tasks.len(), "task"),
        plural(worked.ledger.len(), "figure"),
        plural(warnings + more, "warning"),
        if accepted > 0 { format!(", {accepted} accepted") } else { String::new() },
        match worked.as_found() {
            0 => String::new(),
            n => format!(", {} as found", plural(n, "defect")),
        },
    )
}

/// `1 file`, `2 files`.
pub(super) fn count(n: usize, one: &str) -> String {
    if n == 1 { format!("1 {one}") } else { format!("{n} {one}s") }
}

/// Folder of the output: the stem of the spec file's name, in plain letters.
pub(super) fn folder_name(spec: &Path) -> String {
    let stem = spec.file_stem().map_or_else(String::new, |s| s.to_string_lossy().into_owned());
    publish::folder_name(&stem).unwrap_or_else(|| "build".to_owned())
}

/// Folders of the outputs. Two specs must not write to the same one.
pub(super) fn folder_names(specs: &[PathBuf], out: &Path) -> Result<Vec<String>, String> {
    let names: Vec<String> = specs.iter().map(|spec| folder_name(spec)).collect();
    for (at, name) in names.iter().enumerate() {
        if let Some(first) = names[..at].iter().position(|n| n == name) {
            let same = |spec: &Path| spec.canonicalize().ok();
            if same(&specs[first]).is_some_and(|path| same(&specs[at]) == Some(path)) {
                let both = [&specs[first], &specs[at]].map(|spec| spec.display().to_string());
                let [one, other] = &both;
                let twice = format!("{other} is named twice; once is enough");
                return Err(if one == other {
                    twice
                } else {
                    format!("{one} and {other} are the same file; name it once")
                });
            }
            return Err(format!(
                "{} and {} would both be written to {}; rename one, or compile them one by one with different --out",
                specs[first].display(),
                specs[at].display(),
                out.join(name).display()
            ));
        }
    }
    Ok(names)
}
