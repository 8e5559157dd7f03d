//! `new`: a commented starter spec.

use super::CLEAN;
use super::print::Print;
use crate::spec;
use std::fs::OpenOptions;
use std::io::Write;
use std::path::Path;

pub(super) fn run(print: &Print, path: &Path) -> Result<u8, String> {
    let name = path.display();
    let mut file = OpenOptions::new()
        .write(true)
        .create_new(true)
        .open(path)
        .map_err(|e| format!("cannot make {name}: {e}; nothing that exists is written over"))?;
    file.write_all(spec::starter().as_bytes()).map_err(|e| format!("cannot write {name}: {e}"))?;
    print.note(&format!("wrote {name}; change it to your build, then: rigbinder check {name}"));
    Ok(CLEAN)
}
