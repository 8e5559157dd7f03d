//! Why an output could not be put in place.

use std::io;
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
        write!(f, "{}: {}", self.path.display(), plainly(&self.error))
    }
}

impl std::error::Error for PublishError {}

impl PublishError {
    /// A fault that has no number of the system.
    pub(super) fn own(path: &Path, kind: io::ErrorKind, why: impl Into<String>) -> Self {
        Self { path: path.to_owned(), error: io::Error::new(kind, why.into()) }
    }
}

/// The system's word without its number, which says nothing to a person.
#[must_use]
pub fn plainly(error: &io::Error) -> String {
    let text = error.to_string();
    text.split_once(" (os error ").map_or(text.as_str(), |(word, _)| word).to_owned()
}

/// `result` with the path it is about.
pub(super) fn at<T>(path: &Path, result: io::Result<T>) -> Result<T, PublishError> {
    result.map_err(|error| PublishError { path: path.to_owned(), error })
}
