//! Snapshots of builds, and the change notice between two.

use super::sheet::{DRAWINGS, Sheet, Shown, in_context, neutral, page_setup, sheet};
use super::sheets::{Only, sheets};
use super::told::Open;
use super::{Fault, Loaded, Worked, shop, templates, words};
use crate::build::{Build, Ways};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::documents::change_notice::changes::Changes;
use crate::documents::change_notice::{self, renames};
use crate::documents::snapshot::sections::sections;
use crate::documents::snapshot::{DrawingItem, Item, SheetItem, Snapshot, Stated, digest};
use crate::documents::{self, Making};
use crate::drawings::labels;
use crate::typeset::Paper;
use std::sync::Arc;

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
    /// As for [`change_notice()`].
    pub fn lead_to(&self, worked: &Worked<'_>, new: &Snapshot) -> Result<(Option<Sheet>, Option<Finding>), Fault> {
        let (notice, changes) = change_notice(worked, &self.build, new)?;
        let unraised = self.unraised(worked, &changes);
        let notice = match &self.before {
            _ if !self.released || !changes.is_empty() || changes.unsaid => Some(notice),
            Some(before) => Some(change_notice(worked, before, new)?.0),
            None => None,
        };
        Ok((notice, unraised))
    }

    /// The finding where the revision of a build that is known to have changed, or not, was not raised.
    fn unraised(&self, worked: &Worked<'_>, changes: &Changes) -> Option<Finding> {
        let revision = worked.build.about.revision.or_empty();
        let of_last = self.revision == revision;
        let headline = if of_last && (changes.unsaid || !changes.is_only_revision()) {
            let what = if self.released { "last release" } else { "earlier record" };
            let both = if revision.is_empty() {
                "neither has a revision".to_owned()
            } else {
                format!("both are revision {revision}")
            };
            format!("the build changed since the {what}, and {both}")
        } else if !of_last && self.spent.iter().any(|spent| spent == revision) {
            format!("revision {revision} was released earlier, and another one since")
        } else {
            return None;
        };
        let span = worked.build.about.revision.span;
        let finding = Finding::warning("revision-not-raised", headline).at(span, "the same revision");
        Some(finding.basis("two sheets of one revision must say the same").help("raise `revision` in [build]"))
    }

    /// The same finding from the snapshot of documents that stand as they shall be.
    #[must_use]
    pub fn unraised_in(&self, worked: &Worked<'_>, new: &Snapshot) -> Option<Finding> {
        self.unraised(worked, &Changes::between(&self.build, new))
    }

    /// The same while there are no documents, from what the build is.
    ///
    /// # Errors
    /// As for [`snapshot()`].
    pub fn unraised_by(&self, worked: &Worked<'_>) -> Result<Option<Finding>, Fault> {
        let new = without_documents(worked)?;
        let (labels, sheets) = Default::default();
        let old = Snapshot { labels, sheets, page: new.page.clone(), ..self.build.clone() };
        Ok(self.unraised(worked, &Changes::between(&old, &new)))
    }
}

/// What a build is, without its documents.
pub(super) fn without_documents(worked: &Worked<'_>) -> Result<Snapshot, Fault> {
    in_context(worked, &[], |context| Ok(Snapshot::of(context)))
}

