//! What a build was, in plain values: kept in the record of a compile, so that a later one can tell what changed.

mod read;
pub(crate) mod sections;

use super::Context;
use crate::build::Build;
use crate::fields::Change;
use crate::units::System;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, BTreeSet};

/// A value: how it is printed, exactly, and as a number where it is one.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Stated {
    /// For people.
    pub shown: String,
    /// What decides whether it changed; "" where that is `shown`. Ids of components stand behind [`IDS`].
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub exact: String,
    /// The number that it is, in the inside unit of its dimension; nobody reads it out of what is shown.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub value: Option<f64>,
    /// What another value means for the part that it is of, as its field says.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub change: Option<Change>,
}

/// Begins an exact value that is a list of component ids.
pub const IDS: &str = "ids:";

/// Begins an exact value that is a list of place ids.
pub const PLACES: &str = "places:";

/// The form that is written. One of another form is compared by what both know.
pub const FORM: u32 = 1;

/// What every record tells of a build, those from before there was a form included.
const NEEDED: [&str; 5] = ["head", "settings", "components", "circuits", "tasks"];

/// Values of a circuit that tell lug and torque at its start and at its end.
pub const END_NAMES: [&str; 2] = ["lug at the start", "lug at the end"];

/// Values of a circuit that are numbers.
const COUNTED: [&str; 2] = ["run", "way"];

/// Begins an exact value that is what is printed in either system of units.
pub const PRINTED: &str = "printed:";

/// A number that counts; `None` for any other.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "whole, and within the type")]
fn whole(number: f64) -> Option<u32> {
    (number.fract() == 0.0 && (0.0..=f64::from(u32::MAX)).contains(&number)).then_some(number as u32)
}

impl Stated {
    /// A value that is what it shows.
    #[must_use]
    pub fn plain(shown: impl Into<String>) -> Self {
        Self { shown: shown.into(), ..Self::default() }
    }

    /// A number.
    #[must_use]
    pub fn number(shown: impl Into<String>, value: f64) -> Self {
        Self { value: Some(value), ..Self::exactly(shown, value.to_string()) }
    }

    /// A value with its exact form.
    #[must_use]
    pub fn exactly(shown: impl Into<String>, exact: impl Into<String>) -> Self {
        let (shown, exact) = (shown.into(), exact.into());
        Self { exact: if exact == shown { String::new() } else { exact }, shown, ..Self::default() }
    }

    /// Ids of components.
    #[must_use]
    pub fn ids<'a>(shown: impl Into<String>, ids: impl IntoIterator<Item = &'a str>) -> Self {
        let ids: Vec<&str> = ids.into_iter().collect();
        Self { exact: format!("{IDS}{}", ids.join(" ")), ..Self::plain(shown) }
    }

    /// Ids of places.
    #[must_use]
    pub fn places<'a>(shown: impl Into<String>, ids: impl IntoIterator<Item = &'a str>) -> Self {
        let ids: Vec<&str> = ids.into_iter().collect();
        Self { exact: format!("{PLACES}{}", ids.join(" ")), ..Self::plain(shown) }
    }

    /// A value that changes when what is printed of it does, other units alone excepted.
    #[must_use]
    pub fn printed(system: System, show: impl Fn(System) -> String) -> Self {
        let exact = format!("{PRINTED}{}|{}", show(System::Metric), show(System::Us));
        Self { exact, ..Self::plain(show(system)) }
    }

    /// The exact form.
    #[must_use]
    pub fn exact(&self) -> &str {
        if self.exact.is_empty() { &self.shown } else { &self.exact }
    }
}

/// A component, circuit, task or piece of upkeep.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Item {
    /// What people call it.
    pub name: String,
    /// Its values by name.
    #[serde(default)]
    pub values: BTreeMap<String, Stated>,
}

/// A task: the stage it is done in, and the facts its texts tell.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct TaskItem {
    /// Id of its stage.
    pub stage: String,
    /// It cuts the skin of the vehicle.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub cuts_skin: bool,
    /// The task itself.
    #[serde(flatten)]
    pub item: Item,
}

/// A computed figure.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
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
    /// What is left to the limit; "" where nothing bounds it.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub margin: String,
    /// How much of its limit it takes up, in ten-thousandths; 0 where that cannot be told.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub share: u32,
    /// Whether it keeps it.
    #[serde(default = "yes", skip_serializing_if = "Clone::clone")]
    pub kept: bool,
    /// Whether it is only not shown to keep it: a fault current above what a device is known to break.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub unproven: bool,
}

/// All of a limit, as the share of a figure tells it.
pub const WHOLE: u32 = 10_000;

#[expect(clippy::trivially_copy_pass_by_ref, reason = "the form that serde asks for")]
const fn is_zero(share: &u32) -> bool {
    *share == 0
}

