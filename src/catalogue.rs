//! Everything that is looked up (kinds, words, rules, templates), from layers: what is built in, then what a shop has.
//!
//! A [`Catalogue`] is a handle that is cheap to clone. Texts are read when they are asked for, and what was made of them
//! once is kept in it, not in statics: two catalogues in one program know nothing of each other.

mod layer;
mod meaning;

pub use layer::{Layer, LayerFault, OPEN, PAGE};
pub use meaning::Meant;

use serde::de::DeserializeOwned;
use std::any::{Any, TypeId};
use std::collections::HashMap;
use std::fmt;
use std::sync::{Arc, Mutex, PoisonError};

/// A text of a catalogue that does not hold together.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// The file, below the folder of its layer.
    pub path: String,
    /// What is wrong, with the line where it is known.
    pub message: String,
}

impl Fault {
    /// A fault of the file at `path`.
    pub fn of(path: &str, error: &dyn fmt::Display) -> Self {
        Self { path: path.to_owned(), message: error.to_string() }
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.path, self.message)
    }
}

impl std::error::Error for Fault {}

/// One text of a catalogue.
#[derive(Clone, Copy, Debug)]
pub struct Text<'c> {
    /// Its name without folder and ending.
    pub stem: &'c str,
    /// What stands in it.
    pub text: &'c str,
    /// The layer that has it.
    pub layer: &'c Layer,
}

