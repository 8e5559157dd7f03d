//! Ctrl-C: what runs is told to stop, so that it can tidy up; the second time the program ends at once.

use super::BROKEN_OFF;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

/// Whether a person, or the system, asked for the end.
#[derive(Clone, Debug)]
pub(super) struct Stop {
    flag: Arc<AtomicBool>,
}

impl Stop {
    /// Listens for Ctrl-C, and for the system's request to end.
    pub(super) fn on_ctrl_c() -> Self {
        let flag = Arc::new(AtomicBool::new(false));
        let raised = Arc::clone(&flag);
        let listening = ctrlc::set_handler(move || {
            if raised.swap(true, Ordering::Relaxed) {
                std::process::exit(i32::from(BROKEN_OFF));
            }
        });
        // Without a handler Ctrl-C ends the program at once, and the next run tidies up.
        drop(listening);
        Self { flag }
    }

    /// Whether to stop.
    pub(super) fn asked(&self) -> bool {
        self.flag.load(Ordering::Relaxed)
    }
}
