//! Runs `typst compile` for many documents: the biggest first, as many at once as there are cores.

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;
use std::time::{Duration, Instant};

use super::process::{self, End};
use super::{Typst, TypstError, pdf};

/// One document to compile.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Job {
    /// Name for progress and results.
    pub name: String,
    /// The `.typ` file, inside the root folder.
    pub source: PathBuf,
    /// The PDF to write.
    pub output: PathBuf,
    /// Work folder: Typst reads nothing outside it.
    pub root: PathBuf,
    /// Folder with the fonts of [`super::write_fonts`]; no other fonts are used.
    pub fonts: PathBuf,
    /// Seconds since 1970 to print into the PDF, so that the same input gives the same bytes.
    pub timestamp: i64,
    /// Files are put into it: then it is PDF/A-3a, since PDF/A-2a allows none.
    pub holds_files: bool,
}

/// What all documents of a run share.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Settings {
    /// Longest time for one document.
    pub limit: Duration,
    /// Processes at once; `None` is one for each core.
    pub at_once: Option<usize>,
}

/// News while documents are compiled.
#[derive(Debug)]
pub enum Progress<'a> {
    /// A document has been started.
    Started(&'a Job),
    /// A document is done: time it took, and the fault if it failed.
    Done(&'a Job, Duration, Option<&'a TypstError>),
}

/// A compiled document.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Compiled {
    /// The PDF.
    pub output: PathBuf,
    /// Warnings of Typst, one a line; empty when all is well.
    pub warnings: String,
}

/// Compiles all jobs to tagged PDFs (PDF/A-2a, or A-3a with files inside, and PDF/UA-1). Results stand in the order of
/// the jobs.
///
/// `progress` is called from several threads. As soon as `stop` says so, running processes are ended, with all that they
/// started, and no others begin.
#[expect(clippy::disallowed_methods, reason = "how long it took is told, never written")]
pub fn compile(
    typst: &Typst,
    jobs: &[Job],
    settings: &Settings,
    progress: &(dyn Fn(Progress<'_>) + Sync),
    stop: &(dyn Fn() -> bool + Sync),
) -> Vec<Result<Compiled, TypstError>> {
    let mut order: Vec<usize> = (0..jobs.len()).collect();
    // The longest document decides how long all take, so it must not start last.
    let size = |i: &usize| std::fs::metadata(&jobs[*i].source).map_or(0, |m| m.len());
    order.sort_by_key(|i| (std::cmp::Reverse(size(i)), *i));
    let cores = || thread::available_parallelism().map_or(1, usize::from);
    let at_once = settings.at_once.unwrap_or_else(cores).clamp(1, jobs.len().max(1));
    let next = AtomicUsize::new(0);
    let results: Vec<Mutex<Option<Result<Compiled, TypstError>>>> = jobs.iter().map(|_| Mutex::new(None)).collect();
    thread::scope(|scope| {
        for _ in 0..at_once {
            scope.spawn(|| {
                while let Some(index) = order.get(next.fetch_add(1, Ordering::Relaxed)) {
                    let job = &jobs[*index];
                    progress(Progress::Started(job));
                    let start = Instant::now();
                    let result = if stop() { Err(TypstError::Stopped) } else { one(typst, job, settings, stop) };
                    progress(Progress::Done(job, start.elapsed(), result.as_ref().err()));
                    if let Ok(mut slot) = results[*index].lock() {
                        *slot = Some(result);
                    }
                }
            });
        }
    });
    results
        .into_iter()
        .zip(jobs)
        .map(|(slot, job)| {
            slot.into_inner().ok().flatten().unwrap_or_else(|| {
                Err(TypstError::Failed { source: job.source.clone(), messages: "the run was broken off".to_owned() })
            })
        })
        .collect()
}

fn one(
    typst: &Typst,
    job: &Job,
    settings: &Settings,
    stop: &(dyn Fn() -> bool + Sync),
) -> Result<Compiled, TypstError> {
    if let Some(folder) = job.output.parent() {
        std::fs::create_dir_all(folder)
            .map_err(|e| TypstError::Files { path: folder.to_owned(), message: e.to_string() })?;
    }
    let source = job.source.clone();
    let ran = process::run(&mut command(&typst.path, job), settings.limit, stop)
        .map_err(|e| TypstError::NotStarted { path: typst.path.clone(), message: e.to_string() })?;
    match ran.end {
        End::Well => match pdf::fault(&job.output) {
            None => Ok(Compiled { output: job.output.clone(), warnings: ran.said }),
            Some(why) if ran.said.is_empty() => Err(TypstError::NoPdf { source, why }),
            Some(why) => Err(TypstError::NoPdf { source, why: format!("{why}\n{}", ran.said) }),
        },
        End::Refused if !ran.said.is_empty() => Err(TypstError::Failed { source, messages: ran.said }),
        End::Refused => Err(TypstError::Crashed { source, messages: "it did not say why".to_owned() }),
        End::Badly(status) => Err(TypstError::Crashed { source, messages: format!("{status}\n{}", ran.said) }),
        End::Flooded => {
            let messages = format!("it would not stop talking and was ended\n{}", ran.said);
            Err(TypstError::Crashed { source, messages })
        }
        End::TimedOut => Err(TypstError::TimedOut { source, limit: settings.limit }),
        End::Stopped => Err(TypstError::Stopped),
    }
}

/// What every call asks for; a change makes all PDFs anew.
pub const FIXED: &[&str] = &["--format", "pdf", "--diagnostic-format", "short", "--ignore-system-fonts"];

/// Standards of a PDF: PDF/A-2a allows no files inside.
#[must_use]
pub const fn standard(holds_files: bool) -> &'static str {
    if holds_files { "a-3a,ua-1" } else { "a-2a,ua-1" }
}

/// The call of the program at `typst` for a job.
#[must_use]
pub fn command(typst: &Path, job: &Job) -> Command {
    let mut command = Command::new(typst);
    command
        .arg("compile")
        .args(FIXED)
        .args(["--pdf-standard", standard(job.holds_files)])
        .arg("--font-path")
        .arg(&job.fonts)
        .arg("--root")
        .arg(&job.root)
        .arg("--creation-timestamp")
        .arg(job.timestamp.to_string())
        .arg(&job.source)
        .arg(&job.output)
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::piped());
    // Settings of the machine must not change the documents.
    for name in [
        "TYPST_FONT_PATHS",
        "TYPST_ROOT",
        "TYPST_FEATURES",
        "TYPST_PACKAGE_PATH",
        "TYPST_PACKAGE_CACHE_PATH",
        "TYPST_CERT",
        "TYPST_IGNORE_SYSTEM_FONTS",
        "TYPST_IGNORE_EMBEDDED_FONTS",
        "SOURCE_DATE_EPOCH",
    ] {
        command.env_remove(name);
    }
    command
}
