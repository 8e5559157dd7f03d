//! Remembers what an output was made from, so that a run with the same inputs need not even write the texts.
//!
//! The seal stands in the lock file, beside the output: it names this machine's program and is nobody else's business.
//! A seal that does not fit costs nothing but time.

use super::error::{PublishError, at};
use super::leftovers::{left_of_releases, left_over};
use super::{MADE, Output, RECORD, Record, is_own};
use crate::digest::digest;
use crate::files;
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
    let seal = String::from_utf8(files::read(&super::lock::path(out, name)).ok()?).ok()?;
    let target = out.join(name);
    let record = digest(&files::read(&target.join(RECORD)).ok()?);
    let documents = seal.lines().nth(2)?.parse().ok()?;
    let left = [left_over(&target).ok()?, left_of_releases(out, name).ok()?];
    let in_order = files::is_plain(&target.join(MADE)) && left.iter().all(Vec::is_empty);
    if !seal.starts_with(&text(inputs, &record, documents)) || !in_order {
        return None;
    }
    let record = Record::read(&target);
    let as_made = |(name, entry): (&String, &super::Entry)| {
        files::read(&target.join(name)).is_ok_and(|bytes| digest(&bytes) == entry.digest)
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
        let record = digest(&at(&record, files::read(&record))?);
        self.lock.write(&(text(inputs, &record, documents) + &self.noted(spec)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::publish::lock::is_note;

    #[test]
    fn a_note_is_told_from_the_files_of_others_however_much_of_it_is_there() {
        let digest = "0f".repeat(32);
        for note in [text(&digest, &digest, 24), text("", &digest, 0) + "../van.toml\n"] {
            assert!((0..=note.len()).all(|end| is_note(&note[..end])), "{note}");
        }
        let others = ["1234\n", "important\n", "[package]\nname = \"x\"\n", "\n\n", "a\nb\nc\n", "0f\n0f\n1\n"];
        assert!(others.iter().all(|text| !is_note(text)));
        assert!(!is_note(&(text(&digest, &digest, 24) + "van.toml\nmore\n")));
    }
}
