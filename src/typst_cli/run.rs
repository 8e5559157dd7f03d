//! Runs `typst compile` for many documents: the biggest first, as many at once as there are cores.

use std::io::Read;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, ExitStatus, Stdio};
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;
use std::time::{Duration, Instant};

use super::{Typst, TypstError};

/// How often a running process is looked at.
const POLL: Duration = Duration::from_millis(4);

/// One document to compile.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Job {
    /// Name for progress and results.
    pub name: String,
    /// The `.typ` file, inside the root folder.
    pub source: PathBuf,
    /// The PDF to write.
    pub output: PathBuf,
    /// Files are put into it: then it is PDF/A-3a, since PDF/A-2a allows none.
    pub holds_files: bool,
}

/// What all documents of a run share.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Settings {
    /// Work folder: Typst reads nothing outside it.
    pub root: PathBuf,
    /// Folder with the fonts of [`super::write_fonts`]; no other fonts are used.
    pub fonts: PathBuf,
    /// Seconds since 1970 to print into the PDFs, so that the same input gives the same bytes.
    pub timestamp: i64,
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

/// Compiles all jobs to tagged PDFs (PDF/A-2a, or A-3a with files inside, and PDF/UA-1). Results stand in the order of the jobs.
///
/// `progress` is called from several threads.
pub fn compile(
    typst: &Typst,
    jobs: &[Job],
    settings: &Settings,
    progress: &(dyn Fn(Progress<'_>) + Sync),
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
                    let result = one(typst, job, settings);
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

fn one(typst: &Typst, job: &Job, settings: &Settings) -> Result<Compiled, TypstError> {
    if let Some(folder) = job.output.parent() {
        std::fs::create_dir_all(folder)
            .map_err(|e| TypstError::Files { path: folder.to_owned(), message: e.to_string() })?;
    }
    let mut child = command(typst, job, settings).spawn().map_err(|e| not_started(&typst.path, &e.to_string()))?;
    let stderr = child.stderr.take();
    // Read while it runs: a full pipe would stop the process.
    let reader = thread::spawn(move || {
        let mut bytes = Vec::new();
        if let Some(mut pipe) = stderr {
            let _ = pipe.read_to_end(&mut bytes);
        }
        String::from_utf8_lossy(&bytes).into_owned()
    });
    let status = wait(&mut child, settings.limit);
    let messages = reader.join().unwrap_or_default();
    match status {
        Ok(Some(status)) if status.success() => Ok(Compiled { output: job.output.clone(), warnings: messages }),
        Ok(Some(_)) => Err(TypstError::Failed { source: job.source.clone(), messages }),
        Ok(None) => Err(TypstError::TimedOut { source: job.source.clone(), limit: settings.limit }),
        Err(message) => Err(not_started(&typst.path, &message)),
    }
}

fn not_started(path: &Path, message: &str) -> TypstError {
    TypstError::NotStarted { path: path.to_owned(), message: message.to_owned() }
}

fn command(typst: &Typst, job: &Job, settings: &Settings) -> Command {
    let mut command = Command::new(&typst.path);
    command
        .arg("compile")
        .args(["--format", "pdf", "--diagnostic-format", "short"])
        .args(["--pdf-standard", if job.holds_files { "a-3a,ua-1" } else { "a-2a,ua-1" }])
        .arg("--ignore-system-fonts")
        .arg("--font-path")
        .arg(&settings.fonts)
        .arg("--root")
        .arg(&settings.root)
        .arg("--creation-timestamp")
        .arg(settings.timestamp.to_string())
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
        "TYPST_IGNORE_SYSTEM_FONTS",
        "TYPST_IGNORE_EMBEDDED_FONTS",
        "SOURCE_DATE_EPOCH",
    ] {
        command.env_remove(name);
    }
    command
}

/// Waits for the end; `None` when the limit was reached and the process has been ended.
fn wait(child: &mut Child, limit: Duration) -> Result<Option<ExitStatus>, String> {
    let start = Instant::now();
    loop {
        match child.try_wait() {
            Ok(Some(status)) => return Ok(Some(status)),
            Ok(None) if start.elapsed() < limit => thread::sleep(POLL),
            Ok(None) => {
                let _ = child.kill();
                let _ = child.wait();
                return Ok(None);
            }
            Err(error) => return Err(error.to_string()),
        }
    }
}
