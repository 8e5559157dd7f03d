//! Folders that a killed run left beside an output and among its releases, and how a folder is removed.

use super::error::{PublishError, at};
use super::swap::{aside, name_of};
use crate::files::{self, Kind};
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

/// Folder that is being removed: nothing in it is wanted.
pub(super) fn bin(target: &Path) -> PathBuf {
    target.with_file_name(format!(".{}.gone", name_of(target)))
}

/// Start of the names of staging folders; the number of the process follows, so that a typesetter that outlived its
/// killed master cannot write into the folder of the next run.
pub(super) fn staging_start(target: &Path) -> String {
    format!(".{}.new-", name_of(target))
}

/// Removes a folder in two steps, the first of which cannot be half done.
pub(super) fn remove(folder: &Path, target: &Path) -> Result<(), PublishError> {
    let bin = bin(target);
    empty_bin(&bin)?;
    at(folder, fs::rename(folder, &bin))?;
    at(&bin, fs::remove_dir_all(&bin))
}

/// Removes what is left of the last removal.
pub(super) fn empty_bin(bin: &Path) -> Result<(), PublishError> {
    match files::kind(bin) {
        None => Ok(()),
        Some(Kind::Folder) => at(bin, fs::remove_dir_all(bin)),
        Some(other) => {
            let why = format!("is {}, where rigbinder puts what it removes; move it away", other.words());
            Err(PublishError::own(bin, io::ErrorKind::AlreadyExists, why))
        }
    }
}

/// Folders beside `target` that a killed run left, in a fixed order.
pub(super) fn left_over(target: &Path) -> Result<Vec<PathBuf>, PublishError> {
    let Some(out) = target.parent() else { return Ok(Vec::new()) };
    let (start, known) = (staging_start(target), [bin(target), aside(target)]);
    let mut left: Vec<PathBuf> = Vec::new();
    for entry in at(out, fs::read_dir(out))? {
        let path = out.join(at(out, entry)?.file_name());
        let name = name_of(&path);
        let number = name.strip_prefix(&start).is_some_and(|n| n.parse::<u32>().is_ok());
        if (number || known.contains(&path)) && files::is_folder(&path) {
            left.push(path);
        }
    }
    left.sort();
    Ok(left)
}

/// Where the releases of `out/name` stand. Names of outputs have no dot, so it is that of no other build.
pub(super) fn place(out: &Path, name: &str) -> PathBuf {
    out.join(format!("{name}.released"))
}

/// Staging folders of releases are named after this, whatever the revision.
pub(super) fn staged(place: &Path) -> PathBuf {
    place.join("release")
}

/// Folders that a killed release left.
pub(super) fn left_of_releases(out: &Path, name: &str) -> Result<Vec<PathBuf>, PublishError> {
    let place = place(out, name);
    if files::is_folder(&place) { left_over(&staged(&place)) } else { Ok(Vec::new()) }
}

/// Removes what a killed release left.
pub(super) fn mend_releases(out: &Path, name: &str) -> Result<(), PublishError> {
    let staged = staged(&place(out, name));
    left_of_releases(out, name)?.iter().try_for_each(|folder| remove(folder, &staged))
}
