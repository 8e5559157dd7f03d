//! The output folder of a build as it stands, held by a lock.

use super::error::{PublishError, at};
use super::leftovers::{bin, empty_bin, left_over, mend_releases, remove};
use super::lock::Lock;
use super::others::move_rest;
use super::swap::put_back;
use super::{MADE, Record, UNFINISHED, is_own};
use crate::files::{self, Kind};
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

/// The output folder `out/name`. While this lives, no other rigbinder writes there.
#[derive(Debug)]
pub struct Output {
    /// The folder; it need not be there yet.
    pub(super) target: PathBuf,
    /// What stands in it.
    pub(super) record: Record,
    /// Tells names that rigbinder gives, also in folders from before there were records.
    pub(super) is_document: fn(&str) -> bool,
    pub(super) lock: Lock,
    /// Why the record could not be read.
    record_fault: Option<String>,
}

impl Output {
    /// Takes the lock, mends what a killed run left, and reads the record. `is_document` knows the names that
    /// rigbinder gives to documents.
    ///
    /// # Errors
    /// Where `out` cannot be made or written, the folder is not rigbinder's, or another holds the lock.
    pub fn open(out: &Path, name: &str, is_document: fn(&str) -> bool) -> Result<Self, PublishError> {
        if out.exists() && !out.is_dir() {
            return Err(PublishError::own(out, io::ErrorKind::NotADirectory, "is a file; name a folder with --out"));
        }
        at(out, fs::create_dir_all(out))?;
        let target = out.join(name);
        refuse_foreign(&target)?;
        let lock = Lock::take(out, name)?;
        mend(&target, is_document)?;
        mend_releases(out, name)?;
        refuse_foreign(&target)?;
        let record = Record::read(&target);
        let record_fault = Record::fault(&target);
        Ok(Self { target, record, is_document, lock, record_fault })
    }

    /// The folder.
    #[must_use]
    pub fn folder(&self) -> &Path {
        &self.target
    }

    /// Why its record could not be read, so that all is made anew; `None` where it could.
    #[must_use]
    pub fn record_fault(&self) -> Option<&str> {
        self.record_fault.as_deref()
    }

    /// Whether a name is of a file that rigbinder made, here or in the edition to come.
    pub(super) fn is_ours(&self, name: &str) -> bool {
        is_ours(&self.record, self.is_document, name)
    }
}

/// By the record, or by its name where the folder is older than records.
pub(super) fn is_ours(record: &Record, is_document: fn(&str) -> bool, name: &str) -> bool {
    is_own(name) || record.documents.contains_key(name) || !name.contains('/') && is_document(name)
}

/// Brings the folders beside `target` in order after a run that was killed.
fn mend(target: &Path, is_document: fn(&str) -> bool) -> Result<(), PublishError> {
    put_back(target)?;
    empty_bin(&bin(target))?;
    for folder in left_over(target)? {
        // A complete one was in place until the run that replaced it was killed: what came into it late moves along.
        if files::kind(&folder.join(UNFINISHED)).is_none() && files::is_folder(target) {
            let record = Record::read(&folder);
            move_rest(&folder, target, true, &|name| is_ours(&record, is_document, name))?;
        }
        remove(&folder, target)?;
    }
    Ok(())
}

/// Refuses a folder that may not be replaced: it is no folder, a link, or holds files but not the mark of a run.
fn refuse_foreign(target: &Path) -> Result<(), PublishError> {
    let refuse = |why: &str| Err(PublishError::own(target, io::ErrorKind::AlreadyExists, why));
    match files::kind(target) {
        None => return Ok(()),
        Some(Kind::Folder) => {}
        Some(Kind::Link) => return refuse("is a link; name the folder itself with --out"),
        Some(_) => return refuse("is a file; a folder goes here"),
    }
    let empty = fs::read_dir(target).is_ok_and(|mut entries| entries.next().is_none());
    if !empty && !files::is_plain(&target.join(MADE)) {
        return refuse("holds files that rigbinder did not make; choose another folder with --out");
    }
    Ok(())
}

/// The folder of all outputs.
pub(super) fn out_of(target: &Path) -> &Path {
    target.parent().filter(|out| !out.as_os_str().is_empty()).unwrap_or(Path::new("."))
}