/// What a build is, and the texts of its documents.
///
/// # Errors
/// Where a text of a kind cannot be filled in: a fault of rigbinder.
pub fn snapshot(worked: &Worked<'_>, sheets: &[Sheet]) -> Result<Snapshot, Fault> {
    let mut snapshot = without_documents(worked)?;
    snapshot.stale.clone_from(&worked.stale);
    snapshot.page = page(worked);
    let (flags, plates) = Open::look(worked, |computed| labels::texts(&computed));
    for (all, tail) in [(flags, "flag"), (plates, "plate")] {
        let name = |id: &str| worked.build.parts.get(id).map_or_else(|| id.to_owned(), |p| p.name.clone());
        let item = |id: &str, says: Vec<String>| {
            let values = [("text".to_owned(), Stated::plain(says.join(" | ")))].into();
            Item { name: if tail == "flag" { id.to_owned() } else { name(id) }, values }
        };
        snapshot.labels.extend(all.into_iter().map(|(id, says)| (format!("{id}.{tail}"), item(&id, says))));
    }
    let revision = worked.build.about.revision.or_empty();
    let holds =
        |book: &Sheet, stem: &String| !book.binds.is_empty() && (book.stem == *stem || book.binds.contains(stem));
    for sheet in sheets.iter().filter(|s| s.stem != change_notice::STEM) {
        let meta = &sheet.meta;
        let title = if meta.document.is_empty() { &meta.title } else { &meta.document }.clone();
        let item = SheetItem {
            title,
            digest: digest(&neutral(&sheet.markdown, revision)),
            sections: sections(&neutral(&sheet.markdown, revision)),
            drawings: sheet.beside.iter().filter_map(|file| drawing(file, revision)).collect(),
            books: sheets.iter().filter(|b| holds(b, &sheet.stem)).map(|b| b.stem.clone()).collect(),
        };
        snapshot.sheets.insert(sheet.stem.clone(), item);
    }
    Ok(snapshot)
}

/// The drawing in a file beside a document, where it is one.
fn drawing((file, text): &(String, Arc<str>), revision: &str) -> Option<(String, DrawingItem)> {
    let (_, after) = text.split_once("<title").filter(|_| file.starts_with(DRAWINGS))?;
    let title = after.split_once('>')?.1.split_once("</title>")?.0;
    Some((file.clone(), DrawingItem { title: unescaped(title), digest: digest(&neutral(text, revision)) }))
}

/// Plain text from that of an SVG.
fn unescaped(text: &str) -> String {
    [("&lt;", "<"), ("&gt;", ">"), ("&quot;", "\""), ("&apos;", "'"), ("&#39;", "'"), ("&amp;", "&")]
        .iter()
        .fold(text.to_owned(), |text, (from, to)| text.replace(from, to))
}

/// Head and foot of every page, but for the revision.
fn page(worked: &Worked<'_>) -> Stated {
    let setup = page_setup(worked);
    let (year, month, day) = setup.date;
    let parts = [
        setup.build,
        setup.number,
        setup.shop,
        format!("{year:04}-{month:02}-{day:02}"),
        if setup.paper == Paper::UsLetter { "US Letter" } else { "A4" }.to_owned(),
        if setup.region == "US" { "US English" } else { "British English" }.to_owned(),
        if setup.draft { "DRAFT" } else { "" }.to_owned(),
    ];
    Stated::plain(parts.into_iter().filter(|p| !p.is_empty()).collect::<Vec<_>>().join(" · "))
}

/// Ways to keep: those of an earlier revision, under the ids that its components have now.
#[must_use]
pub(super) fn kept_ways(earlier: &Snapshot, loaded: &Loaded) -> Ways {
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
    let notice = documents::ALL.iter().find_map(|document| match document.making {
        Making::Compared(view) => Some((document, view)),
        _ => None,
    });
    let (document, view) = notice.ok_or_else(|| Fault::of("a document is missing", &"no notice in the table"))?;
    let view = in_context(worked, &[], |context| Ok(view(context, old, new, &changes)))?;
    let engine = templates::engine(&worked.catalogue)?;
    let sheet = sheet(
        (&engine, words::of(worked)?),
        &page_setup(worked),
        &Shown::default(),
        document.stem.to_owned(),
        document.template,
        &view,
    )?;
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
        ("revision", worked.build.about.revision.or_empty().into()),
        ("ready_for_handover", worked.missing.is_empty().into()),
        ("build", build),
    ];
    let shop = shop::used(worked).map(|used| serde_json::to_value(used).map(|used| ("shop", used)));
    let shop = shop.transpose().map_err(|e| Fault::of("the record cannot be written", &e))?;
    let fields = fields.into_iter().chain(shop);
    Ok(fields.map(|(name, value): (&str, serde_json::Value)| (name.to_owned(), value)).collect())
}
