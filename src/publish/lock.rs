//! Holds off a second compile of the same build.

use super::error::{PublishError, at};
use std::fs::{File, TryLockError};
use std::io::{self, Seek, Write};
use std::path::{Path, PathBuf};

/// The lock of one output folder, `.<name>.lock` beside it. The system lets go of it when the program ends, however it
/// ends; the file itself stays, since removing it would let two programs hold two locks of the same name.
#[derive(Debug)]
pub(super) struct Lock {
    file: File,
    path: PathBuf,
}

/// The lock file of `out/name`.
pub(super) fn path(out: &Path, name: &str) -> PathBuf {
    out.join(format!(".{name}.lock"))
}

impl Lock {
    /// Takes the lock of `out/name`, or says that another has it.
    pub(super) fn take(out: &Path, name: &str) -> Result<Self, PublishError> {
        let path = path(out, name);
        let file = at(&path, File::options().create(true).truncate(false).write(true).open(&path))?;
        match file.try_lock() {
            Ok(()) => Ok(Self { file, path }),
            Err(TryLockError::WouldBlock) => Err(PublishError::own(
                &out.join(name),
                io::ErrorKind::ResourceBusy,
                "another rigbinder is writing this folder; wait until it is done or end it",
            )),
            // Some network drives know no locks; two compiles at once are rare enough to go on there.
            Err(TryLockError::Error(error)) if error.kind() == io::ErrorKind::Unsupported => Ok(Self { file, path }),
            Err(TryLockError::Error(error)) => Err(PublishError { path, error }),
        }
    }

    /// Writes what the holder of the lock wants to remember.
    pub(super) fn write(&self, text: &str) -> Result<(), PublishError> {
        let mut file = &self.file;
        let written = file.set_len(0).and_then(|()| file.rewind()).and_then(|()| file.write_all(text.as_bytes()));
        at(&self.path, written)
    }
}
