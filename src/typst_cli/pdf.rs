//! Tells whether a file is a whole PDF, as far as its first and last bytes tell.

use std::fs::File;
use std::io::{Read, Seek, SeekFrom};
use std::path::Path;

/// How far from its end a PDF has its end mark (ISO 32000-1, annex H.3, note 18).
const TAIL: u64 = 1024;

/// What is wrong with the file; `None` where it begins and ends like a PDF.
pub(super) fn fault(path: &Path) -> Option<String> {
    let mut file = match File::open(path) {
        Ok(file) => file,
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => return Some("it wrote nothing".to_owned()),
        Err(error) => return Some(format!("its output cannot be read: {error}")),
    };
    let ends = || -> std::io::Result<(u64, Vec<u8>, Vec<u8>)> {
        let length = file.metadata()?.len();
        let (mut head, mut tail) = (Vec::new(), Vec::new());
        (&mut file).take(5).read_to_end(&mut head)?;
        file.seek(SeekFrom::Start(length.saturating_sub(TAIL)))?;
        (&mut file).take(TAIL).read_to_end(&mut tail)?;
        Ok((length, head, tail))
    };
    match { ends }() {
        Err(error) => Some(format!("its output cannot be read: {error}")),
        Ok((0, ..)) => Some("its output is empty".to_owned()),
        Ok((_, head, _)) if head != b"%PDF-" => Some("its output does not begin like a PDF".to_owned()),
        Ok((_, _, tail)) if !tail.windows(5).any(|w| w == b"%%EOF") => {
            Some("its output does not end like a PDF; it is cut off".to_owned())
        }
        Ok(_) => None,
    }
}
