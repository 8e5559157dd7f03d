//! Documents of a build as text: Markdown, HTML, Typst, iCalendar.

use super::sheet::{Sheet, Shown, in_context, mark_of, page_setup, sheet};
use super::{Fault, Worked, binder, shop, templates, words};
use crate::documents::{self, Document};
use crate::kinds::Stage;
use crate::parallel;
use crate::typeset::PageSetup;

/// Which documents to make.
#[derive(Clone, Debug, Default)]
pub struct Only {
    /// Words of documents (see [`documents::ALL`]); all where empty.
    pub documents: Vec<String>,
    /// Stages whose packet to make; all where empty.
    pub stages: Vec<Stage>,
}

impl Only {
    fn wants(&self, document: &Document) -> bool {
        self.documents.is_empty() && (self.stages.is_empty() || document.per_stage())
            || self.documents.iter().any(|word| word == document.word)
    }

    fn wants_stage(&self, stage: Stage) -> bool {
        self.stages.is_empty() || self.stages.contains(&stage)
    }
}

/// Whether a file name is one that [`sheets`] may give, with any ending.
#[must_use]
pub fn is_document(name: &str) -> bool {
    let stem = name.split('.').next().unwrap_or("");
    Job::all().any(|job| job.stem == stem)
}

/// A document to make.
#[derive(Clone, Debug)]
struct Job {
    document: &'static Document,
    stage: Option<Stage>,
    stem: String,
}

impl Job {
    /// All that there are, in their fixed order.
    fn all() -> impl Iterator<Item = Self> {
        documents::ALL
            .iter()
            .flat_map(|document| document.stems().map(move |(stem, stage)| Self { document, stage, stem }))
    }
}

/// The documents `only` asks for, in their fixed order.
fn jobs(only: &Only) -> Vec<Job> {
    Job::all().filter(|job| only.wants(job.document) && job.stage.is_none_or(|stage| only.wants_stage(stage))).collect()
}

/// Makes the documents `only` asks for, several at once, in a fixed order.
///
/// # Errors
/// Where a template does not fit its view: a fault of rigbinder.
pub fn sheets(worked: &Worked<'_>, only: &Only) -> Result<Vec<Sheet>, Fault> {
    let setup = page_setup(worked);
    let asked = jobs(only);
    let shown = if asked.iter().any(|job| job.document.drawings) { Shown::of(worked) } else { Shown::default() };
    let of_job = |job: &Job| make(worked, &shown, &setup, job);
    let mut made = side_by_side(&asked, &of_job)?;
    let binds = |stem: &String| made.iter().any(|sheet| sheet.binds.contains(stem));
    // A book may hold documents that nobody asked for by themselves.
    let absent = |job: &Job| binds(&job.stem) && made.iter().all(|sheet| sheet.stem != job.stem);
    let more = side_by_side(&Job::all().filter(absent).collect::<Vec<_>>(), &of_job)?;
    // On a screen a book leads to what it binds as files of their own: they come with it.
    made.extend(more);
    let place = |sheet: &Sheet| Job::all().position(|job| job.stem == sheet.stem);
    made.sort_by_cached_key(place);
    for at in 0..made.len() {
        if !made[at].binds.is_empty() {
            made[at] = book(worked, &shown, &setup, &made[at], made.iter())?;
        }
    }
    Ok(made)
}

/// A book with what it binds of `all`.
fn book<'a>(
    worked: &Worked<'_>,
    shown: &Shown,
    setup: &PageSetup,
    front: &'a Sheet,
    all: impl Iterator<Item = &'a Sheet>,
) -> Result<Sheet, Fault> {
    let parts: Vec<&Sheet> = all.filter(|sheet| front.binds.contains(&sheet.stem)).collect();
    let mut marked: Vec<&Sheet> = parts.iter().copied().chain([front]).collect();
    marked.sort_by_key(|sheet| &sheet.stem);
    // A calendar feed beside its document counts the revisions.
    let texts = marked.iter().flat_map(|sheet| {
        let drawn = sheet.beside.iter().filter(|(name, _)| shown.pictures.contains_key(name));
        [sheet.markdown.as_str()].into_iter().chain(drawn.map(|(_, text)| text.as_ref()))
    });
    let mark = mark_of(texts, &setup.revision);
    let setup = PageSetup { draft: !worked.missing.is_empty(), mark, ..setup.clone() };
    // The owner's book tells nothing of prices and suppliers; who works on the van later needs all of it.
    let asked = documents::ALL.iter().any(|d| d.holds_spec && d.stem == front.stem);
    let open = asked && !worked.build.hides() && worked.attached.is_some();
    let shop = if open { Some(shop::attached(worked)?) } else { None };
    binder::bound(front, parts.into_iter(), &setup, &shown.pictures, shop)
}

/// Does the jobs, several at once; what they give stands in their order.
fn side_by_side(
    jobs: &[Job],
    of_job: &(dyn Fn(&Job) -> Result<Option<Sheet>, Fault> + Sync),
) -> Result<Vec<Sheet>, Fault> {
    // The longest stand last in the list, so the work is taken from its end.
    let mut made = parallel::map(jobs.len(), |at| of_job(&jobs[jobs.len() - 1 - at]));
    made.reverse();
    made.into_iter().filter_map(Result::transpose).collect()
}

/// Makes one document; `None` where there is nothing to tell.
fn make(worked: &Worked<'_>, shown: &Shown, setup: &PageSetup, job: &Job) -> Result<Option<Sheet>, Fault> {
    let engine = templates::engine(&worked.catalogue)?;
    in_context(worked, &shown.views, |context| {
        let Job { document, stage, stem } = job;
        let Some(view) = document.view(context, *stage) else { return Ok(None) };
        let mut made = sheet((&engine, words::of(worked)?), setup, shown, stem.clone(), document.template, &view)?;
        made.beside.extend(document.beside.map(|(ending, text)| (format!("{stem}.{ending}"), text(context).into())));
        Ok(Some(made))
    })
}
