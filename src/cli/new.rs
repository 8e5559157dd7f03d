//! `new`: a commented starter spec.

use super::CLEAN;
use super::print::Print;
use crate::catalogue::Catalogue;
use crate::publish::plainly;
use crate::spec;
use std::fs::OpenOptions;
use std::io::{ErrorKind, Write};
use std::path::Path;

pub(super) fn run(print: &Print, catalogue: &Catalogue, path: &Path) -> Result<u8, String> {
    let starter = spec::starter(catalogue).map_err(|e| e.to_string())?;
    if path == Path::new("-") {
        print.out(starter);
        return Ok(CLEAN);
    }
    let name = path.display();
    if path.is_dir() {
        let file = path.join("mine.toml");
        return Err(format!("cannot make {name}: it is a folder; name the file to make, such as {}", file.display()));
    }
    let made = OpenOptions::new().write(true).create_new(true).open(path);
    let mut file = made.map_err(|error| match (error.kind(), path.parent()) {
        (ErrorKind::AlreadyExists, _) => {
            format!("cannot make {name}: it exists, and nothing that exists is written over")
        }
        (ErrorKind::NotFound, Some(folder)) if !folder.exists() => {
            format!("cannot make {name}: there is no folder {}; make it first", folder.display())
        }
        _ => format!("cannot make {name}: {}", plainly(&error)),
    })?;
    if let Err(error) = file.write_all(starter.as_bytes()) {
        // Half a spec would stand in the way of the next try.
        drop(std::fs::remove_file(path));
        return Err(format!("cannot write {name}: {}", plainly(&error)));
    }
    print.note(&format!("wrote {name}; change it to your build, then: rigbinder check {name}"));
    Ok(CLEAN)
}
