//! A folder being filled beside the one it will replace.

use super::error::{PublishError, at};
use super::leftovers::{remove, staging_start};
use super::others::{link, link_all, move_rest};
use super::swap::{swap, sync_folder};
use super::{Edition, Entry, MADE, MADE_TEXT, RECORD, UNFINISHED, WORK};
use crate::digest::digest;
use crate::files;
use std::collections::BTreeSet;
use std::fs::{self, File};
use std::io::Write;
use std::path::{Path, PathBuf};

/// The staging folder of an edition. Dropped before [`Staging::swap_in`], it leaves no trace.
#[derive(Debug)]
pub struct Staging<'a> {
    edition: Edition<'a>,
    folder: PathBuf,
    /// Files that are not on the disk yet.
    unsynced: Vec<String>,
    gone: Vec<String>,
    done: bool,
}

/// What a swap did.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Published {
    /// The output folder.
    pub folder: PathBuf,
    /// Files with a new content, by name.
    pub written: Vec<String>,
    /// Number of files that are the same as before.
    pub kept: usize,
    /// Files that went.
    pub gone: Vec<String>,
    /// What could not be tidied up after the swap; the next run tries again.
    pub untidy: Option<String>,
}

impl<'a> Edition<'a> {
    /// What must be done; `None` where the folder holds all of it already.
    ///
    /// # Errors
    /// Where something stands in the way that is not rigbinder's, or the staging folder cannot be made or filled; it
    /// is then removed.
    pub fn stage(mut self) -> Result<Option<Staging<'a>>, PublishError> {
        self.refuse_what_is_in_the_way()?;
        self.keep_others();
        let gone = self.gone();
        let there = |name: &str, text: &str| {
            files::read(&self.output.target.join(name)).is_ok_and(|bytes| bytes == text.as_bytes())
        };
        let same = self.changed.is_empty()
            && self.open.is_empty()
            && gone.is_empty()
            && there(MADE, MADE_TEXT)
            && there(RECORD, &self.record.to_json());
        if same { Ok(None) } else { Staging::fill(self, gone).map(Some) }
    }
}

impl<'a> Staging<'a> {
    /// Makes the staging folder with all that is not to be typeset.
    pub(super) fn fill(edition: Edition<'a>, gone: Vec<String>) -> Result<Self, PublishError> {
        let target = &edition.output.target;
        let folder = target.with_file_name(format!("{}{}", staging_start(target), std::process::id()));
        at(&folder, fs::create_dir(&folder))?;
        let mut staging = Self { edition, folder, unsynced: Vec::new(), gone, done: false };
        staging.write(UNFINISHED, b"")?;
        for name in &staging.edition.kept {
            let new = staging.place(name)?;
            link(&staging.edition.output.target.join(name), &new)?;
        }
        let changed: Vec<_> = staging.edition.changed.iter().map(|(name, bytes)| (name.clone(), *bytes)).collect();
        for (name, bytes) in changed {
            staging.write(&name, bytes)?;
        }
        staging.write(MADE, MADE_TEXT.as_bytes())?;
        Ok(staging)
    }

    /// The output folder that will be replaced.
    #[must_use]
    pub fn target(&self) -> &Path {
        &self.edition.output.target
    }

    /// Where a file of the edition goes; its folder is made.
    ///
    /// # Errors
    /// Where the folder cannot be made.
    pub fn place(&self, name: &str) -> Result<PathBuf, PublishError> {
        let path = self.folder.join(name);
        if let Some(folder) = path.parent() {
            at(folder, fs::create_dir_all(folder))?;
        }
        Ok(path)
    }

    /// A folder for typesetting, which is gone after [`Staging::swap_in`]; it is made when it is not there.
    ///
    /// # Errors
    /// Where it cannot be made.
    pub fn work_folder(&self) -> Result<PathBuf, PublishError> {
        let path = self.folder.join(WORK);
        at(&path, fs::create_dir_all(&path))?;
        Ok(path)
    }

