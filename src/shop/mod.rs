//! A shop's folder on the disk → a layer of the catalogue: `shop.toml`, `stock/`, `kinds/`, `pictures/`.
//!
//! Nothing of it is opened through a link, nothing that is no plain file, nothing larger than its limit. What cannot be
//! taken in is kept in the layer as a fault, which stands among the findings of each spec that uses the folder.

mod picture;

pub use picture::flaw;

use crate::catalogue::{Layer, LayerFault, PAGE};
use crate::files::{self, Kind};
use std::collections::BTreeMap;
use std::ffi::OsString;
use std::fs;
use std::io::{self, Read};
use std::path::Path;

/// Name of the finding on a file that cannot be taken in.
const UNREADABLE: &str = "shop-file-unreadable";
/// Name of the finding on a picture that cannot be printed.
const PICTURE: &str = "picture-unusable";

/// Most bytes of a text.
const LARGEST_TEXT: u64 = 4_000_000;
/// Most bytes of a picture.
const LARGEST_PICTURE: u64 = 4_000_000;
/// Most files of a folder.
const MOST_FILES: usize = 4_000;

/// Whether a folder is a shop's: it has a `shop.toml`, whatever that is.
#[must_use]
pub fn is_shop(folder: &Path) -> bool {
    files::kind(&folder.join(PAGE)).is_some()
}

/// What shows whether a shop's folder changed: its texts, and of pictures, which may be many and large, size and time.
#[must_use]
pub fn glance(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let mut taking = Taking::texts_of(folder);
    for name in taking.names("pictures") {
        let path = format!("pictures/{name}");
        let seen = fs::symlink_metadata(folder.join(&path)).map(|meta| (meta.len(), meta.modified().ok()));
        taking.files.insert(path, format!("{seen:?}").into_bytes());
    }
    let faults = taking.faults.into_iter().map(|fault| (fault.path, fault.headline.into_bytes()));
    taking.files.extend(faults);
    taking.files
}

/// Takes in a shop's folder.
#[must_use]
pub fn read(folder: &Path) -> Layer {
    let mut taking = Taking::texts_of(folder);
    // A shop may keep hundreds of pictures: those are read that a text names.
    for name in taking.names("pictures") {
        let named = |bytes: &Vec<u8>| {
            let text = String::from_utf8_lossy(bytes);
            text.contains(&format!("\"{name}\"")) || text.contains(&format!("'{name}'"))
        };
        if taking.files.values().any(named) {
            taking.picture(&name);
        }
    }
    Layer::of_shop(&folder.display().to_string(), taking.files, taking.faults)
}

struct Taking<'a> {
    folder: &'a Path,
    files: BTreeMap<String, Vec<u8>>,
    faults: Vec<LayerFault>,
}

impl<'a> Taking<'a> {
    /// All its texts.
    fn texts_of(folder: &'a Path) -> Self {
        let mut taking = Self { folder, files: BTreeMap::new(), faults: Vec::new() };
        taking.text(PAGE.to_owned());
        for inside in ["stock", "kinds"] {
            for name in taking.names(inside) {
                if Path::new(&name).extension().is_some_and(|e| e == "toml") {
                    taking.text(format!("{inside}/{name}"));
                }
            }
        }
        taking
    }

    fn fault(&mut self, name: &'static str, path: &str, why: &str, help: &str) {
        let headline = format!("{path} {why}");
        self.faults.push(LayerFault { name, path: path.to_owned(), headline, help: help.to_owned() });
    }

    fn cannot(&mut self, path: &str, error: &io::Error) {
        let told = error.to_string();
        let why = if told.starts_with("is ") { told } else { format!("cannot be read: {told}") };
        self.fault(UNREADABLE, path, &why, "put the file itself into the shop's folder, or take it away");
    }

    /// Names of what lies in a folder of the shop's, sorted; those that begin with a dot are nobody's business.
    fn names(&mut self, inside: &str) -> Vec<String> {
        let path = self.folder.join(inside);
        match files::kind(&path) {
            None => return Vec::new(),
            Some(Kind::Folder) => {}
            Some(other) => {
                let why = format!("is {}, where a folder goes", other.words());
                self.fault(UNREADABLE, inside, &why, "put the folder itself there: nothing is read through a link");
                return Vec::new();
            }
        }
        let all: Result<Vec<OsString>, io::Error> =
            fs::read_dir(&path).and_then(|entries| entries.map(|entry| entry.map(|e| e.file_name())).collect());
        let all = match all {
            Ok(all) => all,
            Err(error) => {
                self.cannot(inside, &error);
                return Vec::new();
            }
        };
        if all.len() > MOST_FILES {
            let why = format!("holds {} files; {MOST_FILES} are allowed", all.len());
            self.fault(UNREADABLE, inside, &why, "is this the right folder?");
            return Vec::new();
        }
        let mut names: Vec<String> = all.into_iter().filter_map(|name| name.into_string().ok()).collect();
        names.retain(|name| !name.starts_with('.'));
        names.sort_unstable();
        names
    }

    fn text(&mut self, path: String) {
        match self.bytes(&path, LARGEST_TEXT) {
            Ok(bytes) if std::str::from_utf8(&bytes).is_ok() => {
                self.files.insert(path, bytes);
            }
            Ok(_) => self.fault(UNREADABLE, &path, "is not UTF-8 text", "save the file as UTF-8 in the editor"),
            Err(error) => self.cannot(&path, &error),
        }
    }

    fn picture(&mut self, name: &str) {
        let path = format!("pictures/{name}");
        match self.bytes(&path, LARGEST_PICTURE) {
            Ok(bytes) => match flaw(name, &bytes) {
                None => drop(self.files.insert(path, bytes)),
                Some(why) => {
                    let help = "save it again from a drawing program as a plain SVG, or as a PNG";
                    self.fault(PICTURE, &path, &why, help);
                }
            },
            Err(error) => self.cannot(&path, &error),
        }
    }

    fn bytes(&self, path: &str, limit: u64) -> io::Result<Vec<u8>> {
        let file = files::open(&self.folder.join(path))?;
        let length = file.metadata()?.len();
        let too_large = |bytes| io::Error::other(format!("is too large: it has {bytes} bytes; {limit} are allowed"));
        if length > limit {
            return Err(too_large(length));
        }
        let mut bytes = Vec::new();
        file.take(limit + 1).read_to_end(&mut bytes)?;
        if bytes.len() as u64 > limit { Err(too_large(bytes.len() as u64)) } else { Ok(bytes) }
    }
}
