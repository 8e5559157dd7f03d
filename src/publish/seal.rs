//! Remembers what an output was made from, so that a run with the same inputs need not even write the texts.
//!
//! The seal stands in the lock file, beside the output: it names this machine's program and is nobody else's business.
//! A seal that does not fit costs nothing but time.

use super::error::{PublishError, at};
use super::output::left_over;
use super::record::digest;
use super::release::left_of_releases;
use super::{MADE, Output, RECORD, Record, is_own};
use std::fs;
use std::path::Path;

/// What the lock file says first: digest of the inputs, digest of the record, number of documents. Then comes where the
/// spec is.
fn text(inputs: &str, record: &str, documents: usize) -> String {
    format!("{inputs}\n{record}\n{documents}\n")
}

/// Whether `out/name` was made from `inputs` and every file of it is as it was made. Returns the number of documents.
#[must_use]
pub fn sealed(out: &Path, name: &str, inputs: &str, is_document: fn(&str) -> bool) -> Option<usize> {
    let seal = fs::read_to_string(super::lock::path(out, name)).ok()?;
    let target = out.join(name);
    let record = digest(&fs::read(target.join(RECORD)).ok()?);
    let documents = seal.lines().nth(2)?.parse().ok()?;
    let left = [left_over(&target).ok()?, left_of_releases(out, name).ok()?];
    let in_order = target.join(MADE).is_file() && left.iter().all(Vec::is_empty);
    if !seal.starts_with(&text(inputs, &record, documents)) || !in_order {
        return None;
    }
    let record = Record::read(&target);
    let as_made = |(name, entry): (&String, &super::Entry)| {
        fs::read(target.join(name)).is_ok_and(|bytes| digest(&bytes) == entry.digest)
    };
    // A file with the name of a document that is none would have to go; the folder of drawings is named like one.
    let stray = |name: &str| !is_own(name) && is_document(name) && !record.documents.contains_key(name);
    let files = fs::read_dir(&target).ok()?.flatten().filter(|e| e.file_type().is_ok_and(|kind| !kind.is_dir()));
    let mut names = files.filter_map(|e| e.file_name().into_string().ok());
    (record.documents.iter().all(as_made) && !names.any(|name| stray(&name))).then_some(documents)
}

impl Output {
    /// Notes what the output was made from, for [`sealed`] and [`Output::of_spec`]; no `inputs` are sealed.
    ///
    /// # Errors
    /// Where the lock file cannot be written.
    pub fn seal(&self, inputs: &str, documents: usize, spec: &Path) -> Result<(), PublishError> {
        let record = self.target.join(RECORD);
        let record = digest(&at(&record, fs::read(&record))?);
        self.lock.write(&(text(inputs, &record, documents) + &self.noted(spec)))
    }
}
