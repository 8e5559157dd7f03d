//! Snapshots of builds, and the change notice between two.

use super::sheets::{Sheet, Shown, in_context, page_setup, sheet};
use super::{Fault, Loaded, Only, Worked, sheets};
use crate::build::{Build, Ways};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::documents::change_notice::changes::Changes;
use crate::documents::change_notice::{self, renames};
use crate::documents::snapshot::{SheetItem, Snapshot};
use sha2::{Digest, Sha256};
use std::fmt::Write as _;

/// File name of the notice, without an ending.
pub(super) const STEM: &str = "change-notice";

/// Findings of a comparison with an earlier revision.
pub(super) const CHANGE_FINDINGS: &[FindingDoc] = &[FindingDoc {
    name: "revision-not-raised",
    severity: Severity::Warning,
    what: "The build differs from the last release, or from the record given to --revision-from, but bears its revision; or it bears the revision of a release before that.",
    why: "Two sheets of the same revision would say different things, and nobody could tell which one holds.",
    example: "[build]\nrevision = \"C\"      # and the last release is revision C as well, with another fuse",
    basis: "House rule; common practice in drawing offices, no source.",
}];

/// The earlier revision that a build is compared with.
#[derive(Clone, Debug, Default)]
pub struct Earlier {
    /// What the build was.
    pub build: Snapshot,
    /// Its revision, as its documents print it.
    pub revision: String,
    /// What it was in the release before that. The notice of an unchanged release leads from there, so that its
    /// documents stay as they were released.
    pub before: Option<Snapshot>,
    /// Revisions released before it.
    pub spent: Vec<String>,
    /// Whether it is a release; else a record that was named.
    pub released: bool,
}

impl Earlier {
    /// The change notice to this build, where there is one, and the finding where its revision was not raised.
    ///
    /// # Errors
    /// As for [`change_notice`].
    pub fn lead_to(&self, worked: &Worked<'_>, new: &Snapshot) -> Result<(Option<Sheet>, Option<Finding>), Fault> {
        let (notice, changes) = change_notice(worked, &self.build, new)?;
        let unraised = self.unraised(worked, &changes);
        let notice = match &self.before {
            _ if !self.released || !changes.is_empty() => Some(notice),
            Some(before) => Some(change_notice(worked, before, new)?.0),
            None => None,
        };
        Ok((notice, unraised))
    }

    /// The finding where the revision of a build that is known to have changed, or not, was not raised.
    fn unraised(&self, worked: &Worked<'_>, changes: &Changes) -> Option<Finding> {
        let revision = worked.build.text("revision");
        let of_last = self.revision == revision;
        let headline = if of_last && !changes.is_only_revision() {
            let what = if self.released { "last release" } else { "earlier record" };
            format!("the build changed since the {what}, and both are revision {revision}")
        } else if !of_last && self.spent.iter().any(|spent| spent == revision) {
            format!("revision {revision} was released earlier, and another one since")
        } else {
            return None;
        };
        let span = worked.build.spec.build.span_of("revision");
        let finding = Finding::warning("revision-not-raised", headline).at(span, "the same revision");
        Some(finding.basis("two sheets of one revision must say the same").help("raise `revision` in [build]"))
    }

    /// The same finding from the snapshot of documents that stand as they shall be.
    #[must_use]
    pub fn unraised_in(&self, worked: &Worked<'_>, new: &Snapshot) -> Option<Finding> {
        self.unraised(worked, &Changes::between(&self.build, new))
    }
}

/// What a build is, and the texts of its documents.
///
/// # Errors
/// Where a text of a kind cannot be filled in: a fault of rigbinder.
pub fn snapshot(worked: &Worked<'_>, sheets: &[Sheet]) -> Result<Snapshot, Fault> {
    let mut snapshot = in_context(worked, &[], |context| Ok(Snapshot::of(context)))?;
    let revision = worked.build.text("revision");
    for sheet in sheets.iter().filter(|s| s.stem != STEM) {
        let meta = &sheet.document.meta;
        let title = if meta.document.is_empty() { &meta.title } else { &meta.document }.clone();
        let item = SheetItem { title, digest: digest(&sheet.markdown, revision) };
        snapshot.sheets.insert(sheet.stem.clone(), item);
    }
    Ok(snapshot)
}

/// Digest of a document that stays the same when the revision alone changes.
fn digest(markdown: &str, revision: &str) -> String {
    let neutral = if revision.is_empty() {
        markdown.to_owned()
    } else {
        markdown.replace(&format!("revision {revision}"), "revision")
    };
    let mut text = String::new();
    for byte in Sha256::digest(neutral.as_bytes()).iter().take(16) {
        // Writing to a text cannot fail.
        let _ = write!(text, "{byte:02x}");
    }
    text
}

/// Ways to keep: those of an earlier revision, under the ids that its components have now.
#[must_use]
pub fn kept_ways(earlier: &Snapshot, loaded: &Loaded) -> Ways {
    let ways = earlier.ways();
    if ways.is_empty() {
        return ways;
    }
    let build = Build::expand(&loaded.spec, &loaded.library, &mut Sink::default());
    let map = renames::found(earlier, &Snapshot::components_of(&build));
    let now = |id: &str| renames::renamed(id, &map);
    ways.into_iter().map(|(id, (panel, way))| (now(&id), (now(&panel), way))).collect()
}

/// The change notice from an earlier revision to this one, and what changed.
///
/// # Errors
/// Where the template does not fit its view: a fault of rigbinder.
pub fn change_notice(worked: &Worked<'_>, old: &Snapshot, new: &Snapshot) -> Result<(Sheet, Changes), Fault> {
    let changes = Changes::between(old, new);
    let view = change_notice::view(&worked.build, old, new, &changes);
    let sheet = sheet(&page_setup(worked), &Shown::default(), STEM.to_owned(), "change_notice", &view)?;
    Ok((sheet, changes))
}

/// What a build is, with the texts of all its documents.
///
/// # Errors
/// As for [`sheets`].
pub fn whole_snapshot(worked: &Worked<'_>) -> Result<Snapshot, Fault> {
    snapshot(worked, &sheets(worked, &Only::default())?)
}

/// What the record of a compile tells of the build: program, revision, and the build itself.
///
/// # Errors
/// Where the snapshot cannot be written as JSON: a fault of rigbinder.
pub fn about(worked: &Worked<'_>, snapshot: &Snapshot) -> Result<serde_json::Map<String, serde_json::Value>, Fault> {
    let build = serde_json::to_value(snapshot).map_err(|e| Fault::of("the record cannot be written", &e))?;
    let program = concat!("rigbinder ", env!("CARGO_PKG_VERSION"));
    let fields = [
        ("program", program.into()),
        ("revision", worked.build.text("revision").into()),
        ("ready_for_handover", worked.missing.is_empty().into()),
        ("build", build),
    ];
    Ok(fields.into_iter().map(|(name, value): (&str, serde_json::Value)| (name.to_owned(), value)).collect())
}
