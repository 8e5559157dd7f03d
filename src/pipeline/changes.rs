//! Snapshots of builds, and the change notice between two.

use super::sheets::{Sheet, Shown, in_context, page_setup, sheet};
use super::{Fault, Loaded, Only, Worked, sheets, templates};
use crate::build::{Build, Ways};
use crate::diag::Sink;
use crate::documents::change_notice::changes::Changes;
use crate::documents::change_notice::{self, renames};
use crate::documents::facts::FactBook;
use crate::documents::snapshot::{SheetItem, Snapshot};
use sha2::{Digest, Sha256};
use std::fmt::Write as _;

/// File name of the notice, without an ending.
const STEM: &str = "change-notice";

/// What a build is, and the texts of its documents.
///
/// # Errors
/// Where a text of a kind cannot be filled in: a fault of rigbinder.
pub fn snapshot(worked: &Worked<'_>, sheets: &[Sheet]) -> Result<Snapshot, Fault> {
    let engine = templates::engine()?;
    let facts = FactBook::of(&worked.build, &worked.electrical, &worked.ledger);
    let mut snapshot = in_context(worked, &facts, &[], &engine, |context| Ok(Snapshot::of(context)))?;
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
    let engine = templates::engine()?;
    let changes = Changes::between(old, new);
    let view = change_notice::view(&worked.build, old, new, &changes);
    let sheet = sheet(&engine, &page_setup(worked), &Shown::default(), STEM.to_owned(), "change_notice", &view)?;
    Ok((sheet, changes))
}

/// What a build is, with the texts of all its documents.
///
/// # Errors
/// As for [`sheets`].
pub fn whole_snapshot(worked: &Worked<'_>) -> Result<Snapshot, Fault> {
    snapshot(worked, &sheets(worked, &Only::default())?)
}
