//! Builds of a run: worked out side by side, typeset in one pool, put in place one by one.

use super::args::{DATA, Wanted};
use super::check::{load, summary};
use super::clock;
use super::compare::read_record;
use super::compile::only;
use super::print::Print;
use super::release::{self, After};
use super::stop;
use super::typesetting::{Pdfs, forget_failed, typeset};
use crate::catalogue::Catalogue;
use crate::diag::Finding;
use crate::parallel;
use crate::pipeline::{self, DataFile, Only, Sheet};
use crate::publish::{Edition, Frozen, Output, Published, RECORD, Staging, digest_of, sealed};
use crate::source::SourceFile;
use crate::typst_cli::{Typst, TypstError};
use std::fmt;
use std::path::{Path, PathBuf};
use std::time::{Duration, SystemTime};

/// A spec worked out, with its documents as text.
#[derive(Debug)]
pub(super) struct Prepared {
    /// Folder of its output, below the folder of all.
    pub(super) name: String,
    /// The spec.
    pub(super) file: SourceFile,
    /// Its path as given.
    path: PathBuf,
    /// All findings.
    pub(super) findings: Vec<Finding>,
    /// Number of findings that stop.
    pub(super) errors: usize,
    /// Whether lines could not be read, so that nothing but the reader's findings is known.
    pub(super) unchecked: bool,
    /// One line on what there is and what was found.
    pub(super) summary: String,
    /// One line on the revision it was compared with, where it was.
    pub(super) compared: Option<String>,
    /// Why it cannot be released, where that is asked for.
    pub(super) refused: Option<String>,
    /// Its revision.
    revision: String,
    /// Number of the release it was compared with, else 0.
    after: u64,
    /// The documents; none where findings stop, or where the output is known to hold them.
    pub(super) sheets: Vec<Sheet>,
    /// What the record tells of the build.
    about: serde_json::Map<String, serde_json::Value>,
    /// The data files, which every choice of documents brings.
    data: Vec<DataFile>,
    /// Number of documents, where all of them stand in the output as they shall be.
    untouched: Option<usize>,
    /// Digest over all that the output depends on; `None` where it is not known.
    inputs: Option<String>,
    /// Seconds since 1970 of the documents' date.
    pub(super) timestamp: i64,
}

impl Prepared {
    /// Whether nothing stops it.
    pub(super) const fn goes_on(&self) -> bool {
        self.errors == 0 && self.refused.is_none()
    }
}

/// What to make, and with what: the same for all builds of a run.
pub(super) struct Order<'a> {
    /// What specs are read by.
    catalogue: &'a Catalogue,
    pub(super) wanted: &'a Wanted,
    /// Whether a copy is to be kept as a release.
    pub(super) release: bool,
    only: Only,
    /// The typesetter, or why there is none; `None` where none is asked for.
    typst: Option<Result<Typst, TypstError>>,
    /// The earlier revision to compare with, where it was named; else each build has its own.
    named: Option<After>,
    /// Tells this program from any other, on this machine; `None` where it cannot be told.
    program: Option<String>,
}

impl<'a> Order<'a> {
    /// Looks for the typesetter.
    #[expect(clippy::disallowed_methods, reason = "the command line looks at clock and path")]
    pub(super) fn of(catalogue: &'a Catalogue, wanted: &'a Wanted) -> Result<Self, String> {
        if let Some(fault) = clock::fault(SystemTime::now()) {
            return Err(fault);
        }
        let only = only(wanted)?;
        let path = std::env::var_os("PATH");
        let find = || {
            Typst::find(
                wanted.typesetter.typst.as_deref().filter(|p| !p.as_os_str().is_empty()),
                Some(Path::new(".tools")),
                path.as_deref(),
                &stop::asked,
            )
        };
        let typst = (!wanted.no_pdf).then(find);
        let named = wanted.revision_from.as_deref().map(After::record).transpose()?;
        Ok(Self { catalogue, wanted, release: false, only, typst, named, program: program() })
    }

    /// The same, with a copy kept as a release.
    pub(super) fn for_release(self) -> Self {
        Self { release: true, ..self }
    }

    /// The revision that a build comes after: the one that was named, else its last release.
    pub(super) fn after(&self, name: &str) -> Result<Option<After>, String> {
        self.named.clone().map_or_else(|| After::last(&self.wanted.out, name), |named| Ok(Some(named)))
    }

    /// Digest over all that the output of a spec depends on. A release is worked out whatever stands there.
    fn inputs(&self, file: &SourceFile, after: Option<&After>) -> Option<String> {
        let typst = match &self.typst {
            None => "",
            Some(found) => found.as_ref().ok()?.version.as_str(),
        };
        let wanted = format!("{:?}", self.wanted);
        let earlier = after.map_or("", |after| &after.digest);
        let parts = [self.program.as_ref()?, typst, &wanted, earlier, &file.name, &file.text];
        Some(digest_of(&parts.map(str::as_bytes)))
    }
}

/// Path, size and date of the program that runs: a new one may write other documents of the same spec.
#[expect(clippy::disallowed_methods, reason = "the command line looks at its own program")]
fn program() -> Option<String> {
    let path = std::env::current_exe().ok()?;
    let about = std::fs::metadata(&path).ok()?;
    Some(format!("{} {} {:?}", path.display(), about.len(), about.modified().ok()?))
}

