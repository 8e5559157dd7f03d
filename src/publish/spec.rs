//! Which spec the documents of an output are of, so that no spec writes over those of another one.
//!
//! The record has the file name of the spec, but not its folder: that would name the machine. Two specs of one name in
//! two folders are told apart by a note in the lock file, beside the output, which is this machine's own.

use super::Output;
use super::error::PublishError;
use super::output::out_of;
use super::swap::name_of;
use std::io;
use std::path::{Component, Path, PathBuf};

/// Line of the lock file with the way from the folder of all outputs to the spec.
const NOTE: usize = 3;

impl Output {
    /// The output, where its documents are of `spec` or of nothing known.
    ///
    /// # Errors
    /// Where they are of a spec with another file name, or of one with the same name that still stands elsewhere.
    pub fn of_spec(self, spec: &Path) -> Result<Self, PublishError> {
        let (there, name) = (&self.record.spec, name_of(spec));
        let refuse = |of: &str, rename: &str| {
            let target = self.target.display();
            let why = format!(
                "holds the documents of {of}, and those of {} would go to the same folder; name another folder with \
                 --out, or {rename}. If it is the same spec, renamed or moved: --take-over writes to {target}",
                spec.display()
            );
            Err(PublishError::own(&self.target, io::ErrorKind::AlreadyExists, why))
        };
        if !there.is_empty() && *there != name {
            return refuse(there, "rename the spec");
        }
        // A spec that is not there any more was moved here.
        let noted = self.lock.read().lines().nth(NOTE).map(str::to_owned).unwrap_or_default();
        let earlier = out_of(&self.target).join(&noted);
        if !there.is_empty() && !noted.is_empty() && noted != self.way_to(spec) && earlier.is_file() {
            return refuse(&earlier.display().to_string(), "rename one of them");
        }
        Ok(self)
    }

    /// The note for the lock file.
    pub(super) fn noted(&self, spec: &Path) -> String {
        let way = self.way_to(spec);
        if way.is_empty() { way } else { way + "\n" }
    }

    /// The way from the folder of all outputs to a spec; "" where it cannot be told in one line of text. It stays true
    /// when both are moved or copied together.
    fn way_to(&self, spec: &Path) -> String {
        let whole = |path: &Path| path.canonicalize().ok();
        let way = whole(out_of(&self.target)).zip(whole(spec)).map(|(out, spec)| way(&out, &spec));
        let text = way.and_then(|way| way.to_str().map(str::to_owned)).unwrap_or_default();
        if text.contains(['\n', '\r']) { String::new() } else { text }
    }
}

/// The way from a folder to a file, both whole paths.
fn way(from: &Path, to: &Path) -> PathBuf {
    let (from, to): (Vec<Component<'_>>, Vec<Component<'_>>) = (from.components().collect(), to.components().collect());
    let shared = from.iter().zip(&to).take_while(|(a, b)| a == b).count();
    let up = from[shared..].iter().map(|_| Component::ParentDir);
    up.chain(to[shared..].iter().copied()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_way_goes_up_and_down() {
        let way = |from, to| super::way(Path::new(from), Path::new(to)).display().to_string().replace('\\', "/");
        assert_eq!(way("/shop/docs-out", "/shop/van.toml"), "../van.toml");
        assert_eq!(way("/shop/a/docs", "/shop/b/van.toml"), "../../b/van.toml");
        assert_eq!(way("/shop", "/shop/specs/van.toml"), "specs/van.toml");
    }
}
