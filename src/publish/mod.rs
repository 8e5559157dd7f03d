//! Puts the files of a build in place: staged in a sibling folder, swapped in whole.

use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// Why the output could not be put in place. What was there before is still there.
#[derive(Debug)]
pub struct PublishError {
    /// File or folder.
    pub path: PathBuf,
    /// The system's word.
    pub error: io::Error,
}

impl std::fmt::Display for PublishError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}: {}", self.path.display(), self.error)
    }
}

impl std::error::Error for PublishError {}

fn at<T>(path: &Path, result: io::Result<T>) -> Result<T, PublishError> {
    result.map_err(|error| PublishError { path: path.to_owned(), error })
}

/// Marks an output folder as rigbinder's own.
const MADE: &str = ".made-by-rigbinder";

/// A folder being filled beside the one it will replace. Dropped before [`Staging::swap_in`], it leaves no trace.
#[derive(Debug)]
pub struct Staging {
    folder: PathBuf,
    target: PathBuf,
    done: bool,
}

impl Staging {
    /// Makes an empty staging folder for `out/name`. Left-overs of a run that was killed are removed.
    ///
    /// # Errors
    /// Where `out` cannot be made or written, or is a file.
    pub fn begin(out: &Path, name: &str) -> Result<Self, PublishError> {
        at(out, fs::create_dir_all(out))?;
        let target = out.join(name);
        if let Some(why) = not_ours(&target) {
            return Err(PublishError { path: target, error: io::Error::new(io::ErrorKind::AlreadyExists, why) });
        }
        let folder = out.join(format!(".{name}.new"));
        if folder.exists() {
            at(&folder, fs::remove_dir_all(&folder))?;
        }
        at(&folder, fs::create_dir(&folder))?;
        Ok(Self { folder, target, done: false })
    }

    /// The staging folder.
    #[must_use]
    pub fn folder(&self) -> &Path {
        &self.folder
    }

    /// Writes a file of the build; `name` is one that rigbinder made, in a folder of its own at most.
    ///
    /// # Errors
    /// Where it cannot be written.
    pub fn write(&self, name: &str, bytes: &[u8]) -> Result<(), PublishError> {
        let path = self.folder.join(name);
        if let Some(folder) = path.parent() {
            at(folder, fs::create_dir_all(folder))?;
        }
        let mut file = at(&path, fs::File::create(&path))?;
        at(&path, file.write_all(bytes).and_then(|()| file.sync_all()))
    }

    /// Takes over the files of the present output that were not written anew and that `keep` accepts.
    ///
    /// # Errors
    /// Where one cannot be copied.
    pub fn keep(&self, keep: impl Fn(&str) -> bool) -> Result<(), PublishError> {
        if self.target.is_dir() { self.keep_below("", &keep) } else { Ok(()) }
    }

    /// [`Staging::keep`] for one folder of the present output; names begin with its own.
    fn keep_below(&self, below: &str, keep: &impl Fn(&str) -> bool) -> Result<(), PublishError> {
        let from = self.target.join(below);
        for entry in at(&from, fs::read_dir(&from))? {
            let entry = at(&from, entry)?;
            let file_name = entry.file_name();
            let Some(name) = file_name.to_str().map(|n| format!("{below}{n}")) else { continue };
            let new = self.folder.join(&name);
            // A folder that is not written anew moves over as a whole later.
            if entry.path().is_dir() && new.is_dir() {
                self.keep_below(&format!("{name}/"), keep)?;
            } else if entry.path().is_file() && keep(&name) && !new.exists() {
                at(&new, fs::copy(entry.path(), &new))?;
            }
        }
        Ok(())
    }

    /// Swaps the staged folder in. What others put into the folder it replaces moves along; `is_made` knows the names
    /// that rigbinder gives.
    ///
    /// # Errors
    /// Where a rename fails; the earlier output is then put back.
    pub fn swap_in(mut self, is_made: impl Fn(&str) -> bool) -> Result<PathBuf, PublishError> {
        self.write(MADE, b"Files of this folder that are named after a document are written anew by every compile.\n")?;
        let old = self.target.with_file_name(format!(
            ".{}.old",
            self.target.file_name().map_or_else(String::new, |n| n.to_string_lossy().into_owned())
        ));
        if old.exists() {
            at(&old, fs::remove_dir_all(&old))?;
        }
        let had = self.target.exists();
        if had {
            at(&self.target, fs::rename(&self.target, &old))?;
        }
        if let Err(error) = fs::rename(&self.folder, &self.target) {
            if had {
                at(&self.target, fs::rename(&old, &self.target))?;
            }
            return Err(PublishError { path: self.target.clone(), error });
        }
        self.done = true;
        if had {
            self.bring_along(&old, |name| name == MADE || is_made(name))?;
            at(&old, fs::remove_dir_all(&old))?;
        }
        Ok(self.target.clone())
    }

    /// Moves what rigbinder did not make from the replaced folder into the new one.
    fn bring_along(&self, old: &Path, is_made: impl Fn(&str) -> bool) -> Result<(), PublishError> {
        for entry in at(old, fs::read_dir(old))? {
            let name = at(old, entry)?.file_name();
            let text = name.to_string_lossy();
            let new = self.target.join(&name);
            if !is_made(&text) && !new.exists() {
                at(&new, fs::rename(old.join(&name), &new))?;
            }
        }
        Ok(())
    }
}

/// Why a folder may not be replaced: it is no folder, a link, or holds files but not the list of a run.
fn not_ours(target: &Path) -> Option<&'static str> {
    let about = fs::symlink_metadata(target).ok()?;
    if about.is_symlink() {
        return Some("is a link; name the folder itself with --out");
    }
    if !about.is_dir() {
        return Some("is a file; a folder goes here");
    }
    let empty = fs::read_dir(target).is_ok_and(|mut entries| entries.next().is_none());
    let foreign = !empty && !target.join(MADE).is_file();
    foreign.then_some("holds files that rigbinder did not make; choose another folder with --out")
}

impl Drop for Staging {
    fn drop(&mut self) {
        if !self.done {
            // Nothing more can be done about a folder that cannot be removed; the next run tries again.
            drop(fs::remove_dir_all(&self.folder));
        }
    }
}
