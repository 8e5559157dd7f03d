//! Reads the files that a person names: plain files and what is piped in, never more than a limit, never a device.

use super::stop;
use crate::publish::plainly;
use std::fs::{File, OpenOptions};
use std::io::{self, ErrorKind, Read};
use std::path::Path;
use std::thread;
use std::time::Duration;

/// Most bytes of a spec that are read; its reader has a lower limit, with a finding of its own.
const SPEC: u64 = 16 << 20;

/// Most bytes of a record; that of a large build has less than a hundredth of it.
const RECORD: u64 = 256 << 20;

/// Time between two looks at a pipe that gives nothing yet.
const LOOK: Duration = Duration::from_millis(20);

/// The bytes of a spec file.
pub(super) fn spec(path: &Path) -> Result<Vec<u8>, String> {
    if path.is_dir() {
        return Err(format!("{} is a folder; name the spec file in it", path.display()));
    }
    bounded(path, SPEC, "a spec")
}

/// The bytes of a record of an earlier compile.
pub(super) fn record(path: &Path) -> Result<Vec<u8>, String> {
    if path.is_dir() {
        return Err(format!("{} is a folder; name the record.json in it", path.display()));
    }
    bounded(path, RECORD, "a record")
}

fn bounded(path: &Path, limit: u64, what: &str) -> Result<Vec<u8>, String> {
    let name = path.display();
    let cannot = |e: io::Error| format!("cannot read {name}: {}", plainly(&e));
    // Looked at before it is opened: to open a device can make it act.
    let about = std::fs::metadata(path).map_err(cannot)?;
    if !about.is_file() && !is_pipe(&about) {
        return Err(format!("cannot read {name}: it is a socket or a device, no file"));
    }
    // What a shell pipes in comes by a link to it. A pipe with a name of its own stands where a file goes.
    if is_pipe(&about) && std::fs::symlink_metadata(path).is_ok_and(|about| is_pipe(&about)) {
        return Err(format!("cannot read {name}: it is a pipe, no file; pipe a text to /dev/stdin instead"));
    }
    let file = open(path).map_err(cannot)?;
    let about = file.metadata().map_err(cannot)?;
    let pipe = is_pipe(&about);
    if !about.is_file() && !pipe {
        return Err(format!("cannot read {name}: it is a socket or a device, no file"));
    }
    if about.is_file() && about.len() > limit {
        return Err(format!("{name} has {} bytes; {what} has far less, is this the right file?", about.len()));
    }
    let mut bytes = Vec::new();
    until_end(&mut file.take(limit + 1), &mut bytes).map_err(cannot)?;
    if bytes.len() as u64 > limit {
        return Err(format!("{name} gives more than {limit} bytes; {what} has far less, is this the right file?"));
    }
    if pipe && bytes.is_empty() {
        return Err(format!("cannot read {name}: it is a pipe, and nothing came out of it"));
    }
    Ok(bytes)
}

/// Reads all there is. The wait for a pipe ends when a person or the system asks for the end.
fn until_end(file: &mut impl Read, bytes: &mut Vec<u8>) -> io::Result<()> {
    loop {
        match file.read_to_end(bytes) {
            Err(error) if error.kind() == ErrorKind::WouldBlock => {
                if stop::asked() {
                    return Err(io::Error::new(ErrorKind::Interrupted, "broken off"));
                }
                thread::sleep(LOOK);
            }
            result => return result.map(drop),
        }
    }
}

/// Opens without waiting, now and when it is read: a pipe that nobody writes to would give nothing for ever.
#[cfg(unix)]
fn open(path: &Path) -> io::Result<File> {
    use rustix::fs::OFlags;
    use std::os::unix::fs::OpenOptionsExt;
    let wait_not = i32::try_from(OFlags::NONBLOCK.bits()).unwrap_or(0);
    OpenOptions::new().read(true).custom_flags(wait_not).open(path)
}

#[cfg(not(unix))]
fn open(path: &Path) -> io::Result<File> {
    OpenOptions::new().read(true).open(path)
}

#[cfg(unix)]
fn is_pipe(about: &std::fs::Metadata) -> bool {
    std::os::unix::fs::FileTypeExt::is_fifo(&about.file_type())
}

#[cfg(not(unix))]
fn is_pipe(_: &std::fs::Metadata) -> bool {
    false
}
