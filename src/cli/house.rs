//! What specs are read by: the built-in catalogue, and the shop's folder that was named or lies beside a spec.

use super::print::Print;
use crate::catalogue::{Catalogue, Layer, PAGE};
use crate::files::{self, Kind};
use crate::shop;
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};

/// Names the folder where no flag does.
const ENVIRONMENT: &str = "RIGBINDER_SHOP";

/// Folder of a shop that lies beside the specs.
const BESIDE: &str = "shop";

/// What shows whether a shop's folder changed.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Glance {
    folder: PathBuf,
    files: BTreeMap<String, Vec<u8>>,
}

impl Glance {
    /// Files that are another in a later look, or there in one of the two alone.
    pub(super) fn changed(&self, later: &Self) -> Vec<String> {
        let paths: BTreeSet<&String> = self.files.keys().chain(later.files.keys()).collect();
        let another =
            |path: &&&String| self.files.get(**path) != later.files.get(**path) || self.folder != later.folder;
        paths.iter().filter(another).map(|path| later.folder.join(path).display().to_string()).collect()
    }
}

/// The catalogues of a run.
#[derive(Debug)]
pub(super) struct House<'p> {
    print: &'p Print,
    built_in: Catalogue,
    /// The folder that was named.
    named: Option<PathBuf>,
    /// Whether none is wanted.
    none: bool,
    /// Folders that were read, as they were last, and their catalogues.
    read: Mutex<BTreeMap<PathBuf, (Layer, Catalogue)>>,
}

impl<'p> House<'p> {
    /// `named` by the flag, else by the environment.
    pub(super) fn of(print: &'p Print, named: Option<&Path>, none: bool) -> Self {
        #[expect(clippy::disallowed_methods, reason = "the command line looks at the environment")]
        let environment = || std::env::var_os(ENVIRONMENT).filter(|dir| !dir.is_empty()).map(PathBuf::from);
        let named = if none { None } else { named.map(Path::to_owned).or_else(environment) };
        Self { print, built_in: Catalogue::built_in(), named, none, read: Mutex::default() }
    }

    /// What is built in.
    pub(super) const fn built_in(&self) -> &Catalogue {
        &self.built_in
    }

    /// The folder that was named.
    pub(super) fn named(&self) -> Option<&Path> {
        self.named.as_deref()
    }

    /// The catalogue for a spec, its shop's folder read as it is now. Which folder it is is told once.
    pub(super) fn catalogue(&self, spec: &Path) -> Result<Catalogue, String> {
        let Some(folder) = self.folder(spec)? else { return Ok(self.built_in.clone()) };
        let layer = shop::read(&folder);
        let mut read = self.read.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some((_, catalogue)) = read.get(&folder).filter(|(known, _)| *known == layer) {
            return Ok(catalogue.clone());
        }
        if !read.contains_key(&folder) {
            self.print.note(&format!("shop's folder: {}", folder.display()));
        }
        let catalogue = self.built_in.with(layer.clone());
        read.insert(folder, (layer, catalogue.clone()));
        Ok(catalogue)
    }

    /// The shop's folder for a spec as it lies there now; empty where there is none. Which one that is counts too.
    pub(super) fn glance(&self, spec: &Path) -> Glance {
        match self.folder(spec) {
            Ok(Some(folder)) => Glance { files: shop::glance(&folder), folder },
            Ok(None) => Glance::default(),
            Err(fault) => Glance { folder: PathBuf::new(), files: [(fault, Vec::new())].into() },
        }
    }

    /// Whether a shop's folder stands behind this spec.
    pub(super) fn has_shop(&self, spec: &Path) -> Result<bool, String> {
        Ok(self.folder(spec)?.is_some())
    }

    /// The shop's folder that was named, or that lies here.
    pub(super) fn shop(&self) -> Result<PathBuf, String> {
        let none =
            || "there is no shop's folder here; name it by --shop, or make one: rigbinder new --shop shop".to_owned();
        self.folder(Path::new("here.toml"))?.ok_or_else(none)
    }

    /// The shop's folder for a spec: named, in the spec's folder or in the one above.
    fn folder(&self, spec: &Path) -> Result<Option<PathBuf>, String> {
        if self.none {
            return Ok(None);
        }
        if let Some(named) = &self.named {
            // What a person names may be a link; what lies in it may not.
            return if !named.is_dir() {
                Err(format!("there is no folder {}; `rigbinder new --shop` makes one", named.display()))
            } else if shop::is_shop(named) {
                Ok(Some(named.clone()))
            } else {
                Err(format!(
                    "{} has no {PAGE}, so it is no shop's folder; `rigbinder new --shop` makes one",
                    named.display()
                ))
            };
        }
        let own = spec.parent().unwrap_or(Path::new(""));
        let above = match own.file_name() {
            Some(_) => own.parent().map_or_else(|| PathBuf::from(".."), Path::to_owned),
            None => own.join(".."),
        };
        for folder in [own.to_owned(), own.join(BESIDE), above.clone(), above.join(BESIDE)] {
            let folder = if folder.as_os_str().is_empty() { PathBuf::from(".") } else { folder };
            if !shop::is_shop(&folder) {
                continue;
            }
            // Found, not named: nobody has said that a link is meant.
            if folder.file_name().is_some_and(|name| name == BESIDE) && files::kind(&folder) == Some(Kind::Link) {
                let name = folder.display();
                return Err(format!("{name} is a link; name the folder itself by --shop, or use --no-shop"));
            }
            return Ok(Some(folder));
        }
        Ok(None)
    }
}
