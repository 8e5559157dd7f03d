//! Puts one folder in the place of another, so that at every instant the old or the new one stands there whole.

use super::error::{PublishError, at};
use crate::files;
use std::fs::{self, File};
use std::io;
use std::path::{Path, PathBuf};

/// Makes sure that the names in a folder are on the disk. Where folders cannot be opened (Windows) the system sees to
/// it by itself.
pub(super) fn sync_folder(folder: &Path) -> Result<(), PublishError> {
    if cfg!(unix) { at(folder, File::open(folder).and_then(|f| f.sync_all())) } else { Ok(()) }
}

/// Exchanges two folders in one step, where the system can.
#[cfg(any(target_os = "linux", target_os = "android"))]
fn exchange(one: &Path, other: &Path) -> io::Result<()> {
    use rustix::fs::{CWD, RenameFlags, renameat_with};
    Ok(renameat_with(CWD, one, CWD, other, RenameFlags::EXCHANGE)?)
}

#[cfg(not(any(target_os = "linux", target_os = "android")))]
fn exchange(_: &Path, _: &Path) -> io::Result<()> {
    Err(io::ErrorKind::Unsupported.into())
}

/// Renames a folder to where nothing stands, and never over what came there in the meantime.
#[cfg(any(target_os = "linux", target_os = "android"))]
pub(super) fn rename_to_free(from: &Path, to: &Path) -> io::Result<()> {
    use rustix::fs::{CWD, RenameFlags, renameat_with};
    use rustix::io::Errno;
    match renameat_with(CWD, from, CWD, to, RenameFlags::NOREPLACE) {
        // File systems that cannot do it in one step.
        Err(Errno::INVAL | Errno::NOSYS | Errno::NOTSUP) => rename_after_look(from, to),
        result => Ok(result?),
    }
}

#[cfg(not(any(target_os = "linux", target_os = "android")))]
pub(super) fn rename_to_free(from: &Path, to: &Path) -> io::Result<()> {
    rename_after_look(from, to)
}

/// The lock of the output keeps other rigbinders off in between.
fn rename_after_look(from: &Path, to: &Path) -> io::Result<()> {
    match fs::symlink_metadata(to) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => fs::rename(from, to),
        Err(error) => Err(error),
        Ok(_) => Err(io::ErrorKind::AlreadyExists.into()),
    }
}

/// Puts `staged` in the place of `target`. Returns where the replaced folder stands now; `None` where there was none.
///
/// On Linux both are exchanged in one step. Elsewhere two renames do it: a program killed between them leaves the
/// replaced folder under the name of [`aside`], and [`put_back`] mends that on the next start.
pub(super) fn swap(staged: &Path, target: &Path) -> Result<Option<PathBuf>, PublishError> {
    if files::kind(target).is_none() {
        at(target, fs::rename(staged, target))?;
        return Ok(None);
    }
    if exchange(staged, target).is_ok() {
        return Ok(Some(staged.to_owned()));
    }
    swap_by_renames(staged, target).map(Some)
}

fn swap_by_renames(staged: &Path, target: &Path) -> Result<PathBuf, PublishError> {
    let old = aside(target);
    at(target, fs::rename(target, &old))?;
    if let Err(error) = fs::rename(staged, target) {
        at(target, fs::rename(&old, target))?;
        return Err(PublishError { path: target.to_owned(), error });
    }
    Ok(old)
}

/// Where a replaced folder stands while it is replaced by two renames.
pub(super) fn aside(target: &Path) -> PathBuf {
    target.with_file_name(format!(".{}.old", name_of(target)))
}

/// Puts a folder back that was moved aside by a program that did not live to put the new one in its place.
pub(super) fn put_back(target: &Path) -> Result<(), PublishError> {
    let old = aside(target);
    if files::is_folder(&old) && files::kind(target).is_none() {
        at(target, fs::rename(&old, target))?;
    }
    Ok(())
}

/// Last part of a path as text.
pub(super) fn name_of(path: &Path) -> String {
    path.file_name().map_or_else(String::new, |n| n.to_string_lossy().into_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn folders(test: &str) -> (PathBuf, PathBuf, PathBuf) {
        let base = std::env::temp_dir().join(format!("rigbinder-swap-{test}-{}", std::process::id()));
        drop(fs::remove_dir_all(&base));
        let (staged, target) = (base.join(".b.new"), base.join("b"));
        for (folder, text) in [(&staged, "new"), (&target, "old")] {
            fs::create_dir_all(folder).expect("folder");
            fs::write(folder.join("file"), text).expect("file");
        }
        (base, staged, target)
    }

    fn read(folder: &Path) -> String {
        fs::read_to_string(folder.join("file")).expect("file")
    }

    #[test]
    fn both_ways_put_the_new_one_in_and_tell_where_the_old_one_is() {
        for (test, way) in [("renames", false), ("exchange", true)] {
            let (base, staged, target) = folders(test);
            let old = if way {
                swap(&staged, &target).expect("swaps").expect("had one")
            } else {
                swap_by_renames(&staged, &target).expect("swaps")
            };
            assert_eq!((read(&target).as_str(), read(&old).as_str()), ("new", "old"), "{test}");
            fs::remove_dir_all(base).expect("gone");
        }
    }

    /// The state in which a kill between the two renames leaves the folders.
    #[test]
    fn what_was_moved_aside_is_put_back() {
        let (base, staged, target) = folders("killed");
        fs::rename(&target, aside(&target)).expect("aside");
        put_back(&target).expect("mends");
        assert_eq!(read(&target), "old");
        assert_eq!(read(&staged), "new");
        // With a target in place nothing is moved.
        fs::create_dir(aside(&target)).expect("left over");
        put_back(&target).expect("nothing to mend");
        assert_eq!(read(&target), "old");
        fs::remove_dir_all(base).expect("gone");
    }

    #[test]
    fn nothing_is_renamed_over_what_is_there() {
        for (test, way) in [("free", rename_to_free as fn(&Path, &Path) -> io::Result<()>), ("look", rename_after_look)]
        {
            let (base, staged, target) = folders(test);
            assert_eq!(way(&staged, &target).map_err(|e| e.kind()), Err(io::ErrorKind::AlreadyExists), "{test}");
            fs::remove_file(target.join("file")).expect("gone");
            assert!(way(&staged, &target).is_err(), "{test}: over an empty folder");
            fs::remove_dir(&target).expect("gone");
            way(&staged, &target).expect("free");
            assert_eq!(read(&target), "new", "{test}");
            fs::remove_dir_all(base).expect("gone");
        }
    }

    #[test]
    fn a_new_one_that_is_not_there_leaves_the_old_one() {
        let (base, staged, target) = folders("missing");
        fs::remove_dir_all(&staged).expect("gone");
        assert!(swap(&staged, &target).is_err());
        assert_eq!(read(&target), "old");
        fs::remove_dir_all(base).expect("gone");
    }
}