const fn yes() -> bool {
    true
}

/// A document as it was made.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct SheetItem {
    /// Title.
    pub title: String,
    /// Digest of its text without the revision.
    pub digest: String,
    /// Its drawings, by file name.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub drawings: BTreeMap<String, DrawingItem>,
    /// Its sections by heading.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub sections: BTreeMap<String, sections::SectionItem>,
    /// Books that hold it, by file name; a book holds itself.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub books: Vec<String>,
}

/// A drawing as it was made.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct DrawingItem {
    /// Title.
    pub title: String,
    /// Digest of the picture.
    pub digest: String,
}

/// A short digest of a text: equal for equal texts.
#[must_use]
pub fn digest(text: &str) -> String {
    let mut short = crate::digest::digest(text.as_bytes());
    short.truncate(32);
    short
}

/// The finding of a signature or test that is older than its work. A notice tells of it beside the work.
pub const STALE: &str = "recorded-before-change";

/// A signature, or tests of a circuit, older than the work they stand for.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Stale {
    /// What stands recorded; once it says something else, it is newer.
    pub recorded: String,
    /// Who read it and when, where the record says it of the reading or its component: the same figure read again is newer
    /// too. "" in records from before this was told.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub taken: String,
    /// The work that changed since.
    pub because: BTreeSet<String>,
}

/// Everything that a change notice looks at.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default)]
pub struct Snapshot {
    /// Form of the snapshot, [`FORM`]; 0 in records from before it was told.
    pub form: u32,
    /// Units that are printed: "metric" or "us".
    pub units: String,
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
    /// Entries of the calendar file by id.
    pub calendar: BTreeMap<String, Item>,
    /// Warnings by name and subject.
    pub findings: BTreeMap<String, Item>,
    /// What was recorded on the van: serials, readings, weights, signatures, papers, photos.
    pub recorded: BTreeMap<String, Stated>,
    /// Components whose place no document may tell.
    pub hidden: BTreeSet<String>,
    /// Who signed, by stage or hold point.
    pub signed: BTreeMap<String, String>,
    /// Signatures and circuit tests that are older than their work, by what they are of.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub stale: BTreeMap<String, Stale>,
    /// Labels of circuits and equipment by `<id>.flag` and `<id>.plate`; filled in when they are drawn.
    pub labels: BTreeMap<String, Item>,
    /// What stands in the head and foot of every page, but for the revision; filled in with the documents.
    pub page: Stated,
    /// Documents by file name without an ending; filled in when they are made.
    pub sheets: BTreeMap<String, SheetItem>,
}

impl Snapshot {
    /// What the build of `context` is.
    #[must_use]
    pub fn of(context: &Context<'_>) -> Self {
        read::read(context)
    }

    /// What a record says that a build was.
    ///
    /// # Errors
    /// Where that is no snapshot, a part of one, or one of a form that is not known.
    pub fn from_record(build: serde_json::Value) -> Result<Self, String> {
        if let Some(missing) = NEEDED.iter().find(|name| build.get(**name).is_none()) {
            return Err(format!("its `build` has no `{missing}`"));
        }
        let form = build.get("form").map_or(Some(0), serde_json::Value::as_u64);
        if form.is_none_or(|form| form > u64::from(FORM)) {
            let form = build.get("form").map(ToString::to_string).unwrap_or_default();
            return Err(format!("its `build` is of form {form}; this rigbinder knows form {FORM}"));
        }
        let mut snapshot: Self = serde_json::from_value(build).map_err(|e| e.to_string())?;
        // Records from before values carried their number tell these two in their exact form.
        for item in snapshot.circuits.values_mut() {
            for (name, stated) in item.values.iter_mut().filter(|(_, stated)| stated.value.is_none()) {
                stated.value = COUNTED.contains(&name.as_str()).then(|| stated.exact().parse().ok()).flatten();
            }
        }
        Ok(snapshot)
    }

    /// The components of a build alone, and its settings.
    #[must_use]
    pub fn components_of(build: &Build<'_>) -> Self {
        Self { components: read::components(build), settings: read::settings(build), ..Self::default() }
    }

    /// The values of the sections and of the stock items that were taken.
    #[must_use]
    pub fn settings_of(build: &Build<'_>) -> BTreeMap<String, Stated> {
        read::settings(build)
    }

    /// Ways of the panels by circuit id: (panel, way).
    #[must_use]
    pub fn ways(&self) -> BTreeMap<String, (String, u32)> {
        let way = |(id, circuit): (&String, &Item)| {
            let from = circuit.values.get("from")?.exact().strip_prefix(IDS)?.to_owned();
            let number = circuit.values.get("way")?.value?;
            Some((id.clone(), (from, whole(number)?)))
        };
        self.circuits.iter().filter_map(way).collect()
    }
}
