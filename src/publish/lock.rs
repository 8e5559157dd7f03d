//! Holds off a second compile of the same build.

use super::error::{PublishError, at, plainly};
use crate::files;
use std::fs::{self, File, TryLockError};
use std::io::{self, Read, Seek, Write};
use std::path::{Path, PathBuf};

/// The lock of one output folder, `.<name>.lock` beside it. The system lets go of it when the program ends, however it
/// ends. The file stays where something is written in it; an empty one goes with the lock.
///
/// Who opened a file before it was removed could lock what bears no name any more, while another locks a new file of
/// that name. So who has got a lock looks whether the name still is that of the file it holds, and else begins anew.
#[derive(Debug)]
pub(super) struct Lock {
    file: File,
    path: PathBuf,
}

/// The lock file of `out/name`.
pub(super) fn path(out: &Path, name: &str) -> PathBuf {
    out.join(format!(".{name}.lock"))
}

/// How often a lock is begun anew whose file went meanwhile; each time another rigbinder has to end just then.
const TRIES: usize = 1000;

fn foreign(path: &Path) -> PublishError {
    let what = match files::kind(path) {
        None | Some(files::Kind::Plain) => "holds what rigbinder did not write".to_owned(),
        Some(other) => format!("is {}", other.words()),
    };
    let why = format!("{what}, where rigbinder's lock goes; move it away");
    PublishError::own(path, io::ErrorKind::AlreadyExists, why)
}

impl Lock {
    /// Takes the lock of `out/name`, or says that another has it.
    pub(super) fn take(out: &Path, name: &str) -> Result<Self, PublishError> {
        let path = path(out, name);
        for _ in 0..TRIES {
            let lock = Self::try_take(out, name, &path)?;
            if lock.has_its_name() {
                return if lock.is_ours() { Ok(lock) } else { Err(foreign(&path)) };
            }
        }
        Err(PublishError::own(&path, io::ErrorKind::ResourceBusy, "goes and comes; another program removes it"))
    }

    fn try_take(out: &Path, name: &str, path: &Path) -> Result<Self, PublishError> {
        let path = path.to_owned();
        let file = match files::open_or_make(&path) {
            Ok(file) => file,
            Err(_) if files::kind(&path).is_some_and(|kind| kind != files::Kind::Plain) => return Err(foreign(&path)),
            Err(e) => {
                let why = format!("cannot write in this folder: {}", plainly(&e));
                return Err(PublishError::own(out, e.kind(), why));
            }
        };
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

    /// Whether the file it holds is the one that bears the name.
    #[cfg(unix)]
    fn has_its_name(&self) -> bool {
        use std::os::unix::fs::MetadataExt;
        let number = |about: fs::Metadata| (about.dev(), about.ino());
        self.file.metadata().map(number).ok() == fs::symlink_metadata(&self.path).map(number).ok()
    }

    /// Elsewhere the file always stays.
    #[cfg(not(unix))]
    fn has_its_name(&self) -> bool {
        true
    }

    /// What the holder of an earlier lock wanted to remember.
    pub(super) fn read(&self) -> String {
        let (mut file, mut text) = (&self.file, String::new());
        // What is no text is remembered by nobody.
        drop(file.rewind().and_then(|()| file.read_to_string(&mut text)));
        text
    }

    /// Whether it may be written over: it holds nothing, or what a lock remembers. A file of another program, or one
    /// that bears a second name elsewhere, does not look like that.
    fn is_ours(&self) -> bool {
        self.file.metadata().is_ok_and(|about| about.len() == 0) || is_note(&self.read())
    }

    /// Writes what the holder of the lock wants to remember.
    pub(super) fn write(&self, text: &str) -> Result<(), PublishError> {
        let mut file = &self.file;
        let written = file.set_len(0).and_then(|()| file.rewind()).and_then(|()| file.write_all(text.as_bytes()));
        at(&self.path, written)
    }
}

#[cfg(unix)]
impl Drop for Lock {
    fn drop(&mut self) {
        // Still locked: whoever takes the lock from here on looks whether it has its name.
        if self.file.metadata().is_ok_and(|about| about.len() == 0) && self.has_its_name() {
            drop(fs::remove_file(&self.path));
        }
    }
}

#[cfg(all(test, unix))]
mod tests {
    use super::*;
    use std::sync::atomic::{AtomicUsize, Ordering};

    /// How often each of the many has to get the lock.
    const EACH: usize = 25;

    /// Many that take, hold and drop an empty lock, whose file comes and goes: never two at once, and each gets it in
    /// the end, however many tries its share of the machine costs it.
    #[test]
    fn two_never_hold_a_lock_whose_file_comes_and_goes() {
        let out = std::env::temp_dir().join(format!("rigbinder-lock-{}", std::process::id()));
        fs::create_dir_all(&out).expect("folder");
        let alone = Lock::take(&out, "van").expect("free");
        let busy = Lock::take(&out, "van").expect_err("another holds it");
        assert_eq!(busy.error.kind(), io::ErrorKind::ResourceBusy);
        drop(alone);
        let holders = AtomicUsize::new(0);
        std::thread::scope(|scope| {
            for _ in 0..8 {
                scope.spawn(|| {
                    let mut taken = 0;
                    while taken < EACH {
                        let lock = match Lock::take(&out, "van") {
                            Ok(lock) => lock,
                            Err(error) if error.error.kind() == io::ErrorKind::ResourceBusy => {
                                std::thread::yield_now();
                                continue;
                            }
                            Err(error) => panic!("{error}"),
                        };
                        assert_eq!(holders.fetch_add(1, Ordering::SeqCst), 0, "two hold the lock");
                        std::thread::yield_now();
                        holders.fetch_sub(1, Ordering::SeqCst);
                        taken += 1;
                        drop(lock);
                    }
                });
            }
        });
        assert!(!path(&out, "van").exists(), "an empty lock file goes");
        let lock = Lock::take(&out, "van").expect("free");
        let note = format!("\n{}\n4\n../van.toml\n", "0f".repeat(32));
        lock.write(&note).expect("written");
        drop(lock);
        assert_eq!(fs::read_to_string(path(&out, "van")).expect("stays"), note);
        assert_eq!(Lock::take(&out, "van").expect("free").read(), note);
        fs::remove_dir_all(out).expect("gone");
    }
}

/// Whether a text is what a lock file holds, or as much of it as a full disk took.
pub(super) fn is_note(text: &str) -> bool {
    let hex = |line: &str| line.bytes().all(|b| b.is_ascii_hexdigit());
    let lines: Vec<&str> = text.split('\n').collect();
    let fits = |at: usize, line: &str| {
        let cut = at + 1 == lines.len() && line.len() <= 64;
        match at {
            0 => hex(line) && (line.is_empty() || line.len() == 64 || cut),
            1 => hex(line) && (line.len() == 64 || cut),
            2 => line.bytes().all(|b| b.is_ascii_digit()) && (!line.is_empty() || cut),
            3 => true,
            _ => at == 4 && line.is_empty(),
        }
    };
    lines.iter().enumerate().all(|(at, line)| fits(at, line))
}
