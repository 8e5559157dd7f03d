//! Finds the external `typst` program, checks its version, and runs it: one process per document, side by side.

mod find;
mod pdf;
mod process;
mod run;

pub use find::{Typst, VERSION, WAYS_TO_GET};
pub use run::{Compiled, FIXED, Job, Progress, Settings, command, compile, standard};

use std::error::Error;
use std::fmt;
use std::io;
use std::path::{Path, PathBuf};
use std::time::Duration;

/// Font files that go with every PDF: file name and bytes.
const FONTS: &[(&str, &[u8])] = &[
    ("SourceSansPro-Regular.otf", include_bytes!("../templates/fonts/SourceSansPro-Regular.otf")),
    ("SourceSansPro-It.otf", include_bytes!("../templates/fonts/SourceSansPro-It.otf")),
    ("SourceSansPro-Semibold.otf", include_bytes!("../templates/fonts/SourceSansPro-Semibold.otf")),
    ("SourceSansPro-SemiboldIt.otf", include_bytes!("../templates/fonts/SourceSansPro-SemiboldIt.otf")),
];

/// The fonts that go with every PDF, as bytes.
pub fn fonts() -> impl Iterator<Item = &'static [u8]> {
    FONTS.iter().map(|(_, bytes)| *bytes)
}

/// Writes the fonts into a folder, which is made when it is not there. Files that are already right stay untouched.
///
/// # Errors
/// When a file cannot be written.
pub fn write_fonts(folder: &Path) -> Result<(), TypstError> {
    let failed =
        |path: &Path, error: &io::Error| TypstError::Files { path: path.to_owned(), message: error.to_string() };
    std::fs::create_dir_all(folder).map_err(|e| failed(folder, &e))?;
    for (name, bytes) in FONTS {
        let path = folder.join(name);
        if std::fs::read(&path).is_ok_and(|old| old == *bytes) {
            continue;
        }
        std::fs::write(&path, bytes).map_err(|e| failed(&path, &e))?;
    }
    Ok(())
}

/// Why there is no PDF.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum TypstError {
    /// The program is nowhere; the places that were looked at.
    NotFound {
        /// Looked for here.
        tried: Vec<PathBuf>,
    },
    /// A program is there, but not the right one.
    WrongVersion {
        /// The program.
        path: PathBuf,
        /// What it said to `--version`.
        said: String,
    },
    /// The program could not be started.
    NotStarted {
        /// The program.
        path: PathBuf,
        /// The system's message.
        message: String,
    },
    /// The program refused the document. That is a fault of the typesetting, not of the specification.
    Failed {
        /// The Typst file, which is kept.
        source: PathBuf,
        /// What the program said.
        messages: String,
    },
    /// The program came to a bad end: a crash, or it would not stop talking.
    Crashed {
        /// The Typst file, which is kept.
        source: PathBuf,
        /// How it ended, and what it said before.
        messages: String,
    },
    /// The program took too long and was ended.
    TimedOut {
        /// The Typst file, which is kept.
        source: PathBuf,
        /// The limit.
        limit: Duration,
    },
    /// The program said that all is well, but what it wrote is no PDF.
    NoPdf {
        /// The Typst file, which is kept.
        source: PathBuf,
        /// What is wrong with the output.
        why: String,
    },
    /// The run was broken off from outside, by Ctrl-C for example.
    Stopped,
    /// A file of the work folder could not be written.
    Files {
        /// The file or folder.
        path: PathBuf,
        /// The system's message.
        message: String,
    },
}

impl fmt::Display for TypstError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotFound { tried } => {
                write!(f, "the program `typst` {VERSION}.x was not found")?;
                if !tried.is_empty() {
                    let list: Vec<String> = tried.iter().map(|p| p.display().to_string()).collect();
                    write!(f, " (looked at {})", list.join(", "))?;
                }
                write!(f, "; {WAYS_TO_GET}")
            }
            Self::WrongVersion { path, said } => {
                write!(f, "{} says `{said}`, but {VERSION}.x is needed; {WAYS_TO_GET}", path.display())
            }
            Self::NotStarted { path, message } => {
                write!(f, "{} could not be started: {message}", path.display())
            }
            Self::Failed { source, messages } => write!(
                f,
                "typst refused {}, which is kept; unless the disk is full, that is a fault of rigbinder, please report \
                 it:\n{}",
                source.display(),
                messages.trim_end()
            ),
            Self::Crashed { source, messages } => {
                write!(f, "typst broke down over {}, which is kept: {}", source.display(), messages.trim_end())
            }
            Self::TimedOut { source, limit } => write!(
                f,
                "typst was not done with {} after {} s and was ended; the file is kept",
                source.display(),
                limit.as_secs()
            ),
            Self::NoPdf { source, why } => {
                write!(f, "typst made no PDF of {}, which is kept: {why}", source.display())
            }
            Self::Stopped => f.write_str("broken off"),
            Self::Files { path, message } => write!(f, "{}: {message}", path.display()),
        }
    }
}

impl TypstError {
    /// The Typst file that is kept, where the fault is about one.
    #[must_use]
    pub fn kept(&self) -> Option<&Path> {
        match self {
            Self::Failed { source, .. }
            | Self::Crashed { source, .. }
            | Self::TimedOut { source, .. }
            | Self::NoPdf { source, .. } => Some(source),
            _ => None,
        }
    }

    /// The same fault, told with the folder that the Typst file has been moved to.
    #[must_use]
    pub fn moved_to(mut self, folder: &Path) -> Self {
        if let Self::Failed { source, .. }
        | Self::Crashed { source, .. }
        | Self::TimedOut { source, .. }
        | Self::NoPdf { source, .. } = &mut self
        {
            *source = folder.join(source.file_name().unwrap_or_default());
        }
        self
    }
}

impl Error for TypstError {}
