//! What a build was, in plain values: kept in the record of a compile, so that a later one can tell what changed.

mod read;

use super::Context;
use crate::build::Build;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// A value: how it is printed, and exactly.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Stated {
    /// For people.
    pub shown: String,
    /// What decides whether it changed; "" where that is `shown`. Ids of components stand behind [`IDS`].
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub exact: String,
}

/// Begins an exact value that is a list of component ids.
pub const IDS: &str = "ids:";

impl Stated {
    /// A value that is what it shows.
    #[must_use]
    pub fn plain(shown: impl Into<String>) -> Self {
        Self { shown: shown.into(), exact: String::new() }
    }

    /// A value with its exact form.
    #[must_use]
    pub fn exactly(shown: impl Into<String>, exact: impl Into<String>) -> Self {
        let (shown, exact) = (shown.into(), exact.into());
        Self { exact: if exact == shown { String::new() } else { exact }, shown }
    }

    /// Ids of components.
    #[must_use]
    pub fn ids<'a>(shown: impl Into<String>, ids: impl IntoIterator<Item = &'a str>) -> Self {
        let ids: Vec<&str> = ids.into_iter().collect();
        Self { shown: shown.into(), exact: format!("{IDS}{}", ids.join(" ")) }
    }

    /// The exact form.
    #[must_use]
    pub fn exact(&self) -> &str {
        if self.exact.is_empty() { &self.shown } else { &self.exact }
    }
}

/// A component, circuit, task or piece of upkeep.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Item {
    /// What people call it.
    pub name: String,
    /// Its values by name.
    #[serde(default)]
    pub values: BTreeMap<String, Stated>,
}

/// A task: the stage it is done in, and the facts its texts tell.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct TaskItem {
    /// Id of its stage.
    pub stage: String,
    /// The task itself.
    #[serde(flatten)]
    pub item: Item,
}

/// A computed figure.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct FigureItem {
    /// What it is: the name of its formula.
    pub name: String,
    /// What it is about.
    pub subject: String,
    /// Its value.
    pub value: Stated,
    /// What it is held to; "" where nothing bounds it.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub limit: String,
    /// Whether it keeps it.
    #[serde(default = "yes", skip_serializing_if = "Clone::clone")]
    pub kept: bool,
}

const fn yes() -> bool {
    true
}

/// A document as it was made.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct SheetItem {
    /// Title.
    pub title: String,
    /// Digest of its text without the revision.
    pub digest: String,
}

/// Everything that a change notice looks at.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Snapshot {
    /// `[build]`: title, number, revision, shop, owner, handover.
    pub head: BTreeMap<String, Stated>,
    /// Fields of the other sections by `section.field`.
    pub settings: BTreeMap<String, Stated>,
    /// Components by id.
    pub components: BTreeMap<String, Item>,
    /// Circuits by id.
    pub circuits: BTreeMap<String, Item>,
    /// Tasks by id.
    pub tasks: BTreeMap<String, TaskItem>,
    /// Figures by id.
    pub figures: BTreeMap<String, FigureItem>,
    /// Upkeep by id.
    pub upkeep: BTreeMap<String, Item>,
    /// Serials, readings and weights recorded on the van.
    pub recorded: BTreeMap<String, Stated>,
    /// Who signed, by stage or hold point.
    pub signed: BTreeMap<String, String>,
    /// Documents by file name without an ending; filled in when they are made.
    pub sheets: BTreeMap<String, SheetItem>,
}

impl Snapshot {
    /// What the build of `context` is.
    #[must_use]
    pub fn of(context: &Context<'_>) -> Self {
        read::read(context)
    }

    /// The components of a build alone.
    #[must_use]
    pub fn components_of(build: &Build<'_>) -> Self {
        Self { components: read::components(build), ..Self::default() }
    }

    /// Ways of the panels by circuit id: (panel, way).
    #[must_use]
    pub fn ways(&self) -> BTreeMap<String, (String, u32)> {
        let way = |(id, circuit): (&String, &Item)| {
            let from = circuit.values.get("from")?.exact().strip_prefix(IDS)?.to_owned();
            let number = circuit.values.get("way")?.shown.parse().ok()?;
            Some((id.clone(), (from, number)))
        };
        self.circuits.iter().filter_map(way).collect()
    }
}