/// What was made of texts, by name and type.
type Kept = HashMap<(&'static str, TypeId), Arc<dyn Any + Send + Sync>>;

struct Inner {
    layers: Vec<Layer>,
    kept: Mutex<Kept>,
}

/// Layers of texts, and what was made of them.
#[derive(Clone)]
pub struct Catalogue(Arc<Inner>);

impl Catalogue {
    /// What is built in, and nothing else.
    #[must_use]
    pub fn built_in() -> Self {
        Self::of(vec![Layer::built_in()])
    }

    /// Nothing, for tests of what is missing.
    #[cfg(test)]
    pub(crate) fn empty() -> Self {
        Self::of(Vec::new())
    }

    fn of(layers: Vec<Layer>) -> Self {
        Self(Arc::new(Inner { layers, kept: Mutex::default() }))
    }

    /// The same with one layer more, whose texts stand after those there are.
    #[must_use]
    pub fn with(&self, layer: Layer) -> Self {
        Self::of(self.0.layers.iter().cloned().chain([layer]).collect())
    }

    /// The layers, the built-in one first.
    #[must_use]
    pub fn layers(&self) -> &[Layer] {
        &self.0.layers
    }

    /// The layer of a shop, where there is one.
    #[must_use]
    pub fn shop(&self) -> Option<&Layer> {
        self.0.layers.iter().find(|layer| !layer.is_built_in())
    }

    /// The text at `path`, of the first layer that has one: no layer puts another text in the place of a built-in one.
    #[must_use]
    pub fn text(&self, path: &str) -> Option<&str> {
        self.0.layers.iter().find_map(|layer| layer.text(path))
    }

    /// The texts with `ending` right in `folder`, layer by layer, in each sorted by stem.
    #[must_use]
    pub fn folder(&self, folder: &str, ending: &str) -> Vec<Text<'_>> {
        let of = |layer| move |(stem, text)| Text { stem, text, layer };
        self.0.layers.iter().flat_map(|layer| layer.folder(folder, ending).into_iter().map(of(layer))).collect()
    }

    /// What stands in the TOML at `path`.
    ///
    /// # Errors
    /// Where there is no such text, or it does not read; the message tells the line.
    pub fn read<T: DeserializeOwned>(&self, path: &str) -> Result<T, Fault> {
        let text = self.text(path).ok_or_else(|| Fault::of(path, &"there is no such file"))?;
        toml::from_str(text).map_err(|e| Fault::of(path, &e))
    }

    /// What `make` makes, made once: the next call gets the same. A fault is not kept.
    ///
    /// # Errors
    /// What `make` gives.
    pub fn keep<T: Any + Send + Sync, E>(
        &self,
        name: &'static str,
        make: impl FnOnce(&Self) -> Result<T, E>,
    ) -> Result<Arc<T>, E> {
        let key = (name, TypeId::of::<T>());
        let there = self.kept().get(&key).cloned();
        if let Some(known) = there.and_then(|known| known.downcast().ok()) {
            return Ok(known);
        }
        // Nothing is locked meanwhile, since what is made may be made of what is kept. Two that make the same at once
        // do so twice, and the later one stays.
        let fresh = Arc::new(make(self)?);
        self.kept().insert(key, fresh.clone());
        Ok(fresh)
    }

    fn kept(&self) -> std::sync::MutexGuard<'_, Kept> {
        self.0.kept.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl fmt::Debug for Catalogue {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_tuple("Catalogue").field(&self.0.layers).finish()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::cell::Cell;

    fn shop(files: &[(&str, &str)]) -> Layer {
        let files = files.iter().map(|(path, text)| ((*path).to_owned(), text.as_bytes().to_vec()));
        Layer::of_shop("my-shop", files.collect(), Vec::new())
    }

    #[test]
    fn layers_stand_one_after_the_other_and_none_takes_the_place_of_a_built_in_text() {
        let own = shop(&[
            ("kinds/hatch.toml", "a"),
            ("kinds/fridge.toml", "b"),
            ("kinds/note.md", "c"),
            ("kinds/deep/x.toml", "d"),
            ("documents/owners_manual.md", "e"),
            ("glossary.toml", "f"),
            ("rules/us.toml", "g"),
            ("shop.toml", "h"),
        ]);
        let (plain, both) = (Catalogue::built_in(), Catalogue::built_in().with(own));
        let (before, after) = (plain.folder("kinds", "toml"), both.folder("kinds", "toml"));
        assert!(before.len() > 50, "{}", before.len());
        let stems = |texts: &[Text<'_>]| texts.iter().map(|t| t.stem.to_owned()).collect::<Vec<_>>();
        assert_eq!(stems(&after[..before.len()]), stems(&before));
        assert_eq!(stems(&after[before.len()..]), ["fridge", "hatch"]);
        assert!(after[before.len()..].iter().all(|t| t.layer.name() == "my-shop"));
        assert_eq!(both.text("kinds/fridge.toml"), plain.text("kinds/fridge.toml"));
        // What is no kind, item, picture or the shop's own page is not taken in, whether there is a built-in one or not.
        for path in ["documents/owners_manual.md", "glossary.toml", "rules/us.toml", "kinds/deep/x.toml"] {
            assert_eq!(both.text(path), plain.text(path), "{path}");
        }
        assert_eq!((plain.text("shop.toml"), both.text("shop.toml")), (None, Some("h")));
        assert_eq!(both.folder("documents", "md").len(), plain.folder("documents", "md").len());
    }

    #[test]
    fn what_is_kept_is_made_once_and_faults_are_made_again() {
        let (one, other) = (Catalogue::built_in(), Catalogue::built_in());
        let times = Cell::new(0);
        let make = |_: &Catalogue| -> Result<u32, Fault> {
            times.set(times.get() + 1);
            Ok(7)
        };
        for catalogue in [&one, &one.clone(), &other] {
            assert_eq!(*catalogue.keep("seven", make).expect("made"), 7);
        }
        assert_eq!(times.get(), 2, "once for each catalogue, not for each handle");
        let fault = |_: &Catalogue| Err::<u8, _>(Fault::of("a.toml", &"broken"));
        assert_eq!(one.keep("eight", fault).expect_err("fault").to_string(), "a.toml: broken");
        assert_eq!(*one.keep("eight", |_| Ok::<u8, Fault>(8)).expect("made"), 8);
    }

    #[test]
    fn a_fault_tells_file_and_line() {
        let own = shop(&[("shop.toml", "name = \"x\"\nname = 2\n")]);
        let fault = Catalogue::built_in().with(own).read::<toml::Table>("shop.toml").expect_err("fault").to_string();
        assert!(fault.starts_with("shop.toml: ") && fault.contains("line 2"), "{fault}");
        let fault = Catalogue::built_in().read::<toml::Table>("none.toml").expect_err("fault").to_string();
        assert_eq!(fault, "none.toml: there is no such file");
    }
}
