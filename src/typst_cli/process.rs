//! Runs an external program that may hang, flood or leave children behind, and listens to it.

use std::fmt::Write as _;
use std::io::{self, Read};
use std::process::{Child, Command};
use std::sync::mpsc::{self, RecvTimeoutError};
use std::sync::{Arc, Mutex, PoisonError};
use std::thread;
use std::time::{Duration, Instant};

/// How often a running process is looked at.
const POLL: Duration = Duration::from_millis(4);

/// How much of what it says is kept.
const KEPT: usize = 4096;

/// How much it may say in all.
const FLOOD: usize = 4 << 20;

/// How long its pipe may stay open once it has ended: something it started may hold it.
const LINGER: Duration = Duration::from_secs(1);

/// How a program ended.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum End {
    /// By itself, with success.
    Well,
    /// By itself, with the number by which programs tell of a fault in what they were given.
    Refused,
    /// By itself, in another way; the system's words.
    Badly(String),
    /// It was ended because it took too long.
    TimedOut,
    /// It was ended because it would not stop talking.
    Flooded,
    /// It was ended because the caller said so.
    Stopped,
}

/// A program that has run.
#[derive(Debug)]
pub(super) struct Ran {
    /// How it ended.
    pub(super) end: End,
    /// The beginning of what it said, as plain text without anything that steers a terminal.
    pub(super) said: String,
}

/// The beginning of what was said, and how much it was in all.
#[derive(Default)]
struct Heard {
    kept: Vec<u8>,
    all: usize,
}

/// Runs a program to its end, `limit` or until `stop`. What it says on the one pipe of `command` is kept.
pub(super) fn run(command: &mut Command, limit: Duration, stop: &(dyn Fn() -> bool + Sync)) -> io::Result<Ran> {
    in_own_group(command);
    let mut child = command.spawn()?;
    let pipe: Option<Box<dyn Read + Send>> = match (child.stderr.take(), child.stdout.take()) {
        (Some(pipe), _) => Some(Box::new(pipe)),
        (None, Some(pipe)) => Some(Box::new(pipe)),
        (None, None) => None,
    };
    let heard = Arc::new(Mutex::new(Heard::default()));
    let (tell, done) = mpsc::channel();
    let listener = Arc::clone(&heard);
    // Read while it runs: a full pipe would stop the process.
    thread::spawn(move || {
        listen(pipe, &listener);
        let _ = tell.send(());
    });
    let end = wait(&mut child, limit, stop, &heard)?;
    if done.recv_timeout(LINGER) == Err(RecvTimeoutError::Timeout) {
        // What is left of it is not worth waiting for; the listener ends with the pipe.
    }
    let heard = heard.lock().unwrap_or_else(PoisonError::into_inner);
    Ok(Ran { end, said: plain(&heard) })
}

fn listen(pipe: Option<Box<dyn Read + Send>>, heard: &Mutex<Heard>) {
    let Some(mut pipe) = pipe else { return };
    let mut bytes = [0; 8192];
    loop {
        match pipe.read(&mut bytes) {
            Ok(0) => return,
            Ok(count) => {
                let mut heard = heard.lock().unwrap_or_else(PoisonError::into_inner);
                let room = KEPT.saturating_sub(heard.kept.len()).min(count);
                heard.kept.extend_from_slice(&bytes[..room]);
                heard.all = heard.all.saturating_add(count);
            }
            Err(error) if error.kind() == io::ErrorKind::Interrupted => {}
            Err(_) => return,
        }
    }
}

#[expect(clippy::disallowed_methods, reason = "a limit of time")]
fn wait(child: &mut Child, limit: Duration, stop: &(dyn Fn() -> bool + Sync), heard: &Mutex<Heard>) -> io::Result<End> {
    let start = Instant::now();
    let end = loop {
        if let Some(status) = child.try_wait()? {
            return Ok(match status.code() {
                Some(0) => End::Well,
                Some(1) => End::Refused,
                _ => End::Badly(format!("it ended with {status}")),
            });
        }
        if stop() {
            break End::Stopped;
        }
        if start.elapsed() >= limit {
            break End::TimedOut;
        }
        if heard.lock().unwrap_or_else(PoisonError::into_inner).all > FLOOD {
            break End::Flooded;
        }
        thread::sleep(POLL);
    };
    end_all(child);
    let _ = child.wait();
    Ok(end)
}

