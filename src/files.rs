//! Files that may not be what their names say: none is opened through a link, none that is no plain file, none waits.
//!
//! In an output folder anybody may have put anything in the place of a file of ours. A link leads to a file that is
//! nobody's business here; a pipe gives nothing and never ends; a device does as it likes. Files that a person names
//! on the command line are another matter: `cli/read.rs`.

use std::fs::{self, File, Metadata, OpenOptions};
use std::io::{self, Read};
use std::path::Path;

/// What stands at a path, links not followed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    /// A plain file.
    Plain,
    /// A folder.
    Folder,
    /// A symbolic link, wherever it leads.
    Link,
    /// A pipe, a socket or a device.
    Other,
}

impl Kind {
    /// With its article.
    #[must_use]
    pub(crate) const fn words(self) -> &'static str {
        match self {
            Self::Plain => "a file",
            Self::Folder => "a folder",
            Self::Link => "a link",
            Self::Other => "a pipe, a socket or a device",
        }
    }
}

/// What stands there; `None` for nothing, or for what cannot be looked at.
#[must_use]
pub(crate) fn kind(path: &Path) -> Option<Kind> {
    fs::symlink_metadata(path).ok().map(|about| kind_of(&about))
}

fn kind_of(about: &Metadata) -> Kind {
    let kind = about.file_type();
    if kind.is_symlink() {
        Kind::Link
    } else if kind.is_dir() {
        Kind::Folder
    } else if kind.is_file() {
        Kind::Plain
    } else {
        Kind::Other
    }
}

/// Whether a plain file stands there.
#[must_use]
pub(crate) fn is_plain(path: &Path) -> bool {
    kind(path) == Some(Kind::Plain)
}

/// Whether a folder stands there, and no link to one.
#[must_use]
pub(crate) fn is_folder(path: &Path) -> bool {
    kind(path) == Some(Kind::Folder)
}

/// All bytes of a plain file.
///
/// # Errors
/// What the system says, or what stands there instead of a plain file.
pub(crate) fn read(path: &Path) -> io::Result<Vec<u8>> {
    let mut file = open(path)?;
    let mut bytes = Vec::with_capacity(file.metadata().ok().and_then(|m| usize::try_from(m.len()).ok()).unwrap_or(0));
    file.read_to_end(&mut bytes)?;
    Ok(bytes)
}

/// Opens a plain file to read it.
///
/// # Errors
/// As for [`read`].
pub(crate) fn open(path: &Path) -> io::Result<File> {
    opened(path, OpenOptions::new().read(true))
}

/// Opens a plain file to read and write it; makes it where nothing stands.
///
/// # Errors
/// As for [`read`].
pub(crate) fn open_or_make(path: &Path) -> io::Result<File> {
    opened(path, OpenOptions::new().read(true).write(true).create(true).truncate(false))
}

/// Sees to it that a plain file is on the disk.
///
/// # Errors
/// As for [`read`].
pub(crate) fn sync(path: &Path) -> io::Result<()> {
    // Some systems put on the disk only what may be written.
    opened(path, OpenOptions::new().read(true).write(!cfg!(unix))).and_then(|file| file.sync_all())
}

fn opened(path: &Path, options: &mut OpenOptions) -> io::Result<File> {
    // Looked at first, since opening alone makes some devices act; and again once it is open, since what has the name
    // may be another file by then.
    match kind(path) {
        None | Some(Kind::Plain) => {}
        Some(other) => return Err(not_plain(other)),
    }
    let file = never_waiting(options).open(path).map_err(|error| match kind(path) {
        None | Some(Kind::Plain) => error,
        Some(other) => not_plain(other),
    })?;
    match kind_of(&file.metadata()?) {
        Kind::Plain => Ok(file),
        other => Err(not_plain(other)),
    }
}

fn not_plain(kind: Kind) -> io::Error {
    io::Error::new(io::ErrorKind::InvalidInput, format!("is {}, where a plain file goes", kind.words()))
}

#[cfg(unix)]
fn never_waiting(options: &mut OpenOptions) -> &mut OpenOptions {
    use rustix::fs::OFlags;
    use std::os::unix::fs::OpenOptionsExt;
    options.custom_flags(i32::try_from((OFlags::NOFOLLOW | OFlags::NONBLOCK).bits()).unwrap_or(0))
}

#[cfg(not(unix))]
fn never_waiting(options: &mut OpenOptions) -> &mut OpenOptions {
    options
}

#[cfg(all(test, unix))]
mod tests {
    use super::*;
    use std::os::unix::net::UnixListener;

    #[test]
    fn only_plain_files_are_opened_and_none_waits() {
        let here = std::env::temp_dir().join(format!("rigbinder-files-{}", std::process::id()));
        drop(fs::remove_dir_all(&here));
        fs::create_dir_all(here.join("folder")).expect("folder");
        let at = |name: &str| here.join(name);
        fs::write(at("plain"), "text").expect("file");
        std::os::unix::fs::symlink(at("plain"), at("link")).expect("link");
        std::os::unix::fs::symlink(at("nowhere"), at("dangling")).expect("link");
        assert!(std::process::Command::new("mkfifo").arg(at("pipe")).status().expect("mkfifo").success());
        let _socket = UnixListener::bind(at("socket")).expect("socket");
        assert_eq!(read(&at("plain")).expect("plain"), b"text");
        assert_eq!(read(&at("nothing")).expect_err("nothing").kind(), io::ErrorKind::NotFound);
        for (name, words) in [
            ("link", "is a link, where"),
            ("dangling", "is a link, where"),
            ("folder", "is a folder, where"),
            ("pipe", "is a pipe, a socket or a device, where"),
            ("socket", "is a pipe, a socket or a device, where"),
        ] {
            for opened in [open(&at(name)).map(drop), open_or_make(&at(name)).map(drop), sync(&at(name))] {
                let told = opened.expect_err(name).to_string();
                assert!(told.contains(words), "{name}: {told}");
            }
        }
        assert!(!at("nowhere").exists(), "nothing is made through a link");
        assert_eq!(fs::read_to_string(at("plain")).expect("there"), "text");
        open_or_make(&at("new")).expect("made");
        assert!(is_plain(&at("new")) && is_folder(&at("folder")) && !is_plain(&at("link")) && !is_folder(&at("link")));
        sync(&at("new")).expect("on the disk");
        fs::remove_dir_all(here).expect("gone");
    }
}
