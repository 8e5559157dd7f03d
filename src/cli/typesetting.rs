//! PDFs of all builds of a run: one pool of `typst` processes, the longest document first.

use super::prepare::Prepared;
use super::print::Print;
use super::progress::Bar;
use crate::files;
use crate::pipeline;
use crate::publish::{Output, Staging, digest_of};
use crate::typeset::{self, Logo};
use crate::typst_cli::{self, Compiled, Job, Settings, Typst, TypstError};
use std::fmt;
use std::fs;
use std::path::Path;
use std::sync::{Arc, LazyLock};
use std::time::Duration;

/// Folder below the folder of all outputs where the Typst files of failed runs are kept.
const FAILED: &str = ".failed-typst";

/// How many failed documents of a build are told of one by one.
const TOLD: usize = 3;

/// Digest over what goes into every PDF besides its own text.
static COMMON: LazyLock<String> = LazyLock::new(|| {
    let fixed = typst_cli::FIXED.iter().map(|a| a.as_bytes());
    let parts: Vec<&[u8]> = typst_cli::fonts().chain(fixed).chain([typeset::STYLE.as_bytes()]).collect();
    digest_of(&parts)
});

/// A PDF of a build.
#[derive(Debug)]
pub(super) struct Pdf<'a> {
    /// File name.
    pub(super) name: String,
    /// Digest over all it is made from.
    pub(super) source_digest: String,
    stem: &'a str,
    text: &'a str,
    holds_spec: bool,
    /// Files of the shop's folder that it holds beside the spec.
    holds: &'a [(String, Arc<[u8]>)],
}

/// PDFs of a build that are to be made.
#[derive(Debug)]
pub(super) struct Pdfs<'a> {
    pub(super) all: Vec<Pdf<'a>>,
    /// The spec, which some PDFs hold.
    spec: &'a str,
    /// The logo of the shop, which they show.
    logo: Option<&'a Logo>,
    timestamp: i64,
}

impl<'a> Pdfs<'a> {
    /// All PDFs of a build.
    pub(super) fn of(build: &'a Prepared) -> Self {
        let timestamp = build.timestamp;
        let spec = build.attached.as_deref().unwrap_or(&build.file.text);
        let pdf = |sheet: &'a crate::pipeline::Sheet| {
            let inside = if sheet.holds_spec { spec } else { "" };
            let standard = typst_cli::standard(sheet.holds_spec);
            let parts = [COMMON.as_bytes(), &timestamp.to_le_bytes(), standard.as_bytes(), inside.as_bytes()];
            let logo = build.logo.as_ref().map(|logo| &*logo.bytes);
            let holds: Vec<&[u8]> = sheet.holds.iter().flat_map(|(name, bytes)| [name.as_bytes(), bytes]).collect();
            Pdf {
                name: format!("{}.pdf", sheet.stem),
                source_digest: digest_of(&[&parts[..], &[sheet.typst.as_bytes()], logo.as_slice(), &holds].concat()),
                stem: &sheet.stem,
                text: &sheet.typst,
                holds_spec: sheet.holds_spec,
                holds: &sheet.holds,
            }
        };
        Self { all: build.sheets.iter().map(pdf).collect(), spec, logo: build.logo.as_ref(), timestamp }
    }
}

/// What is known of a build before its PDFs are made.
pub(super) struct Planned<'a> {
    pub(super) output: &'a Output,
    pub(super) stale: Vec<String>,
    pub(super) no_pdfs: bool,
    pub(super) staging: Option<Staging<'a>>,
    pub(super) pdfs: Pdfs<'a>,
}

impl<'a> Planned<'a> {
    /// The staging folder and the PDFs that go into it, where there are any.
    pub(super) fn open(&mut self) -> Option<(&mut Staging<'a>, &Pdfs<'a>)> {
        Some((self.staging.as_mut()?, &self.pdfs))
    }
}

/// A fault of writing, with the comfort that goes with it.
pub(super) fn unwritten(error: &dyn fmt::Display) -> String {
    format!("{error}; the earlier documents stand as they were")
}

