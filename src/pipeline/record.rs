//! JSON Schema of `record.json`, made from the types that stand in it.

use super::shop::Used;
use crate::documents::snapshot::Snapshot;
use crate::publish::Entry;
use schemars::JsonSchema;
use std::collections::BTreeMap;

/// What a compile left in a folder, and what the build was. Readers pass over fields that they do not know: the version
/// rises only when one goes or changes its meaning.
#[derive(JsonSchema)]
#[schemars(title = "rigbinder record")]
#[expect(dead_code, reason = "only its schema is used; the fields are written by `about`, `publish` and a release")]
struct Form {
    /// Version of the form.
    version: u32,
    /// File name of the spec, without its folder.
    #[serde(default)]
    spec: String,
    /// Program and version that made the documents.
    program: String,
    /// `[build] revision`.
    revision: String,
    /// Whether nothing was missing for handover.
    ready_for_handover: bool,
    /// Only in the record of a release.
    release: Option<Release>,
    /// Only where a shop's folder was used: digests of what was used of it.
    shop: Option<Used>,
    /// What the build was, in the values that a change notice compares.
    build: Snapshot,
    /// Every file that was made, but for the record itself, by its name below the folder.
    documents: BTreeMap<String, Entry>,
}

/// A release.
#[derive(JsonSchema)]
#[expect(dead_code, reason = "only its schema is used")]
struct Release {
    /// Its running number, from 1.
    #[schemars(range(min = 1, max = 999_999))]
    number: u64,
    /// SHA-256 of the `record.json` of the release before it.
    after: Option<String>,
}

/// JSON Schema of `record.json`.
#[must_use]
pub fn record_schema() -> serde_json::Value {
    schemars::schema_for!(Form).to_value()
}
