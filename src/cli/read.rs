//! Reads the files that a person names: plain files and pipes, never more than a limit, never a device.

use crate::publish::plainly;
use std::fs::{File, OpenOptions};
use std::io::{self, Read};
use std::path::Path;

/// Most bytes of a spec that are read; its reader has a lower limit, with a finding of its own.
const SPEC: u64 = 16 << 20;

/// Most bytes of a record; that of a large build has less than a hundredth of it.
const RECORD: u64 = 256 << 20;

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
    let file = open(path).map_err(cannot)?;
    let about = file.metadata().map_err(cannot)?;
    let pipe = is_pipe(&about);
    if !about.is_file() && !pipe {
        return Err(format!("cannot read {name}: it is a device, no file"));
    }
    if about.is_file() && about.len() > limit {
        return Err(format!("{name} has {} bytes; {what} has far less, is this the right file?", about.len()));
    }
    let mut bytes = Vec::new();
    file.take(limit + 1).read_to_end(&mut bytes).map_err(cannot)?;
    if bytes.len() as u64 > limit {
        return Err(format!("{name} gives more than {limit} bytes; {what} has far less, is this the right file?"));
    }
    if pipe && bytes.is_empty() {
        return Err(format!("cannot read {name}: it is a pipe, and nothing came out of it"));
    }
    Ok(bytes)
}

/// Opens without waiting: to open a pipe that nobody writes to would take for ever. Reading waits as usual.
#[cfg(unix)]
fn open(path: &Path) -> io::Result<File> {
    use rustix::fs::{OFlags, fcntl_getfl, fcntl_setfl};
    use std::os::unix::fs::OpenOptionsExt;
    let wait_not = i32::try_from(OFlags::NONBLOCK.bits()).unwrap_or(0);
    let file = OpenOptions::new().read(true).custom_flags(wait_not).open(path)?;
    let flags = fcntl_getfl(&file)?;
    fcntl_setfl(&file, flags - OFlags::NONBLOCK)?;
    Ok(file)
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
