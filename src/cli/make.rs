//! Builds of a run that are worked out: typeset in one pool, put in place one by one.

use super::args::Wanted;
use super::order::Order;
use super::prepare::Prepared;
use super::print::Print;
use super::spec_file::count;
use super::typesetting::{Pdfs, Planned, forget_failed, typeset, unwritten};
use crate::pipeline::{self, Sheet};
use crate::publish::{Edition, Frozen, Output, Published, Staging};
use crate::typst_cli::Typst;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt;
use std::path::{Path, PathBuf};
use std::time::Duration;

/// What became of a build.
#[derive(Debug)]
pub(super) struct Made {
    documents: usize,
    folder: PathBuf,
    /// What the swap did; `None` where nothing changed.
    pub(super) published: Option<Published>,
    /// PDFs that went because their text changed.
    stale: Vec<String>,
    /// What could not be tidied up.
    pub(super) untidy: Option<String>,
    /// Documents that links lead to and that are not there, each with those whose links do.
    pub(super) beyond: BTreeMap<String, BTreeSet<String>>,
    /// Why PDFs that were asked for were not made.
    pub(super) no_pdfs: Option<String>,
    /// What became of the release, where one was asked for.
    pub(super) frozen: Option<Frozen>,
}

impl fmt::Display for Made {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let documents = if self.documents == 0 { String::new() } else { count(self.documents, "document") + " and " };
        write!(f, "{documents}the data files in {}: ", self.folder.display())?;
        let Some(published) = &self.published else { return f.write_str("nothing changed") };
        match (published.written.len(), published.kept) {
            (0, _) => f.write_str("no file rewritten")?,
            (written, 0) => write!(f, "{} written", count(written, "file"))?,
            (written, kept) => write!(f, "{written} of {} rewritten", count(written + kept, "file"))?,
        }
        let gone = published.gone.iter().filter(|name| !self.stale.contains(name)).count();
        if gone > 0 {
            write!(f, ", {gone} removed")?;
        }
        if !self.stale.is_empty() {
            let stale = count(self.stale.len(), "PDF");
            write!(f, "; {stale} removed, since the text changed and no new one was made: {}", self.stale.join(", "))?;
        }
        Ok(())
    }
}

/// Makes the documents of builds and puts them in place. Results stand in the order given; one that fails stops no
/// other. As soon as `stop` says so, what is not in place yet is given up.
pub(super) fn make(
    print: &Print,
    order: &Order<'_>,
    builds: &[&Prepared],
    stop: &(dyn Fn() -> bool + Sync),
) -> Vec<Result<Made, String>> {
    let touched: Vec<&Prepared> = builds.iter().copied().filter(|b| b.untouched.is_none()).collect();
    let mut made = if touched.is_empty() { Vec::new() } else { make_touched(print, order, &touched, stop) }.into_iter();
    let untouched = |build: &&Prepared| {
        let folder = order.wanted.out.join(&build.name);
        let documents = build.untouched?;
        let (stale, untidy, no_pdfs, beyond) = (Vec::new(), None, None, BTreeMap::new());
        Some(Ok(Made { documents, folder, published: None, stale, untidy, beyond, no_pdfs, frozen: None }))
    };
    let made: Vec<_> = builds.iter().filter_map(|build| untouched(build).or_else(|| made.next())).collect();
    if matches!(order.typst, Some(Ok(_))) {
        made.iter().flatten().for_each(|made| forget_failed(&made.folder));
    }
    made
}