/// Typesets what is open in all builds into their staging folders. A build of which a document fails becomes a fault.
pub(super) fn typeset(
    print: &Print,
    typst: &Typst,
    limit: Duration,
    planned: &mut [Result<Planned<'_>, String>],
    builds: &[&Prepared],
    stop: &(dyn Fn() -> bool + Sync),
) {
    let mut jobs = Vec::new();
    let mut shares = Vec::new();
    for (slot, build) in planned.iter_mut().zip(builds) {
        let title = if builds.len() > 1 { format!("{}: ", build.name) } else { String::new() };
        let made = match slot.as_mut().ok().and_then(Planned::open) {
            Some((staging, pdfs)) if !pdfs.all.is_empty() => write_sources(staging, pdfs, &title),
            _ => Ok(Vec::new()),
        };
        match made {
            Ok(own) => {
                shares.push(own.len());
                jobs.extend(own);
            }
            Err(fault) => {
                shares.push(0);
                *slot = Err(unwritten(&fault));
            }
        }
    }
    let bar = Bar::new(print, jobs.len());
    let settings = Settings { limit, at_once: None };
    let mut results = typst_cli::compile(typst, &jobs, &settings, &|news| bar.news(&news), stop).into_iter();
    bar.finish();
    for (slot, share) in planned.iter_mut().zip(shares) {
        let own: Vec<_> = results.by_ref().take(share).collect();
        if share == 0 {
            continue;
        }
        if let Some((staging, pdfs)) = slot.as_mut().ok().and_then(Planned::open)
            && let Err(fault) = take_in(staging, pdfs, own, &typst.version)
        {
            *slot = Err(fault);
        }
    }
}

/// Writes Typst files, style and fonts; returns what is to be done with them.
fn write_sources(staging: &Staging<'_>, pdfs: &Pdfs<'_>, title: &str) -> Result<Vec<Job>, String> {
    let root = staging.work_folder().map_err(|e| e.to_string())?;
    let root = std::path::absolute(root).map_err(|e| e.to_string())?;
    let fonts = root.join("fonts");
    typst_cli::write_fonts(&fonts).map_err(|e| e.to_string())?;
    let write = |name: &str, text: &str| {
        let path = root.join(name);
        fs::write(&path, text).map(|()| path.clone()).map_err(|e| format!("cannot write {}: {e}", path.display()))
    };
    write(typeset::STYLE_NAME, typeset::STYLE)?;
    for (name, bytes) in pdfs.all.iter().flat_map(|pdf| pdf.holds) {
        let path = root.join(name);
        let made = path.parent().map_or(Ok(()), fs::create_dir_all).and_then(|()| fs::write(&path, bytes));
        made.map_err(|e| format!("cannot write {}: {e}", path.display()))?;
    }
    if let Some(logo) = pdfs.logo {
        let path = root.join(&logo.name);
        fs::write(&path, &logo.bytes).map_err(|e| format!("cannot write {}: {e}", path.display()))?;
    }
    if pdfs.all.iter().any(|pdf| pdf.holds_spec) {
        write(pipeline::SPEC.name, pdfs.spec)?;
    }
    let job = |pdf: &Pdf<'_>| {
        let output = staging.place(&pdf.name).map_err(|e| e.to_string())?;
        Ok(Job {
            name: format!("{title}{}", pdf.stem),
            source: write(&format!("{}.typ", pdf.stem), pdf.text)?,
            output: std::path::absolute(output).map_err(|e| e.to_string())?,
            root: root.clone(),
            fonts: fonts.clone(),
            timestamp: pdfs.timestamp,
            holds_files: pdf.holds_spec,
        })
    };
    pdfs.all.iter().map(job).collect()
}

/// Takes PDFs into the staging folder, or tells why there are none.
fn take_in(
    staging: &mut Staging<'_>,
    pdfs: &Pdfs<'_>,
    results: Vec<Result<Compiled, TypstError>>,
    version: &str,
) -> Result<(), String> {
    let mut failed: Vec<TypstError> = results.into_iter().filter_map(Result::err).collect();
    if failed.is_empty() {
        let take = |pdf: &Pdf<'_>| staging.typeset(&pdf.name, &pdf.source_digest, version);
        return pdfs.all.iter().try_for_each(take).map_err(|e| unwritten(&e));
    }
    if failed.contains(&TypstError::Stopped) {
        return Err("broken off; the earlier documents stand as they were".to_owned());
    }
    let mut kept = None;
    if failed.iter().any(|e| e.kept().is_some()) {
        let folder = keep_sources(staging)?;
        failed = failed.into_iter().map(|e| e.moved_to(&folder)).collect();
        kept = Some(folder);
    }
    let mut lines: Vec<String> = failed.iter().map(ToString::to_string).collect();
    lines.dedup();
    if lines.len() > TOLD + 1 {
        let more = lines.split_off(TOLD).len();
        lines.push(format!("and {more} more documents failed"));
    }
    let folder = kept.map_or_else(String::new, |f| format!("the Typst files are kept in {}; ", f.display()));
    Err(format!("{}\n{folder}nothing was written, the earlier documents stand as they were", lines.join("\n")))
}

/// Moves the Typst files of a failed run where they can be looked at.
fn keep_sources(staging: &Staging<'_>) -> Result<std::path::PathBuf, String> {
    let target = staging.target();
    let kept = target.with_file_name(FAILED).join(target.file_name().unwrap_or_default());
    let cannot = |what: &str, path: &Path, e: &dyn std::fmt::Display| format!("cannot {what} {}: {e}", path.display());
    let all = target.with_file_name(FAILED);
    // Through a link it would be a folder of somebody else's that is emptied.
    if let Some(kind) = files::kind(&all).filter(|kind| *kind != files::Kind::Folder) {
        return Err(format!("cannot keep the Typst files: {} is {}; move it away", all.display(), kind.words()));
    }
    match files::kind(&kept) {
        None => fs::create_dir_all(&all).map_err(|e| cannot("make", &all, &e))?,
        Some(files::Kind::Folder) => fs::remove_dir_all(&kept).map_err(|e| cannot("remove", &kept, &e))?,
        Some(_) => fs::remove_file(&kept).map_err(|e| cannot("remove", &kept, &e))?,
    }
    let work = staging.work_folder().map_err(|e| e.to_string())?;
    fs::rename(&work, &kept).map_err(|e| cannot("keep", &work, &e))?;
    Ok(kept)
}

/// Removes what [`keep_sources`] kept of a build that is well again.
pub(super) fn forget_failed(target: &Path) {
    let all = target.with_file_name(FAILED);
    if !files::is_folder(&all) {
        return;
    }
    // What cannot be removed is in nobody's way; the folder of all goes with the last build in it.
    drop(fs::remove_dir_all(all.join(target.file_name().unwrap_or_default())));
    drop(fs::remove_dir(all));
}
