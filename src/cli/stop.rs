//! Ctrl-C and the system's request to end: what runs is told to stop, so that it can tidy up.
//!
//! What cannot hear it, such as a disk that does not answer, is not waited for: a while later the program ends all the
//! same, and at once where it is asked a second time. The next run tidies up then.

use super::BROKEN_OFF;
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread;
use std::time::Duration;

/// How long what runs may take to tidy up.
const PATIENCE: Duration = Duration::from_secs(5);

/// One for the program, as signals are.
static ASKED: AtomicBool = AtomicBool::new(false);

/// Listens for Ctrl-C, and for the system's request to end.
pub(super) fn listen() {
    let listening = ctrlc::set_handler(|| {
        if ASKED.swap(true, Ordering::Relaxed) {
            end();
        }
        thread::spawn(|| {
            thread::sleep(PATIENCE);
            end();
        });
    });
    // Without a handler Ctrl-C ends the program at once, and the next run tidies up.
    drop(listening);
}

/// Whether a person, or the system, asked for the end.
pub(super) fn asked() -> bool {
    ASKED.load(Ordering::Relaxed)
}

fn end() {
    std::process::exit(i32::from(BROKEN_OFF));
}
