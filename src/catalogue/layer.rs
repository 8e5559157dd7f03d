//! One layer: the embedded folder, or the files of a shop as they were read.

use crate::assets::TEMPLATES;
use std::collections::BTreeMap;
use std::fmt;
use std::sync::Arc;

/// What a shop's layer may have: its own page, and files right in these folders. Templates, style, rules and words stay
/// built in, so that DRAFT and cautions cannot be taken out.
pub const OPEN: [&str; 3] = ["kinds", "stock", "pictures"];

/// The page of a shop about itself.
pub const PAGE: &str = "shop.toml";

/// What stands in a shop's folder and cannot be taken in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LayerFault {
    /// Name of the finding.
    pub name: &'static str,
    /// The file or folder, below the shop's.
    pub path: String,
    /// One line, complete on its own.
    pub headline: String,
    /// What to do.
    pub help: String,
}

/// Texts and pictures by their path below a folder.
#[derive(Clone, PartialEq, Eq)]
pub struct Layer {
    name: Arc<str>,
    /// `None` for what is built in.
    files: Option<Arc<BTreeMap<String, Vec<u8>>>>,
    faults: Arc<[LayerFault]>,
}

impl Layer {
    /// What is embedded in the program.
    pub(super) fn built_in() -> Self {
        Self { name: "rigbinder".into(), files: None, faults: Arc::default() }
    }

    /// The files of a shop's folder by their paths in it, with `/`, and what could not be taken in. Files that a shop cannot
    /// supply are left out.
    #[must_use]
    pub fn of_shop(name: &str, mut files: BTreeMap<String, Vec<u8>>, faults: Vec<LayerFault>) -> Self {
        files.retain(|path, _| {
            let open = |(folder, file): (&str, &str)| OPEN.contains(&folder) && !file.contains('/');
            path == PAGE || path.split_once('/').is_some_and(open)
        });
        Self { name: name.into(), files: Some(Arc::new(files)), faults: faults.into() }
    }

    /// What it is called in messages: the folder of a shop.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Whether it is what is embedded in the program.
    #[must_use]
    pub const fn is_built_in(&self) -> bool {
        self.files.is_none()
    }

    /// What stands there and could not be taken in.
    #[must_use]
    pub fn faults(&self) -> &[LayerFault] {
        &self.faults
    }

    /// Paths of its files; none of what is built in.
    pub fn paths(&self) -> impl Iterator<Item = &str> {
        self.files.iter().flat_map(|files| files.keys()).map(String::as_str)
    }

    /// What stands at `path`.
    #[must_use]
    pub fn bytes(&self, path: &str) -> Option<&[u8]> {
        match &self.files {
            None => TEMPLATES.get_file(path).map(include_dir::File::contents),
            Some(files) => files.get(path).map(Vec::as_slice),
        }
    }

    /// The text at `path`; `None` where it is not UTF-8.
    #[must_use]
    pub fn text(&self, path: &str) -> Option<&str> {
        std::str::from_utf8(self.bytes(path)?).ok()
    }

    /// Stems and texts of the files with `ending` right in `folder`, sorted by stem.
    #[must_use]
    pub fn folder(&self, folder: &str, ending: &str) -> Vec<(&str, &str)> {
        let mut texts: Vec<(&str, &str)> = match &self.files {
            None => TEMPLATES
                .get_dir(folder)
                .into_iter()
                .flat_map(include_dir::Dir::files)
                .filter(|f| f.path().extension().is_some_and(|e| e == ending))
                .filter_map(|f| Some((f.path().file_stem()?.to_str()?, f.contents_utf8()?)))
                .collect(),
            Some(files) => files
                .iter()
                .filter_map(|(path, bytes)| {
                    let (stem, e) = path.strip_prefix(folder)?.strip_prefix('/')?.rsplit_once('.')?;
                    Some((stem, std::str::from_utf8(bytes).ok()?)).filter(|_| e == ending)
                })
                .collect(),
        };
        texts.sort_unstable();
        texts
    }
}

impl fmt::Debug for Layer {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_tuple("Layer").field(&self.name).finish()
    }
}
