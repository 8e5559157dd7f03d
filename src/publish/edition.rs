//! What an output folder shall hold, measured against what it holds.

use super::error::PublishError;
use super::record::is_plain;
use super::swap::name_of;
use super::{Entry, MADE, Output, RECORD, Record, UNFINISHED, is_own};
use crate::digest::digest;
use crate::files::{self, Kind};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::io;
use std::path::Path;

/// The files of a build as they shall be.
#[derive(Debug)]
pub struct Edition<'a> {
    pub(super) output: &'a Output,
    pub(super) record: Record,
    /// Files to write, by name.
    pub(super) changed: BTreeMap<String, &'a [u8]>,
    /// Files that stand in the folder as they shall be.
    pub(super) kept: BTreeSet<String>,
    /// PDFs that went because what they were made from has changed and no new ones are made.
    stale: Vec<String>,
    /// PDFs to be made.
    pub(super) open: BTreeSet<String>,
    whole: bool,
}

impl<'a> Edition<'a> {
    /// Begins an edition of what the file `spec` says. It is `whole` where the other files that rigbinder made shall go, and a part of the documents
    /// where they shall stay. `about` are the fields of the record that tell of the build; a part of the documents leaves
    /// those of the record as they are.
    #[must_use]
    pub fn begin(
        output: &'a Output,
        spec: &Path,
        whole: bool,
        about: serde_json::Map<String, serde_json::Value>,
    ) -> Self {
        let about = if whole { about } else { output.record.about.clone() };
        Self {
            output,
            record: Record { spec: name_of(spec), about, ..Record::default() },
            changed: BTreeMap::new(),
            kept: BTreeSet::new(),
            stale: Vec::new(),
            open: BTreeSet::new(),
            whole,
        }
    }

    /// Adds a file that is written as it is; `name` is one that rigbinder made, in a folder of its own at most.
    pub fn text(&mut self, name: &str, bytes: &'a [u8]) {
        debug_assert!(is_plain(name) && !is_own(name), "{name} is no name for a document");
        self.record.documents.insert(name.to_owned(), Entry { digest: digest(bytes), ..Entry::default() });
        if files::read(&self.output.target.join(name)).is_ok_and(|there| there == bytes) {
            self.kept.insert(name.to_owned());
        } else {
            self.changed.insert(name.to_owned(), bytes);
        }
    }

    /// Adds a PDF that is typeset from something with the digest `source`. Returns whether the one that stands there
    /// serves: made from the same, by the same version of `typst`, and not touched since. Otherwise it must be made and
    /// handed to [`super::Staging::typeset`].
    ///
    /// Without `typst` any version serves, and one that does not serve goes without a new one in its place.
    pub fn pdf(&mut self, name: &str, source: &str, typst: Option<&str>) -> bool {
        let there = self.output.target.join(name);
        let entry = self.output.record.documents.get(name).filter(|entry| {
            entry.source_digest.as_deref() == Some(source)
                && (typst.is_none() || entry.typst.as_deref() == typst)
                && files::read(&there).is_ok_and(|bytes| digest(&bytes) == entry.digest)
        });
        if let Some(entry) = entry {
            self.record.documents.insert(name.to_owned(), entry.clone());
            self.kept.insert(name.to_owned());
            return true;
        }
        if typst.is_some() {
            self.open.insert(name.to_owned());
        } else if is_file(&there) {
            self.stale.push(name.to_owned());
        }
        false
    }

    /// PDFs that go because their text changed and no new ones are made.
    #[must_use]
    pub fn stale(&self) -> &[String] {
        &self.stale
    }

    /// Files that rigbinder made earlier and that go: their documents are no longer there.
    pub(super) fn gone(&self) -> Vec<String> {
        let named = |name: &str| {
            self.record.documents.contains_key(name) || self.open.contains(name) || self.changed.contains_key(name)
        };
        let mut gone = self.stale.clone();
        if self.whole {
            let entries = fs::read_dir(&self.output.target).into_iter().flatten().flatten();
            let top = entries.filter(|e| e.file_type().is_ok_and(|kind| !kind.is_dir()));
            let top = top.filter_map(|e| e.file_name().into_string().ok());
            let recorded = self.output.record.documents.keys().cloned();
            let ours = recorded.filter(|name| is_file(&self.output.target.join(name))).chain(top);
            gone.extend(ours.filter(|name| self.output.is_ours(name) && !is_own(name) && !named(name)));
        }
        gone.sort();
        gone.dedup();
        gone
    }

    /// Takes over the files of other documents, where a part of them is made.
    pub(super) fn keep_others(&mut self) {
        if self.whole {
            return;
        }
        for (name, entry) in &self.output.record.documents {
            let is_new = self.record.documents.contains_key(name) || self.open.contains(name);
            if !is_new && !self.stale.contains(name) && is_file(&self.output.target.join(name)) {
                self.record.documents.insert(name.clone(), entry.clone());
                self.kept.insert(name.clone());
            }
        }
        // From before there were records: files that bear the name of a document.
        let entries = fs::read_dir(&self.output.target).into_iter().flatten().flatten();
        for name in entries.filter(|e| is_file(&e.path())).filter_map(|e| e.file_name().into_string().ok()) {
            let is_new = self.record.documents.contains_key(&name) || self.open.contains(&name);
            if !is_new && self.output.is_ours(&name) && !is_own(&name) && !self.stale.contains(&name) {
                self.kept.insert(name);
            }
        }
    }

    /// A link, a pipe or a scribbled file in the place of a document is made anew like one that was edited. A folder
    /// there may hold a person's files, and what stands in the place of a folder may lead to them: neither is touched.
    pub(super) fn refuse_what_is_in_the_way(&self) -> Result<(), PublishError> {
        let open = self.open.iter().chain(self.changed.keys()).map(String::as_str);
        let mut folders = BTreeSet::new();
        for name in open.chain([MADE, RECORD, UNFINISHED]) {
            let path = self.output.target.join(name);
            if files::is_folder(&path) {
                return Err(in_the_way(&path, Kind::Folder, "a file"));
            }
            folders.extend(name.rsplit_once('/').map(|(folder, _)| folder));
        }
        for folder in folders {
            let path = self.output.target.join(folder);
            if let Some(kind) = files::kind(&path).filter(|kind| *kind != Kind::Folder) {
                return Err(in_the_way(&path, kind, "a folder"));
            }
        }
        Ok(())
    }
}

fn in_the_way(path: &Path, there: Kind, goes: &str) -> PublishError {
    let why = format!("is {}, where {goes} of rigbinder's goes; move it away, then compile again", there.words());
    PublishError::own(path, io::ErrorKind::AlreadyExists, why)
}

/// Whether something stands there that is no folder: plain files, and what stands in the place of one.
fn is_file(path: &Path) -> bool {
    files::kind(path).is_some_and(|kind| kind != Kind::Folder)
}
