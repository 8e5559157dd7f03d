//! A bar for typesetting, on a terminal, once it takes longer than half a second.

use super::print::Print;
use crate::typst_cli::Progress;
use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use std::time::{Duration, Instant};

/// When the wait is long enough to be told.
const PATIENCE: Duration = Duration::from_millis(500);

/// The bar.
pub(super) struct Bar {
    bar: ProgressBar,
    begun: Instant,
}

impl Bar {
    #[expect(clippy::disallowed_methods, reason = "how long it took is told, never written")]
    pub(super) fn new(print: &Print, documents: usize) -> Self {
        let bar = ProgressBar::hidden();
        bar.set_length(documents as u64);
        if let Ok(style) = ProgressStyle::with_template("typesetting {bar:24} {pos}/{len} {msg}") {
            bar.set_style(style);
        }
        let begun = Instant::now();
        if print.shows_progress() {
            bar.set_draw_target(ProgressDrawTarget::stderr());
        }
        Self { bar, begun }
    }

    pub(super) fn news(&self, progress: &Progress<'_>) {
        match progress {
            Progress::Started(job) if self.begun.elapsed() > PATIENCE => self.bar.set_message(job.name.clone()),
            Progress::Started(_) => {}
            Progress::Done(..) => self.bar.inc(1),
        }
    }

    pub(super) fn finish(&self) {
        self.bar.finish_and_clear();
    }
}
