//! The revision that a build comes after: a record that was named, or the last release; and what stands against one more.

use super::read;
use crate::documents::snapshot::Snapshot;
use crate::pipeline::{Earlier, Worked};
use crate::publish::{self, digest, digest_of, release_name};
use std::path::Path;

/// The snapshot in the record of an earlier compile, its revision, and the digest of the record.
pub(super) fn read_record(path: &Path) -> Result<(Snapshot, String, String), String> {
    let name = path.display();
    let bytes = read::record(path)?;
    let record: serde_json::Value =
        serde_json::from_slice(&bytes).map_err(|e| format!("{name} is no record of a compile: {e}"))?;
    let no_record = |why: &dyn std::fmt::Display| format!("{name} is no record of a compile: {why}");
    let version = record.get("version").and_then(serde_json::Value::as_u64).unwrap_or(0);
    if let Some(why) = publish::unknown(u32::try_from(version).unwrap_or(u32::MAX)) {
        return Err(format!("{name} {why}"));
    }
    let build = record.get("build").cloned().ok_or_else(|| no_record(&"no `build`"))?;
    let snapshot = Snapshot::from_record(build).map_err(|e| no_record(&e))?;
    let revision = record.get("revision").and_then(serde_json::Value::as_str).unwrap_or_default().to_owned();
    Ok((snapshot, revision, digest(&bytes)))
}

/// The revision that a build comes after.
#[derive(Clone, Debug, Default)]
pub(super) struct After {
    pub(super) earlier: Earlier,
    /// Tells it from any other, for what a build depends on.
    pub(super) digest: String,
    /// One line on which it is.
    pub(super) told: String,
    /// Number of the release, 0 where it is a record that was named.
    pub(super) number: u64,
}

impl After {
    /// What a record tells that was named.
    pub(super) fn record(path: &Path) -> Result<Self, String> {
        let (build, revision, digest) = read_record(path)?;
        let of = if revision.is_empty() { String::new() } else { format!("revision {revision} of ") };
        let told = format!("compared with {of}{}", path.display());
        Ok(Self { earlier: Earlier { build, revision, ..Earlier::default() }, digest, told, number: 0 })
    }

    /// The last release of `out/name`; `None` where there is none.
    pub(super) fn last(out: &Path, name: &str) -> Result<Option<Self>, String> {
        let advice = |e: &dyn std::fmt::Display| format!("{e}; `compile --revision-from` goes without the releases");
        let mut releases = publish::releases(out, name).map_err(|e| advice(&e))?;
        let Some(last) = releases.pop() else { return Ok(None) };
        let (build, revision, mut digest) = read_record(&last.record()).map_err(|e| advice(&e))?;
        let mut before = None;
        if let Some(release) = releases.last() {
            let (snapshot, _, of) = read_record(&release.record()).map_err(|e| advice(&e))?;
            digest = digest_of(&[digest.as_bytes(), of.as_bytes()]);
            before = Some(snapshot);
        }
        let spent: Vec<String> = releases.into_iter().map(|r| r.revision).collect();
        digest = digest_of(&[digest.as_bytes(), format!("{spent:?}").as_bytes()]);
        let told = format!("compared with released revision {} in {}", revision, last.folder.display());
        Ok(Some(Self {
            earlier: Earlier { build, revision, before, spent, released: true },
            digest,
            told,
            number: last.number,
        }))
    }
}

/// Why a build cannot be released into `out/name` whatever its content; `None` where it can.
pub(super) fn refusal(worked: &Worked<'_>, out: &Path, name: &str) -> Option<String> {
    let record = &worked.build.spec.build;
    let revision = worked.build.about.revision.or_empty();
    if !record.gave("revision") || revision.trim().is_empty() {
        return Some("a release needs a `revision` in [build], as in revision = \"A\"".to_owned());
    }
    let folder = match release_name(revision) {
        Ok(folder) => folder,
        Err(why) => return Some(why),
    };
    // What cannot be read is told when the release is made.
    let taken = publish::releases(out, name).ok()?.into_iter().find(|r| r.folder.ends_with(&folder))?;
    (taken.revision != revision).then(|| taken_by(&taken))
}

pub(super) fn taken_by(other: &publish::Release) -> String {
    let (folder, revision) = (other.folder.display(), &other.revision);
    format!("revision {revision} is released in {folder}, the folder of this one too; choose another letter or digit")
}

/// Why a build is not released that changed under a revision that is released.
pub(super) const UNRAISED: &str = "a release needs a revision of its own; raise `revision` in [build]";