fn make_touched(
    print: &Print,
    order: &Order<'_>,
    builds: &[&Prepared],
    stop: &(dyn Fn() -> bool + Sync),
) -> Vec<Result<Made, String>> {
    let wanted = order.wanted;
    let found = order.typst.as_ref().and_then(|t| t.as_ref().ok());
    let why = order.typst.as_ref().and_then(|t| t.as_ref().err());
    let outputs: Vec<Result<Output, String>> = builds
        .iter()
        .map(|b| {
            let output = Output::open(&wanted.out, &b.name, pipeline::is_document).map_err(|e| e.to_string())?;
            if wanted.take_over { Ok(output) } else { output.of_spec(&b.path).map_err(|e| e.to_string()) }
        })
        .collect();
    for fault in outputs.iter().flatten().filter_map(Output::record_fault) {
        print.note(&format!("{fault}: its documents are made anew"));
    }
    let mut planned: Vec<Result<Planned<'_>, String>> = outputs
        .iter()
        .zip(builds)
        .map(|(output, build)| output.as_ref().map_err(String::clone).and_then(|o| plan(o, build, wanted, found)))
        .collect();
    if let Some(typst) = found {
        let limit = Duration::from_secs(wanted.typesetter.typst_limit.into());
        typeset(print, typst, limit, &mut planned, builds, stop);
    }
    let finish = |(planned, build): (Result<Planned<'_>, String>, &&Prepared)| {
        let Planned { output, stale, no_pdfs, staging, .. } = planned?;
        if stop() && staging.is_some() {
            return Err("broken off; the earlier documents stand as they were".to_owned());
        }
        let published = staging.map(Staging::swap_in).transpose().map_err(|e| unwritten(&e))?;
        let documents = build.sheets.len();
        // Without a seal the next run takes a little longer.
        drop(output.seal(build.inputs.as_deref().unwrap_or(""), documents, &build.path));
        let untidy = published.as_ref().and_then(|p| p.untidy.clone());
        let then = if order.release {
            "nothing was released, since a release holds its PDFs"
        } else {
            "`--no-pdf` asks for none"
        };
        let why = why.filter(|_| no_pdfs).map(|e| format!("no PDFs were made: {e}; {then}"));
        let frozen = if order.release && why.is_none() {
            let frozen = output.freeze(&build.revision, build.after);
            Some(frozen.map_err(|e| format!("{e}; the documents were compiled, but nothing was released"))?)
        } else {
            None
        };
        let folder = output.folder().to_owned();
        let beyond = beyond(&build.sheets, &folder);
        Ok(Made { documents, folder, published, stale, untidy, beyond, no_pdfs: why, frozen })
    };
    planned.into_iter().zip(builds).map(finish).collect()
}

/// The documents that links lead to and that nobody made yet.
fn beyond(sheets: &[Sheet], folder: &Path) -> BTreeMap<String, BTreeSet<String>> {
    let mut all: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for sheet in sheets {
        for stem in sheet.leads_to().into_iter().filter(|stem| !folder.join(format!("{stem}.md")).is_file()) {
            all.entry(stem.to_owned()).or_default().insert(sheet.stem.clone());
        }
    }
    all
}

/// Measures what shall be against what is, and stages what is known already.
fn plan<'a>(
    output: &'a Output,
    build: &'a Prepared,
    wanted: &Wanted,
    typst: Option<&Typst>,
) -> Result<Planned<'a>, String> {
    let mut edition = Edition::begin(output, &build.path, wanted.whole(), build.about.clone());
    for sheet in &build.sheets {
        edition.text(&format!("{}.md", sheet.stem), sheet.markdown.as_bytes());
        edition.text(&format!("{}.html", sheet.stem), sheet.html.as_bytes());
        for (name, text) in &sheet.beside {
            edition.text(name, text.as_bytes());
        }
    }
    for file in &build.data {
        edition.text(&file.name, &file.bytes);
    }
    let mut pdfs = Pdfs::of(build);
    pdfs.all.retain(|pdf| !edition.pdf(&pdf.name, &pdf.source_digest, typst.map(|t| t.version.as_str())));
    let stale = edition.stale().to_vec();
    let no_pdfs = !pdfs.all.is_empty();
    let staging = edition.stage().map_err(|e| unwritten(&e))?;
    Ok(Planned { output, stale, no_pdfs, staging, pdfs })
}
