//! Papers of those who tested, as files beside the spec that names them: read within limits, digested, copied to the output.
//!
//! A spec may come from anyone: it reaches no file outside its own folder, none through a link, and none but documents and
//! pictures.

use crate::digest::digest;
use crate::files::{self, Kind};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::io::Read;
use std::path::Path;

/// Endings of files that are papers.
pub const ENDINGS: [&str; 5] = ["pdf", "png", "jpg", "jpeg", "txt"];

/// Folder of the copies in the output.
pub const FOLDER: &str = "certificates";

/// Most bytes of one.
const LARGEST: u64 = 16_000_000;
/// Most bytes of all of a spec.
const LARGEST_SUM: u64 = 128_000_000;
/// Most letters of a name.
const LONGEST: usize = 200;

/// A paper as it lies there.
#[derive(Clone, Debug)]
pub struct Paper {
    /// Its bytes.
    pub bytes: Vec<u8>,
    /// SHA-256 of them (FIPS 180-4), 64 hexadecimal digits.
    pub digest: String,
    /// Name of its copy in the output.
    pub copy: String,
}

/// Why a paper is not read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Unread {
    /// Nothing lies there.
    Missing,
    /// What lies there, or the name, is none that is read; a clause that follows the name.
    Unusable(String),
}

/// The papers of a spec by the names it has for them.
#[derive(Clone, Debug, Default)]
pub struct Papers(BTreeMap<String, Result<Paper, Unread>>);

impl Papers {
    /// Reads those of these names in the folder of a spec.
    #[must_use]
    pub fn read<'n>(folder: &Path, names: impl Iterator<Item = &'n str>) -> Self {
        let names: BTreeSet<&str> = names.collect();
        let (mut all, mut copies, mut sum) = (BTreeMap::new(), BTreeSet::new(), 0);
        for name in names {
            let paper = bytes(folder, name, LARGEST_SUM - sum).map(|bytes| {
                sum += bytes.len() as u64;
                Paper { digest: digest(&bytes), bytes, copy: copy(name, &mut copies) }
            });
            all.insert(name.to_owned(), paper);
        }
        Self(all)
    }

    /// The paper of that name; `None` where nobody looked for it.
    #[must_use]
    pub fn get(&self, name: &str) -> Option<&Result<Paper, Unread>> {
        self.0.get(name)
    }

    /// Those that were read.
    pub fn there(&self) -> impl Iterator<Item = &Paper> {
        self.0.values().flatten()
    }
}

/// A name for the copy that no other has, letters of either case.
fn copy(name: &str, taken: &mut BTreeSet<String>) -> String {
    let plain = name.replace('/', "-");
    let mut free = plain.clone();
    let mut number = 1;
    while !taken.insert(free.to_lowercase()) {
        number += 1;
        free = format!("{number}-{plain}");
    }
    format!("{FOLDER}/{free}")
}

fn bytes(folder: &Path, name: &str, left: u64) -> Result<Vec<u8>, Unread> {
    let unusable = |why: &str| Err(Unread::Unusable(why.to_owned()));
    if let Some(why) = flaw(name) {
        return unusable(why);
    }
    let parts: Vec<&str> = name.split('/').collect();
    let mut path = folder.to_owned();
    for (at, part) in parts.iter().enumerate() {
        path.push(part);
        match (files::kind(&path), at + 1 < parts.len()) {
            (None, _) => return Err(Unread::Missing),
            (Some(Kind::Folder), true) | (Some(Kind::Plain), false) => {}
            (Some(other), true) => return unusable(&format!("lies in what is {}, where a folder goes", other.words())),
            (Some(other), false) => return unusable(&format!("is {}, where a file goes", other.words())),
        }
    }
    let limit = LARGEST.min(left);
    let too_large = || {
        let of_all = if limit < LARGEST { " together with the others" } else { "" };
        Err(Unread::Unusable(format!(
            "is larger{of_all} than the {} MB that are read",
            limit.max(1_000_000) / 1_000_000
        )))
    };
    if fs::symlink_metadata(&path).is_ok_and(|about| about.len() > limit) {
        return too_large();
    }
    let mut bytes = Vec::new();
    // Its size may change while it is read.
    let read = files::open(&path).and_then(|file| file.take(limit + 1).read_to_end(&mut bytes));
    match read {
        Err(error) => Err(Unread::Unusable(format!("cannot be read: {error}"))),
        Ok(_) if bytes.len() as u64 > limit => too_large(),
        Ok(_) => Ok(bytes),
    }
}

/// What is wrong with a name, as a clause that follows it.
fn flaw(name: &str) -> Option<&'static str> {
    let parts = || name.split('/');
    if name.len() > LONGEST {
        return Some("is too long for the name of a file");
    }
    if name.starts_with(['/', '\\', '~']) || name.contains(':') || parts().any(|part| part == "..") {
        return Some("leads out of the folder of the spec");
    }
    if name.contains('\\') {
        return Some("has a \\ where a / goes");
    }
    if name.chars().any(|c| c.is_control() || "*?\"<>|".contains(c)) {
        return Some("has a sign that no name of a file has everywhere");
    }
    if parts().any(|part| part.is_empty() || part.starts_with('.') || part.ends_with(['.', ' '])) {
        return Some("is no plain name of a file");
    }
    let ending = Path::new(name).extension().and_then(|e| e.to_str()).unwrap_or_default().to_ascii_lowercase();
    (!ENDINGS.contains(&ending.as_str())).then_some("is no document or picture by its ending")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_lead_to_documents_below_the_folder_alone() {
        for good in ["gas.pdf", "papers/2027/gas test.PDF", "seat-A.jpg", "prüfung.txt"] {
            assert_eq!(flaw(good), None, "{good}");
        }
        let bad = [
            "",
            "/etc/gas.pdf",
            "../gas.pdf",
            "a/../../gas.pdf",
            "~/gas.pdf",
            "C:gas.pdf",
            "a\\gas.pdf",
            "\\\\h\\gas.pdf",
            ".gas.pdf",
            ".ssh/gas.pdf",
            "a//gas.pdf",
            "gas",
            "gas.toml",
            "gas.html",
            "gas.pdf ",
            "gas\n.pdf",
            "a*.pdf",
        ];
        for bad in bad {
            assert!(flaw(bad).is_some(), "{bad:?}");
        }
        assert!(flaw(&format!("{}.pdf", "a".repeat(LONGEST))).is_some());
    }

    #[test]
    fn copies_have_names_of_their_own() {
        let mut taken = BTreeSet::new();
        let copies: Vec<String> = ["a/b.pdf", "A-b.pdf", "a-b.pdf"].iter().map(|n| copy(n, &mut taken)).collect();
        assert_eq!(copies, ["certificates/a-b.pdf", "certificates/2-A-b.pdf", "certificates/3-a-b.pdf"]);
    }
}
