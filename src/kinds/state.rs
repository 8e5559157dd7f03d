//! What can be true of a part or of the van while it is built, and which of it comes before which: the register
//! `templates/states.toml`.

use crate::catalogue::{Catalogue, Fault};
use indexmap::IndexMap;
use serde::Deserialize;
use std::collections::BTreeSet;
use std::sync::Arc;

/// What a state is true of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Of {
    /// One part.
    Part,
    /// The van, when every task that brings it is done.
    Van,
}

/// A state of the register.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct State {
    /// What it is true of.
    pub of: Of,
    /// What is then true, in a sentence.
    pub says: String,
    /// States of the van that come before: a catalogue in which one of them can be brought in a later stage would not
    /// hold.
    #[serde(default)]
    pub after: Vec<String>,
    /// The same within what is done by then; the rest comes later.
    #[serde(default)]
    pub so_far: Vec<String>,
    /// What every task that brings this state of a part needs, by addresses.
    #[serde(default)]
    pub needs: Vec<String>,
    /// It makes room for the part: one that is altered stands where it stood, and nothing is opened or set out for it.
    #[serde(default)]
    pub room: bool,
    /// Whoever brings it lifts the part.
    #[serde(default)]
    pub lifted: bool,
    /// A build in which something needs it and nothing brings it can't be worked.
    #[serde(default)]
    pub must: bool,
    /// What to do then.
    #[serde(default, rename = "else")]
    pub else_: Option<String>,
}

impl State {
    /// States of the van that come before this one.
    pub fn before(&self) -> impl Iterator<Item = &str> {
        self.after.iter().chain(&self.so_far).map(String::as_str)
    }
}

/// The register.
#[derive(Clone, Debug, Default, Deserialize)]
pub struct States(IndexMap<String, State>);

impl States {
    /// The register of a catalogue, read once.
    ///
    /// # Errors
    /// Where it does not read, or a state comes after one that is not there or is no state of the van.
    pub fn of(catalogue: &Catalogue) -> Result<Arc<Self>, Fault> {
        const FILE: &str = "states.toml";
        catalogue.keep("states", |catalogue| {
            let states: Self = catalogue.read(FILE)?;
            for (id, state) in &states.0 {
                let of_van = |name: &str| states.get(name).is_some_and(|s| s.of == Of::Van);
                if let Some(unknown) = state.before().find(|name| !of_van(name)) {
                    return Err(Fault::of(
                        FILE,
                        &format!("`{id}` comes after `{unknown}`, which is no state of the van"),
                    ));
                }
            }
            Ok(states)
        })
    }

    /// A state by its name.
    #[must_use]
    pub fn get(&self, name: &str) -> Option<&State> {
        self.0.get(name)
    }

    /// All states with their names.
    pub fn iter(&self) -> impl Iterator<Item = (&str, &State)> {
        self.0.iter().map(|(name, state)| (name.as_str(), state))
    }

    /// States of the van that come before any of these, one before the other, without these.
    #[must_use]
    pub fn all_before(&self, brought: &[String]) -> BTreeSet<&str> {
        let mut all = BTreeSet::new();
        let mut open: Vec<&str> = brought.iter().map(String::as_str).collect();
        while let Some(state) = open.pop() {
            for first in self.get(state).into_iter().flat_map(State::before) {
                if all.insert(first) {
                    open.push(first);
                }
            }
        }
        for own in brought {
            all.remove(own.as_str());
        }
        all
    }

    /// Whether it is a state of the van.
    #[must_use]
    pub fn is_of_van(&self, name: &str) -> bool {
        self.get(name).is_some_and(|state| state.of == Of::Van)
    }
}

/// What a task needs, by its address.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Need<'t> {
    /// `mounted`: a state of its own part, or of the van.
    Plain(&'t str),
    /// `fed_from.live`, `pipe.tight`: a state of the parts that a field names, or that have a role.
    Of(&'t str, &'t str),
}

impl<'t> Need<'t> {
    /// `place.furnished`: of the parts that stand at the same place.
    pub const PLACE: &'static str = "place";
    /// `on.mounted`: of the part that carries this one.
    pub const ON: &'static str = "on";

    /// Reads an address.
    #[must_use]
    pub fn read(text: &'t str) -> Self {
        text.split_once('.').map_or(Self::Plain(text), |(of, state)| Self::Of(of, state))
    }

    /// The state.
    #[must_use]
    pub const fn state(self) -> &'t str {
        match self {
            Self::Plain(state) | Self::Of(_, state) => state,
        }
    }
}