/// Works out specs, as many at once as there are cores. Results stand in the order given.
pub(super) fn prepare(specs: &[(&Path, &str)], order: &Order<'_>) -> Vec<Result<Prepared, String>> {
    parallel::map(specs.len(), |at| prepare_one(specs[at].0, specs[at].1, order))
}

fn prepare_one(spec: &Path, name: &str, order: &Order<'_>) -> Result<Prepared, String> {
    let loaded = load(order.catalogue, spec)?;
    let after = order.after(name)?;
    let earlier = after.as_ref().map(|after| &after.earlier);
    let worked = pipeline::work_out_after(&loaded, earlier.map(|earlier| &earlier.build)).map_err(|e| e.to_string())?;
    let (errors, ..) = worked.counts();
    let mut refused = if order.release { release::refusal(&worked, &order.wanted.out, name) } else { None };
    let unchecked = worked.unchecked();
    let timestamp = pipeline::timestamp(&pipeline::page_setup(&worked));
    let inputs = order.inputs(&loaded.file, after.as_ref()).filter(|_| errors == 0 && !order.release);
    let untouched = inputs.as_ref().and_then(|i| sealed(&order.wanted.out, name, i, pipeline::is_document));
    let (mut sheets, mut data) = (Vec::new(), Vec::new());
    let mut about = serde_json::Map::new();
    let mut unraised = None;
    if errors == 0 && refused.is_none() && untouched.is_none() {
        // The data files first: what they are made from is large, and gone again before the texts are.
        data = pipeline::data(&worked).map_err(|e| e.to_string())?;
        sheets = pipeline::sheets(&worked, &order.only).map_err(|e| e.to_string())?;
        if sheets.is_empty() && !order.wanted.only.iter().any(|word| word == DATA) {
            return Err("this build has no such document: the stage asked for has no work in it".to_owned());
        }
        if order.wanted.whole() {
            let snapshot = pipeline::snapshot(&worked, &sheets).map_err(|e| e.to_string())?;
            if let Some(earlier) = earlier {
                let (notice, finding) = earlier.lead_to(&worked, &snapshot).map_err(|e| e.to_string())?;
                unraised = finding;
                sheets.extend(notice);
            }
            about = pipeline::about(&worked, &snapshot).map_err(|e| e.to_string())?;
        }
    } else if let (Some(earlier), Some(_), true) = (earlier, untouched, order.wanted.whole()) {
        // What stands there tells what it is.
        let record = read_record(&order.wanted.out.join(name).join(RECORD));
        unraised = record.ok().and_then(|(snapshot, ..)| earlier.unraised_in(&worked, &snapshot));
    }
    if order.release && unraised.is_some() {
        refused = Some(release::UNRAISED.to_owned());
    }
    let summary = summary(&worked, usize::from(unraised.is_some()));
    let revision = worked.build.about.revision.text().unwrap_or("").to_owned();
    let mut findings = worked.findings;
    findings.extend(unraised);
    let name = name.to_owned();
    let (compared, after) = after.map_or((None, 0), |after| (Some(after.told), after.number));
    Ok(Prepared {
        name,
        file: loaded.file,
        path: spec.to_owned(),
        findings,
        errors,
        unchecked,
        summary,
        compared,
        refused,
        revision,
        after,
        sheets,
        about,
        data,
        untouched,
        inputs,
        timestamp,
    })
}

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

/// `1 file`, `2 files`.
pub(super) fn count(n: usize, one: &str) -> String {
    if n == 1 { format!("1 {one}") } else { format!("{n} {one}s") }
}

/// What is known of a build before its PDFs are made.
pub(super) struct Planned<'a> {
    output: &'a Output,
    stale: Vec<String>,
    no_pdfs: bool,
    staging: Option<Staging<'a>>,
    pdfs: Pdfs<'a>,
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
        let (stale, untidy, no_pdfs) = (Vec::new(), None, None);
        Some(Ok(Made { documents, folder, published: None, stale, untidy, no_pdfs, frozen: None }))
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
        let why = why.filter(|_| no_pdfs).map(|e| format!("no PDFs were made: {e}; `--no-pdf` asks for none"));
        let frozen = if order.release && why.is_none() {
            let frozen = output.freeze(&build.revision, build.after);
            Some(frozen.map_err(|e| format!("{e}; the documents were compiled, but nothing was released"))?)
        } else {
            None
        };
        let folder = output.folder().to_owned();
        Ok(Made { documents, folder, published, stale, untidy, no_pdfs: why, frozen })
    };
    planned.into_iter().zip(builds).map(finish).collect()
}

/// A fault of writing, with the comfort that goes with it.
pub(super) fn unwritten(error: &dyn fmt::Display) -> String {
    format!("{error}; the earlier documents stand as they were")
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

impl<'a> Planned<'a> {
    /// The staging folder and the PDFs that go into it, where there are any.
    pub(super) fn open(&mut self) -> Option<(&mut Staging<'a>, &Pdfs<'a>)> {
        Some((self.staging.as_mut()?, &self.pdfs))
    }
}
