//! The record of an output folder: what was made, from what, and how to tell whether it is still as it was made.

use super::error::plainly;
use crate::files;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use std::path::Path;

/// File name of the record in an output folder.
pub const RECORD: &str = "record.json";

/// Version of the form of `record.json`. A field that is only added does not raise it.
pub const VERSION: u32 = 1;

/// What `record.json` holds.
///
/// A reader takes what it knows and passes over the rest; a record that cannot be read counts as none, so that all is
/// made anew. Nothing in it comes from a clock or names the machine.
#[derive(Clone, Debug, PartialEq, Deserialize, Serialize)]
pub struct Record {
    /// Version of the form, [`VERSION`].
    #[serde(default)]
    pub version: u32,
    /// File name of the spec, without its folder.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub spec: String,
    /// Fields of the build that the pipeline hands in; `publish` keeps them as they are.
    #[serde(flatten)]
    pub about: serde_json::Map<String, serde_json::Value>,
    /// Every file rigbinder made, but for the record itself, by its name below the folder (`drawings/plan.svg`).
    #[serde(default)]
    pub documents: BTreeMap<String, Entry>,
}

/// One file of the output.
#[derive(Clone, Debug, Default, PartialEq, Eq, Deserialize, Serialize, JsonSchema)]
pub struct Entry {
    /// SHA-256 of the file, in hexadecimal digits: what `sha256sum` prints.
    #[serde(default)]
    pub digest: String,
    /// SHA-256 over all a PDF was typeset from; absent for files that are written as they are.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub source_digest: Option<String>,
    /// Version of `typst` that typeset it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub typst: Option<String>,
}

impl Default for Record {
    fn default() -> Self {
        Self { version: VERSION, spec: String::new(), about: serde_json::Map::new(), documents: BTreeMap::new() }
    }
}

impl Record {
    /// The record in a folder; an empty one where there is none or where it cannot be read.
    #[must_use]
    pub fn read(folder: &Path) -> Self {
        let bytes = files::read(&folder.join(RECORD)).unwrap_or_default();
        let mut record: Self = serde_json::from_slice(&bytes).unwrap_or_default();
        // A name that climbs out of the folder is not one of ours.
        record.documents.retain(|name, _| is_plain(name));
        record
    }

    /// Why the record in a folder cannot be read; `None` where it can, or where there is none.
    pub(super) fn fault(folder: &Path) -> Option<String> {
        let path = folder.join(RECORD);
        let why = match files::read(&path) {
            Err(error) if error.kind() == std::io::ErrorKind::NotFound => return None,
            Err(error) => plainly(&error),
            Ok(bytes) => match serde_json::from_slice::<Self>(&bytes) {
                Err(error) => format!("is no record of a compile ({error})"),
                Ok(record) => unknown(record.version)?,
            },
        };
        Some(format!("{} {why}", path.display()))
    }

    /// The record as text, with a line end.
    #[must_use]
    pub fn to_json(&self) -> String {
        // A map with text keys can always be written.
        let mut text = serde_json::to_string_pretty(self).unwrap_or_default();
        text.push('\n');
        text
    }
}

/// What is wrong with the version of a record; `None` where it is known.
#[must_use]
pub fn unknown(version: u32) -> Option<String> {
    match version {
        0 => Some("has no `version`".to_owned()),
        1..=VERSION => None,
        newer => Some(format!("is of version {newer}; this rigbinder knows version {VERSION}")),
    }
}

/// Whether a name is that of a file in the folder or in a folder of it, and stays in there.
pub(super) fn is_plain(name: &str) -> bool {
    let parts: Vec<&str> = name.split('/').collect();
    (1..=2).contains(&parts.len())
        && parts.iter().all(|p| !p.is_empty() && *p != "." && *p != ".." && !p.contains(['\\', ':', '\0']))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_record_of_another_version_is_read_as_far_as_it_is_known() {
        let folder = std::env::temp_dir().join(format!("rigbinder-record-{}", std::process::id()));
        std::fs::create_dir_all(&folder).expect("folder");
        let written = |text: &str| {
            std::fs::write(folder.join(RECORD), text).expect("written");
            Record::read(&folder)
        };
        let newer = written(
            r#"{"version": 9, "title": "Heron", "documents": {"a.pdf": {"digest": "d1", "source_digest": "s1", "pages": 3},
                "../b.md": {"digest": "d2"}, "drawings/c.svg": {}}}"#,
        );
        assert_eq!(newer.documents["a.pdf"].source_digest.as_deref(), Some("s1"));
        assert_eq!(newer.about["title"], "Heron");
        assert_eq!(newer.documents.keys().collect::<Vec<_>>(), ["a.pdf", "drawings/c.svg"]);
        for text in ["", "{", "[]", "null", r#"{"documents": 4}"#, "\u{0}\u{1}"] {
            assert_eq!(written(text).documents.len(), 0, "{text:?}");
        }
        let round = written(&newer.to_json());
        assert_eq!(round, newer);
        std::fs::remove_dir_all(&folder).expect("gone");
    }
}
