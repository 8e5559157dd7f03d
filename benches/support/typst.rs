//! The bare typesetter on the sources of a build: plain processes with the arguments that rigbinder gives them.

#![expect(clippy::expect_used, reason = "a benchmark that cannot run says why and stops")]

use rigbinder::pipeline::{SPEC, Sheet};
use rigbinder::typeset;
use rigbinder::typst_cli::{self, Job, Typst};
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;
use std::time::{Duration, Instant};

/// The program `typst`, where it is found as rigbinder finds it.
pub(crate) fn typst() -> Option<PathBuf> {
    let given = std::env::var_os("RIGBINDER_TYPST").map(PathBuf::from);
    let tools = Path::new(env!("CARGO_MANIFEST_DIR")).join(".tools");
    Typst::find(given.as_deref(), Some(&tools), std::env::var_os("PATH").as_deref(), &|| false).ok().map(|t| t.path)
}

/// Sources of a build, ready to be typeset.
pub(crate) struct Bare {
    typst: PathBuf,
    jobs: Vec<Job>,
}

impl Bare {
    /// Writes the sources of `sheets` and all they need into `root`.
    pub(crate) fn of(typst: &Path, root: &Path, sheets: &[Sheet], spec: &str) -> Self {
        let fonts = root.join("fonts");
        typst_cli::write_fonts(&fonts).expect("fonts");
        fs::write(root.join(typeset::STYLE_NAME), typeset::STYLE).expect("written");
        fs::write(root.join(SPEC.name), spec).expect("written");
        let job = |sheet: &Sheet| {
            let source = root.join(format!("{}.typ", sheet.stem));
            fs::write(&source, &sheet.typst).expect("written");
            Job {
                name: sheet.stem.clone(),
                output: source.with_extension("pdf"),
                source,
                root: root.to_owned(),
                fonts: fonts.clone(),
                timestamp: 0,
                holds_files: sheet.holds_spec,
            }
        };
        Self { typst: typst.to_owned(), jobs: sheets.iter().map(job).collect() }
    }

    fn one(&self, at: usize) -> Duration {
        let start = Instant::now();
        let output = typst_cli::command(&self.typst, &self.jobs[at]).output().expect("starts");
        assert!(output.status.success(), "typst refused {}", self.jobs[at].name);
        start.elapsed()
    }

    /// The documents by the time that each takes alone, the longest first.
    pub(crate) fn longest_first(&self) -> Vec<usize> {
        let times: Vec<Duration> = (0..self.jobs.len()).map(|at| self.one(at)).collect();
        let mut order: Vec<usize> = (0..times.len()).collect();
        order.sort_by_key(|at| std::cmp::Reverse(times[*at]));
        order
    }

    /// Typesets all, two at once, in this order.
    pub(crate) fn two_at_once(&self, order: &[usize]) {
        let next = AtomicUsize::new(0);
        thread::scope(|scope| {
            for _ in 0..2 {
                scope.spawn(|| {
                    while let Some(at) = order.get(next.fetch_add(1, Ordering::Relaxed)) {
                        self.one(*at);
                    }
                });
            }
        });
    }
}