    fn write(&mut self, name: &str, bytes: &[u8]) -> Result<(), PublishError> {
        let path = self.place(name)?;
        // Never through a link into the output that stands.
        at(&path, File::create_new(&path).and_then(|mut file| file.write_all(bytes)))?;
        self.unsynced.push(name.to_owned());
        Ok(())
    }

    /// Takes in a PDF that was made at [`Staging::place`] from something with the digest `source`.
    ///
    /// # Errors
    /// Where it is not there.
    pub fn typeset(&mut self, name: &str, source: &str, typst: &str) -> Result<(), PublishError> {
        let path = self.folder.join(name);
        let entry = Entry {
            digest: digest(&at(&path, files::read(&path))?),
            source_digest: Some(source.to_owned()),
            typst: Some(typst.to_owned()),
        };
        let there = self.edition.output.target.join(name);
        if files::read(&there).is_ok_and(|bytes| digest(&bytes) == entry.digest) {
            at(&path, fs::remove_file(&path))?;
            link(&there, &path)?;
            self.edition.kept.insert(name.to_owned());
        } else {
            self.unsynced.push(name.to_owned());
        }
        self.edition.record.documents.insert(name.to_owned(), entry);
        Ok(())
    }

    /// Swaps the staged folder in, with all that others put into the folder it replaces.
    ///
    /// # Errors
    /// Where something cannot be written; the earlier output then stands as it was.
    pub fn swap_in(mut self) -> Result<Published, PublishError> {
        let work = self.folder.join(WORK);
        if files::kind(&work).is_some() {
            at(&work, fs::remove_dir_all(&work))?;
        }
        let output = self.edition.output;
        let mut written: Vec<String> =
            self.unsynced.iter().filter(|n| *n != MADE && *n != UNFINISHED).cloned().collect();
        written.sort();
        let record = self.edition.record.to_json();
        self.write(RECORD, record.as_bytes())?;
        let made = self.edition.record.documents.clone();
        let ours = |name: &str| output.is_ours(name) || made.contains_key(name);
        let linked =
            if files::is_folder(&output.target) { link_all(&output.target, &self.folder, &ours)? } else { Vec::new() };
        self.sync(linked)?;
        let unfinished = self.folder.join(UNFINISHED);
        at(&unfinished, fs::remove_file(&unfinished))?;
        let replaced = swap(&self.folder, &output.target)?;
        self.done = true;
        // From here on the new output stands: a fault in tidying up is told but undoes nothing.
        let tidy = || {
            // The swap must be on the disk before what it replaced goes.
            output.target.parent().map_or(Ok(()), |out| sync_folder(non_empty(out)))?;
            let Some(old) = replaced else { return Ok(()) };
            move_rest(&old, &output.target, false, &ours)?;
            remove(&old, &output.target)
        };
        let untidy = tidy().err().map(|e: PublishError| e.to_string());
        Ok(Published {
            folder: output.target.clone(),
            written,
            kept: self.edition.kept.len(),
            gone: std::mem::take(&mut self.gone),
            untidy,
        })
    }

    /// Sees to it that all is on the disk before it takes the place of what is there.
    fn sync(&self, linked: Vec<PathBuf>) -> Result<(), PublishError> {
        let mut folders: BTreeSet<PathBuf> = linked.into_iter().chain([self.folder.clone()]).collect();
        for name in self.unsynced.iter().filter(|name| *name != UNFINISHED) {
            let path = self.folder.join(name);
            at(&path, files::sync(&path))?;
            folders.extend(path.parent().map(Path::to_owned));
        }
        for name in &self.edition.kept {
            folders.extend(self.folder.join(name).parent().map(Path::to_owned));
        }
        folders.iter().rev().try_for_each(|folder| sync_folder(folder))
    }
}

/// The folder a bare name stands in.
fn non_empty(folder: &Path) -> &Path {
    if folder.as_os_str().is_empty() { Path::new(".") } else { folder }
}

impl Drop for Staging<'_> {
    fn drop(&mut self) {
        if !self.done {
            // Nothing more can be done about a folder that cannot be removed; the next run tries again.
            drop(remove(&self.folder, &self.edition.output.target));
        }
    }
}
