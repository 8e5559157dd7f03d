//! `watch`: real saves, in place and by rename, a half-typed spec, Ctrl-C.

use crate::publishing::{bench, spec};
use std::fs;
use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::sync::mpsc::{self, Receiver};
use std::thread;
use std::time::{Duration, Instant};

/// Longest wait for anything.
const PATIENCE: Duration = Duration::from_secs(30);

/// A running `watch`, and what it says.
struct Watch {
    child: Child,
    lines: Receiver<String>,
}

impl Watch {
    fn start(here: &Path, specs: &[&str]) -> Self {
        let mut child = Command::new(env!("CARGO_BIN_EXE_rigbinder"))
            .arg("watch")
            .args(specs)
            .args(["--out", "out", "--typst", "./typst", "--message-format", "short"])
            .current_dir(here)
            .stderr(Stdio::piped())
            .spawn()
            .expect("starts");
        let stderr = BufReader::new(child.stderr.take().expect("piped"));
        let (tell, lines) = mpsc::channel();
        thread::spawn(move || stderr.lines().map_while(Result::ok).try_for_each(|line| tell.send(line)));
        Self { child, lines }
    }

    /// All lines up to the one with `words`.
    fn until(&self, words: &str) -> Vec<String> {
        let (end, mut seen) = (Instant::now() + PATIENCE, Vec::new());
        while let Ok(line) = self.lines.recv_timeout(end.saturating_duration_since(Instant::now())) {
            seen.push(line);
            if seen.last().is_some_and(|line| line.contains(words)) {
                return seen;
            }
        }
        panic!("{words:?} never came: {seen:#?}");
    }

    fn interrupt(mut self) -> Option<i32> {
        let sent = Command::new("kill").args(["-INT", &self.child.id().to_string()]).status().expect("kill");
        assert!(sent.success());
        self.child.wait().expect("ends").code()
    }
}

impl Drop for Watch {
    fn drop(&mut self) {
        drop(self.child.kill());
        drop(self.child.wait());
    }
}

/// As many editors save: a new file beside, renamed over the old one.
fn save_by_rename(here: &Path, text: &str) {
    fs::write(here.join(".mine.toml.swp"), text).expect("beside");
    fs::rename(here.join(".mine.toml.swp"), here.join("mine.toml")).expect("over");
}

#[test]
fn every_save_is_compiled_and_a_broken_one_keeps_the_last_good_output() {
    let here = bench("watch-saves");
    let sheet = || fs::read_to_string(here.join("out/mine/schedule.md")).expect("schedule");
    let watch = Watch::start(&here, &["mine.toml"]);
    watch.until("waiting for a save");
    let good = sheet();

    save_by_rename(&here, &spec("First", "7.5 m"));
    let told = watch.until("waiting for a save").join("\n");
    assert!(told.contains("mine.toml: component.fridge.run"), "{told}");
    assert!(told.contains("rewritten") && told.contains("calculation-sheet (html, md, pdf)"), "{told}");
    assert!(!told.contains("maintenance-calendar"), "{told}");
    let longer = sheet();
    assert_ne!(longer, good);

    // Half typed: no TOML, then an unknown unit.
    for broken in ["[build]\ntitle = \"First", &spec("First", "7.5 parsecs")] {
        fs::write(here.join("mine.toml"), broken).expect("saved");
        let told = watch.until("waiting for a save").join("\n");
        assert!(told.contains("error: ") && told.contains("the last good save stand"), "{told}");
        assert_eq!(sheet(), longer);
    }
    // Away for a moment, as some editors do it, then whole again as it was first.
    fs::remove_file(here.join("mine.toml")).expect("away");
    watch.until("mine.toml cannot be read; waiting for it");
    save_by_rename(&here, &spec("First", "3 m"));
    watch.until("waiting for a save");
    assert_eq!(sheet(), good);
    assert_eq!(watch.interrupt(), Some(0));
    let mut left: Vec<_> =
        fs::read_dir(here.join("out")).expect("out").map(|e| e.expect("entry").file_name()).collect();
    left.sort();
    assert_eq!(left, [".mine.lock", "mine"]);
}

/// A save while PDFs are made breaks them off; the last save wins.
#[test]
fn a_save_in_the_meantime_starts_over() {
    let here = bench("watch-meantime");
    let slow = format!("grep -q Slow \"$in\" && sleep 60\n{}", crate::publishing::WELL);
    crate::publishing::stand_in(&here.join("typst"), "0.15.1", &slow);
    fs::write(here.join("mine.toml"), spec("Slow", "3 m")).expect("spec");
    let watch = Watch::start(&here, &["mine.toml"]);
    watch.until("0 errors");
    let begun = Instant::now();
    while !here.join("asked").exists() && begun.elapsed() < PATIENCE {
        thread::sleep(Duration::from_millis(10));
    }
    save_by_rename(&here, &spec("Quick", "3 m"));
    watch.until("starting over");
    watch.until("waiting for a save");
    assert!(begun.elapsed() < PATIENCE, "the slow PDF was waited for");
    assert!(fs::read_to_string(here.join("out/mine/schedule.md")).expect("schedule").contains("Quick"));
    assert_eq!(watch.interrupt(), Some(0));
}

/// A stock item, a kind, the page, a folder that was not there: what the documents are made from is watched whole.
#[test]
fn a_save_in_the_shops_folder_is_compiled_too() {
    let here = bench("watch-shop");
    fs::create_dir_all(here.join("shop/stock")).expect("folder");
    fs::write(here.join("shop/shop.toml"), "[shop]\nname = \"Alder Works\"\n").expect("page");
    let item = |kind: &str, draw: &str| format!("[stock.cold]\nkind = \"{kind}\"\ndraw = \"{draw}\"\n");
    fs::write(here.join("shop/stock/cold.toml"), item("fridge", "45 W")).expect("item");
    let text = spec("First", "3 m").replace("kind = \"fridge\"", "stock = \"cold\"");
    assert_ne!(text, spec("First", "3 m"));
    fs::write(here.join("mine.toml"), text).expect("spec");
    let sheet = || fs::read_to_string(here.join("out/mine/calculation-sheet.md")).expect("calculation sheet");
    let watch = Watch::start(&here, &["mine.toml"]);
    watch.until("waiting for a save");
    let first = sheet();

    fs::write(here.join("shop/stock/cold.toml"), item("fridge", "70 W")).expect("saved");
    let told = watch.until("waiting for a save").join("\n");
    assert!(told.contains("shop/stock/cold.toml: saved") && told.contains("rewritten"), "{told}");
    let second = sheet();
    assert_ne!(second, first);

    // A kind that is not there yet, then is.
    fs::write(here.join("shop/stock/cold.toml"), item("drinks-fridge", "70 W")).expect("saved");
    let told = watch.until("waiting for a save").join("\n");
    assert!(told.contains("unknown-kind") && told.contains("the last good save stand"), "{told}");
    fs::create_dir_all(here.join("shop/kinds")).expect("folder");
    fs::write(here.join("shop/kinds/drinks-fridge.toml"), "like = \"fridge\"\nname = \"Drinks fridge\"\n")
        .expect("kind");
    let told = watch.until("waiting for a save").join("\n");
    assert!(told.contains("shop/kinds/drinks-fridge.toml: saved") && told.contains("0 errors"), "{told}");
    assert!(sheet().contains("rinks fridge"), "{}", sheet());
    assert_eq!(watch.interrupt(), Some(0));
}
