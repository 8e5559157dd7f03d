//! What others put into an output folder moves along with it.

use super::error::{PublishError, at};
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

/// Gives `from` a second name `to`: a hard link, or a copy where the file system has no links.
pub(super) fn link(from: &Path, to: &Path) -> Result<(), PublishError> {
    if fs::hard_link(from, to).is_ok() {
        return Ok(());
    }
    let about = at(from, fs::symlink_metadata(from))?;
    if about.is_symlink() {
        return at(to, copy_link(from, to));
    }
    if !about.is_file() {
        return Err(PublishError::own(
            from,
            io::ErrorKind::Unsupported,
            "is no file; move it out of the output folder",
        ));
    }
    at(to, fs::copy(from, to).map(drop))
}

#[cfg(unix)]
fn copy_link(from: &Path, to: &Path) -> io::Result<()> {
    std::os::unix::fs::symlink(fs::read_link(from)?, to)
}

#[cfg(not(unix))]
fn copy_link(_: &Path, _: &Path) -> io::Result<()> {
    Err(io::ErrorKind::Unsupported.into())
}

/// Tells by its name below the top folder, with `/` between folders, whether a file is one that rigbinder made.
pub(super) type Ours<'a> = &'a dyn Fn(&str) -> bool;

/// Gives everything below `from` that is not `ours` a second name below `to`, unless something stands there already.
/// Returns the folders that got new names in them.
pub(super) fn link_all(from: &Path, to: &Path, ours: Ours<'_>) -> Result<Vec<PathBuf>, PublishError> {
    let mut folders = vec![to.to_owned()];
    each(from, Path::new(""), ours, &mut |name, is_folder| {
        let (old, new) = (from.join(name), to.join(name));
        if is_folder {
            folders.push(new.clone());
            if !new.is_dir() {
                at(&new, fs::create_dir(&new))?;
                at(&new, fs::metadata(&old).and_then(|m| fs::set_permissions(&new, m.permissions())))?;
            }
            Ok(())
        } else if fs::symlink_metadata(&new).is_ok() {
            Ok(())
        } else {
            link(&old, &new)
        }
    })?;
    Ok(folders)
}

/// Moves what is not `ours` out of a replaced folder, where it came or was changed after [`link_all`] ran. With
/// `only_missing`, what stands in the new folder already stays as it is.
pub(super) fn move_rest(from: &Path, to: &Path, only_missing: bool, ours: Ours<'_>) -> Result<(), PublishError> {
    each(from, Path::new(""), ours, &mut |name, is_folder| {
        let (old, new) = (from.join(name), to.join(name));
        let there = fs::symlink_metadata(&new).ok();
        if is_folder {
            return if there.is_none() { at(&new, fs::create_dir(&new)) } else { Ok(()) };
        }
        let same = there.as_ref().is_some_and(|new| fs::symlink_metadata(&old).is_ok_and(|old| same_file(&old, new)));
        if there.is_none() || !same && !only_missing { at(&new, fs::rename(&old, &new)) } else { Ok(()) }
    })
}

/// Whether two names are of the same file.
#[cfg(unix)]
fn same_file(one: &fs::Metadata, other: &fs::Metadata) -> bool {
    use std::os::unix::fs::MetadataExt;
    (one.dev(), one.ino()) == (other.dev(), other.ino())
}

#[cfg(not(unix))]
fn same_file(one: &fs::Metadata, other: &fs::Metadata) -> bool {
    one.len() == other.len() && one.modified().ok() == other.modified().ok()
}

/// Calls `act` with the name of everything below `folder` that is not `ours`, a folder before what is in it. A folder
/// is foreign when it is empty or holds something foreign.
fn each(
    folder: &Path,
    below: &Path,
    ours: Ours<'_>,
    act: &mut dyn FnMut(&Path, bool) -> Result<(), PublishError>,
) -> Result<(), PublishError> {
    for (path, name, is_folder) in entries(folder, below)? {
        if !is_folder {
            if !ours(&slashed(&name)) {
                act(&name, false)?;
            }
        } else if holds_foreign(&path, &name, ours)? {
            act(&name, true)?;
            each(&path, &name, ours, act)?;
        }
    }
    Ok(())
}

/// Whether a folder is empty or holds, at any depth, something that is not `ours`.
fn holds_foreign(folder: &Path, name: &Path, ours: Ours<'_>) -> Result<bool, PublishError> {
    let inside = entries(folder, name)?;
    for (path, name, is_folder) in &inside {
        if if *is_folder { holds_foreign(path, name, ours)? } else { !ours(&slashed(name)) } {
            return Ok(true);
        }
    }
    Ok(inside.is_empty())
}

/// What is in a folder: path, name below the top folder, and whether it is a folder.
fn entries(folder: &Path, below: &Path) -> Result<Vec<(PathBuf, PathBuf, bool)>, PublishError> {
    let mut found = Vec::new();
    for entry in at(folder, fs::read_dir(folder))? {
        let entry = at(folder, entry)?;
        let is_folder = at(&entry.path(), entry.file_type())?.is_dir();
        found.push((entry.path(), below.join(entry.file_name()), is_folder));
    }
    Ok(found)
}

/// A name below the top folder as records have it. One that is no text is never one of ours.
fn slashed(name: &Path) -> String {
    let parts: Vec<_> = name.iter().map(|part| part.to_string_lossy()).collect();
    parts.join("/")
}