/// Puts the program into a process group of its own, so that it can be ended with all that it starts.
#[cfg(unix)]
fn in_own_group(command: &mut Command) {
    use std::os::unix::process::CommandExt;
    command.process_group(0);
}

#[cfg(not(unix))]
fn in_own_group(_: &mut Command) {}

/// Ends the program and what it started. It has not been waited for, so its number is still its own.
#[cfg(unix)]
fn end_all(child: &mut Child) {
    use rustix::process::{Pid, Signal, kill_process_group};
    if let Some(group) = i32::try_from(child.id()).ok().and_then(Pid::from_raw) {
        let _ = kill_process_group(group, Signal::KILL);
    }
    let _ = child.kill();
}

#[cfg(not(unix))]
fn end_all(child: &mut Child) {
    let _ = child.kill();
}

/// What was heard as text: sequences that steer a terminal go, other control characters too.
fn plain(heard: &Heard) -> String {
    let text = String::from_utf8_lossy(&heard.kept);
    let mut out = String::with_capacity(text.len());
    let mut chars = text.chars().peekable();
    while let Some(c) = chars.next() {
        match c {
            '\u{1b}' => match chars.next() {
                Some('[') => drop(chars.find(|c| ('\u{40}'..='\u{7e}').contains(c))),
                // A string of the terminal (title, link, device control) ends with BEL or ESC and a backslash.
                Some(']' | 'P' | 'X' | '^' | '_') => {
                    let end = chars.find(|c| matches!(c, '\u{7}' | '\u{1b}'));
                    if end == Some('\u{1b}') {
                        chars.next_if_eq(&'\\');
                    }
                }
                Some(' '..='/') => drop(chars.next()),
                _ => {}
            },
            '\u{9b}' => drop(chars.find(|c| ('\u{40}'..='\u{7e}').contains(c))),
            '\n' | '\t' => out.push(c),
            c if c.is_control() => {}
            c => out.push(c),
        }
    }
    let mut out = out.trim_end().to_owned();
    if heard.all > heard.kept.len() {
        let _ = write!(out, "\n({} bytes in all)", heard.all);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn heard(text: &str) -> Heard {
        Heard { kept: text.as_bytes().to_vec(), all: text.len() }
    }

    /// The forms of ECMA-48: control sequences, strings of the terminal, two-character escapes, single controls.
    #[test]
    fn what_steers_a_terminal_goes() {
        let text = "a\u{1b}[31;1mred\u{1b}[0m b\u{1b}]0;title\u{7}c\u{1b}]8;;http://x\u{1b}\\d\u{1b}(Be\u{9b}2Jf\r\n\tg\u{8}\u{0}\n\n";
        assert_eq!(plain(&heard(text)), "ared bcdef\n\tg");
        assert_eq!(plain(&heard("cut off \u{1b}[3")), "cut off");
        assert_eq!(plain(&Heard { kept: b"x".to_vec(), all: 9 }), "x\n(9 bytes in all)");
    }

    #[cfg(unix)]
    #[test]
    fn a_program_goes_with_all_that_it_started() {
        let mut command = Command::new("sh");
        command.args(["-c", "sleep 77 & echo $! >&2; wait"]).stderr(std::process::Stdio::piped());
        let ran = run(&mut command, Duration::from_millis(300), &|| false).expect("starts");
        assert_eq!(ran.end, End::TimedOut);
        let grandchild: i32 = ran.said.trim().parse().expect("its number");
        let pid = rustix::process::Pid::from_raw(grandchild).expect("a number");
        // Its new parent needs a moment to take note of its end.
        let gone = (0..100).any(|_| {
            thread::sleep(Duration::from_millis(10));
            let state = std::fs::read_to_string(format!("/proc/{grandchild}/stat")).unwrap_or_default();
            rustix::process::test_kill_process(pid).is_err() || state.contains(") Z ")
        });
        assert!(gone, "the grandchild lives on");
    }
}
