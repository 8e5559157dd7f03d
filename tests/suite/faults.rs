//! Faults planted for real: the program killed at random instants, a full disk, a disk that may not be written, a
//! `typst` that fails in every manner. The earlier output must stand whole, and what is left must be told.
//!
//! `RIGBINDER_KILLS` sets the number of kills. What needs a mount of its own runs in a user name space; where the system
//! grants none these tests say so and do nothing, unless `REQUIRE_MOUNT=1`.

use crate::harness::{errors, rigbinder};
use crate::publishing::{WELL, bench, compile, contents, spec, stand_in};
use rigbinder::publish::{self, Record};
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Output, Stdio};
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::thread;
use std::time::{Duration, Instant};

type Contents = BTreeMap<String, Vec<u8>>;

/// A generator of even numbers in 0..1, good enough to choose instants (Marsaglia's xorshift).
pub(crate) struct Chance(pub(crate) u64);

impl Chance {
    pub(crate) fn next(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        f64::from(u32::try_from(self.0 >> 32).expect("32 bits")) / f64::from(u32::MAX)
    }
}

fn start(here: &Path) -> Child {
    Command::new(env!("CARGO_BIN_EXE_rigbinder"))
        .args(["compile", "mine.toml", "--out", "out", "--typst", "./typst", "--quiet"])
        .current_dir(here)
        .stderr(Stdio::null())
        .spawn()
        .expect("starts")
}

/// Names beside the output folder that a killed run left.
fn left_over(here: &Path) -> Vec<String> {
    let entries = fs::read_dir(here.join("out")).expect("out");
    let names = entries.map(|e| e.expect("entry").file_name().to_string_lossy().into_owned());
    names.filter(|name| name != "mine" && name != ".mine.lock").collect()
}

/// Every file is what the record says, and nothing else is there.
pub(crate) fn assert_whole(folder: &Path, when: &str) {
    let files = contents(folder);
    let record = Record::read(folder);
    for (name, entry) in &record.documents {
        let bytes = files.get(name).unwrap_or_else(|| panic!("{when}: {name} is missing"));
        assert_eq!(publish::digest(bytes), entry.digest, "{when}: {name}");
    }
    assert!(record.documents.len() > 20, "{when}: {} files", record.documents.len());
}

/// Two editions of a build as undisturbed runs leave them, with what a person put beside them.
fn editions(here: &Path) -> [(String, Contents); 2] {
    let out = here.join("out/mine");
    let made = ["First", "Second"].map(|title| {
        let text = spec(title, "3 m");
        fs::write(here.join("mine.toml"), &text).expect("spec");
        let output = compile(here, &[]);
        assert_eq!(output.status.code(), Some(0), "{}", errors(&output));
        if !out.join("invoice.txt").exists() {
            fs::create_dir_all(out.join("photos/2027")).expect("folder");
            fs::write(out.join("invoice.txt"), "invoice").expect("foreign");
            fs::write(out.join("photos/2027/1.jpg"), "photo").expect("foreign");
        }
        assert_whole(&out, "undisturbed");
        (text, contents(&out))
    });
    assert_ne!(made[0].1["record.json"], made[1].1["record.json"]);
    made
}

/// Kills `count` runs, half of them at any instant, half while the folder is staged and swapped. Returns how many left
/// something behind, and how many got to put the new edition in place.
fn kill_runs(test: &str, seed: u64, count: usize) -> (usize, usize) {
    let here = bench(test);
    let out = here.join("out/mine");
    let editions = editions(&here);
    fs::write(here.join("mine.toml"), &editions[0].0).expect("spec");
    assert!(start(&here).wait().expect("runs").success());
    let mut whole = Duration::ZERO;
    let other = || {
        let now = fs::read(out.join("record.json")).expect("record");
        editions.iter().find(|(_, files)| files["record.json"] != now).expect("the other edition")
    };
    let (mut chance, mut left, mut swapped) = (Chance(seed), 0, 0);
    let (over, looks) = (AtomicBool::new(false), AtomicUsize::new(0));
    thread::scope(|scope| {
        // A reader at every instant: the record is there, and it is one of the two.
        let reader = scope.spawn(|| {
            while !over.load(Ordering::Relaxed) {
                let record = fs::read(out.join("record.json")).expect("the output is there at every instant");
                assert!(
                    editions.iter().any(|(_, files)| files["record.json"] == record),
                    "a record of neither edition"
                );
                looks.fetch_add(1, Ordering::Relaxed);
                thread::sleep(Duration::from_micros(100));
            }
        });
        for run in 0..count {
            // Other work on the machine comes and goes, so how long a whole run takes is measured again and again.
            if run % 10 == 0 {
                fs::write(here.join("mine.toml"), &other().0).expect("spec");
                let begun = Instant::now();
                assert!(start(&here).wait().expect("runs").success());
                whole = begun.elapsed();
            }
            let before = fs::read(out.join("record.json")).expect("record");
            fs::write(here.join("mine.toml"), &other().0).expect("spec");
            let mut child = start(&here);
            if run % 2 == 0 {
                thread::sleep(whole.mul_f64(chance.next() * 1.2));
            } else {
                let staged = here.join("out").join(format!(".mine.new-{}", child.id()));
                while !staged.exists() && child.try_wait().expect("runs").is_none() {
                    thread::sleep(Duration::from_micros(200));
                }
                thread::sleep(whole.mul_f64(chance.next() * 0.5));
            }
            child.kill().expect("killed");
            child.wait().expect("ended");
            let now = contents(&out);
            let same = editions.iter().position(|(_, files)| *files == now);
            if same.is_none() {
                let names: Vec<_> = now.keys().collect();
                panic!("run {run}: neither the one nor the other edition: {names:?}, beside it {:?}", left_over(&here));
            }
            left += usize::from(!left_over(&here).is_empty());
            swapped += usize::from(now["record.json"] != before);
        }
        over.store(true, Ordering::Relaxed);
        reader.join().expect("the reader saw whole outputs only");
    });
    assert!(looks.into_inner() > count, "the reader looked at least once a run");
    // The next run tidies up. A typesetter that outlived its master may still be at work for a moment.
    thread::sleep(Duration::from_millis(200));
    assert!(start(&here).wait().expect("runs").success());
    assert_eq!(left_over(&here), [""; 0]);
    (left, swapped)
}

#[test]
fn killed_at_any_instant_the_output_is_the_old_or_the_new_one() {
    let kills = std::env::var("RIGBINDER_KILLS").ok().and_then(|n| n.parse().ok()).unwrap_or(200);
    let [one, other] = [("faults-kill-1", 0x9e37_79b9_7f4a_7c15), ("faults-kill-2", 0xd1b5_4a32_d192_ed03)]
        .map(|(test, seed)| thread::spawn(move || kill_runs(test, seed, kills / 2)))
        .map(|handle| handle.join().expect("no kill left a broken output"));
    let (left, swapped) = (one.0 + other.0, one.1 + other.1);
    println!("{kills} kills: {left} left something to tidy up, {swapped} came after the swap");
    assert!(left >= kills / 10, "only {left} of {kills} kills met the staging");
    assert!(swapped >= kills / 20 && swapped < kills, "{swapped} of {kills} runs got as far as the swap");
}

/// A `typst` that fails: what it does, and words of the fault that is told.
const MANNERS: &[(&str, &str, &str)] = &[
    ("refuses", "printf 'x.typ:1:1: error: \\033[31mbroken\\033[0m\\033]0;title\\007\\n' >&2; exit 1", "error: broken"),
    ("crashes", "kill -SEGV $$", "broke down over"),
    ("says nothing", "exit 3", "exit status: 3"),
    ("hangs", "sleep 600", "not done with"),
    ("hangs with a child", "sleep 600 & wait", "not done with"),
    ("writes nothing", "exit 0", "wrote nothing"),
    ("writes an empty file", ": > \"$out\"", "is empty"),
    ("writes rubbish", "head -c 5000 /dev/zero > \"$out\"", "does not begin like a PDF"),
    ("is cut off", "echo '%PDF-1.7 and then' > \"$out\"", "does not end like a PDF"),
    ("leaves a folder", "mkdir \"$out\"", "it left a folder"),
    ("leaves a pipe", "mkfifo \"$out\"", "it left a pipe"),
    ("leaves a link", "ln -s /etc/passwd \"$out\"", "it left a link"),
    ("writes a head and an end", "printf '%%PDF-1.7\\n%%%%EOF' > \"$out\"", "does not end like a PDF"),
    (
        "floods",
        "while :; do echo 'error: again and again and again and again and again' >&2; done",
        "would not stop talking",
    ),
    ("floods one line", "yes | tr -d '\\n' >&2", "would not stop talking"),
    (
        "fails in one of many",
        "case $out in *schedule*) exit 1;; esac; echo '%PDF-1.7 %%EOF' > \"$out\"",
        "schedule.typ",
    ),
];

#[test]
fn a_typst_that_fails_in_any_manner_changes_nothing() {
    let here = bench("faults-typst");
    let out = here.join("out/mine");
    let [_, (_, second)] = editions(&here);
    fs::write(here.join("mine.toml"), spec("Third", "3 m")).expect("spec");
    // A whole one, and zeros over its second object.
    let holed = format!("{WELL}; dd if=/dev/zero of=\"$out\" bs=1 seek=60 count=40 conv=notrunc 2>/dev/null");
    let holed = ("leaves a hole", holed.as_str(), "is damaged: object 2");
    let only = ["--only", "schedule", "--only", "manual"];
    // What check tells of the spec stands before, whatever typst does.
    let checked = rigbinder(&here, &["check", "mine.toml"]);
    let found = checked.stdout.len() + checked.stderr.len();
    assert!(found > 1000, "the spec has findings: {checked:?}");
    for (manner, does, words) in MANNERS.iter().chain([&holed]) {
        stand_in(&here.join("typst"), "0.15.1", does);
        // A second is for what hangs: on a busy machine all else may take longer, and is not to be ended for that.
        let limit = if *words == "not done with" { "1" } else { "120" };
        let begun = Instant::now();
        let output = compile(&here, &["--typst-limit", limit, only[0], only[1], only[2], only[3]]);
        let told = errors(&output);
        assert!(begun.elapsed() < Duration::from_secs(100), "{manner}: {:?}", begun.elapsed());
        assert_eq!(output.status.code(), Some(2), "{manner}: {told}");
        assert!(told.contains(words) && told.contains("the earlier documents stand"), "{manner}: {told}");
        assert!(told.len() < found + 10_000 && !told.contains('\u{1b}') && !told.contains("title"), "{manner}: {told}");
        let kept = told
            .split_whitespace()
            .map(|word| word.trim_matches([',', ':']))
            .find(|word| word.ends_with(".typ") && word.contains('/'));
        assert!(kept.is_some_and(|path| here.join(path).is_file()), "{manner}: {kept:?} of {told}");
        assert_eq!(contents(&out), second, "{manner}");
        assert_eq!(left_over(&here), [".failed-typst"], "{manner}");
    }
    for (version, words) in [("0.14.2", "0.15.x is needed"), ("\u{1b}[31m", "0.15.x is needed")] {
        stand_in(&here.join("typst"), version, WELL);
        let output = compile(&here, &["--only", "schedule"]);
        assert_eq!(output.status.code(), Some(2), "{}", errors(&output));
        assert!(errors(&output).contains(words) && !errors(&output).contains('\u{1b}'), "{}", errors(&output));
    }
}

/// Ctrl-C while PDFs are made: the typesetter goes with all that it started, and nothing is left.
#[test]
fn ctrl_c_ends_all_and_changes_nothing() {
    let here = bench("faults-interrupt");
    let out = here.join("out/mine");
    let [(first, _), (_, second)] = editions(&here);
    stand_in(
        &here.join("typst"),
        "0.15.1",
        "sleep 611 & echo $! > \"${0%/*}/child.new\"; mv \"${0%/*}/child.new\" \"${0%/*}/child\"; wait",
    );
    fs::write(here.join("mine.toml"), first).expect("spec");
    let mut run = start(&here);
    let child = here.join("child");
    wait_until("the typesetter has begun", || child.exists());
    // Another compile of the same build has to wait.
    let output = compile(&here, &[]);
    assert_eq!(output.status.code(), Some(2));
    assert!(errors(&output).contains("another rigbinder is writing this folder"), "{}", errors(&output));
    assert!(Command::new("kill").args(["-INT", &run.id().to_string()]).status().expect("kill").success());
    assert_eq!(run.wait().expect("ends").code(), Some(130));
    assert_eq!(contents(&out), second);
    assert_eq!(left_over(&here), [""; 0]);
    let grandchild = fs::read_to_string(&child).expect("number");
    wait_until("the child of the typesetter is gone", || {
        let line = fs::read_to_string(format!("/proc/{}/cmdline", grandchild.trim())).unwrap_or_default();
        !line.contains("611")
    });
}

fn wait_until(what: &str, is: impl Fn() -> bool) {
    let end = Instant::now() + Duration::from_secs(30);
    while !is() {
        assert!(Instant::now() < end, "{what}: waited in vain");
        thread::sleep(Duration::from_millis(10));
    }
}

/// Runs a shell script in a name space where mounts may be made; `None` where the system grants none.
pub(crate) fn with_mounts(here: &Path, script: &str) -> Option<Output> {
    let run = |script: &str| {
        Command::new("unshare")
            .args(["-rm", "sh", "-ec", script])
            .env("BIN", env!("CARGO_BIN_EXE_rigbinder"))
            .current_dir(here)
            .output()
    };
    if run("mount -t tmpfs -o size=64k tmpfs out").is_ok_and(|output| output.status.success()) {
        return Some(run(script).expect("ran before"));
    }
    assert!(std::env::var_os("REQUIRE_MOUNT").is_none(), "no mounts may be made here");
    eprintln!("SKIPPED: no mounts may be made here (unshare -rm), so a full disk cannot be tried");
    None
}

const COMPILE: &str = "\"$BIN\" compile mine.toml --out out --typst ./typst --quiet";

/// Every amount of free space from none to enough: the old edition or the new one, and the system's word.
#[test]
fn a_full_disk_leaves_the_earlier_output() {
    let here = bench("faults-full");
    let [(first, one), (second, _)] = editions(&here);
    fs::write(here.join("second.toml"), second).expect("spec");
    fs::write(here.join("mine.toml"), first).expect("spec");
    fs::remove_dir_all(here.join("out")).expect("gone");
    fs::create_dir(here.join("out")).expect("empty");
    let size: usize = one.values().map(|bytes| bytes.len().div_ceil(4096) * 4).sum();
    let script = format!(
        "mount -t tmpfs -o size={}k tmpfs out; {COMPILE}; cp second.toml mine.toml\n\
         for free in 0 4 16 40 80 120 200 {} {} {} {}; do\n\
           head -c 999999999 /dev/zero > out/filler 2>/dev/null || :\n\
           size=$(stat -c %s out/filler); truncate -s $((size - free * 1024)) out/filler\n\
           code=0; {COMPILE} 2> \"told-$free\" || code=$?\n\
           echo $code > \"code-$free\"; rm out/filler; cp -a out/. \"after-$free\"\n\
           [ $code = 0 ] && break\n\
         done",
        size * 4 + 2000,
        size / 2,
        size,
        size + 400,
        // Room for the new files, the Typst files and the fonts.
        size * 3 + 1000
    );
    let Some(output) = with_mounts(&here, &script) else { return };
    let (mut full, mut written) = (0, 0);
    for entry in fs::read_dir(&here).expect("folder") {
        let path: PathBuf = entry.expect("entry").path();
        let name = path.file_name().expect("name").to_string_lossy().into_owned();
        let Some(free) = name.strip_prefix("after-") else { continue };
        let read = |what: &str| fs::read_to_string(here.join(format!("{what}-{free}"))).expect("kept");
        let title = if read("code").trim() == "0" { "Second" } else { "First" };
        written += usize::from(title == "Second");
        if title == "First" {
            full += 1;
            assert_eq!(read("code").trim(), "2", "{free} KiB: {}", read("told"));
            assert!(read("told").contains("No space left"), "{free} KiB: {}", read("told"));
        }
        assert_whole(&path.join("mine"), &format!("{free} KiB free"));
        let schedule = fs::read_to_string(path.join("mine/schedule.md")).expect("schedule");
        assert!(schedule.contains(title), "{free} KiB free: not {title}");
        let mut left: Vec<_> = fs::read_dir(&path).expect("folder").map(|e| e.expect("entry").file_name()).collect();
        left.retain(|name| name != ".failed-typst");
        left.sort();
        assert_eq!(left, [".mine.lock", "mine"], "{free} KiB free");
    }
    assert!(
        full >= 8 && written == 1,
        "{full} full disks, {written} written; {}",
        String::from_utf8_lossy(&output.stderr)
    );
}

/// A folder that may not be written: told as such, and nothing is touched. Permission bits would not bind root.
#[test]
fn a_folder_that_may_not_be_written_is_told() {
    let here = bench("faults-read-only");
    let [_, (_, second)] = editions(&here);
    fs::write(here.join("mine.toml"), spec("Third", "3 m")).expect("spec");
    let script = format!("mount --bind out out; mount -o remount,bind,ro out; {COMPILE}");
    let Some(output) = with_mounts(&here, &script) else { return };
    assert_eq!(output.status.code(), Some(2), "{}", errors(&output));
    assert!(errors(&output).contains("Read-only file system"), "{}", errors(&output));
    assert_eq!(contents(&here.join("out/mine")), second);
}

/// A limit on the size of files: the record of a file that cannot be written is never seen.
#[test]
fn a_file_that_may_not_grow_leaves_the_earlier_output() {
    let here = bench("faults-limit");
    let [(first, _), (_, second)] = editions(&here);
    fs::write(here.join("mine.toml"), first).expect("spec");
    for blocks in [1, 4, 16] {
        let script = format!("trap '' XFSZ; ulimit -f {blocks}; exec {COMPILE}");
        let mut command = Command::new("sh");
        command.args(["-c", &script]).env("BIN", env!("CARGO_BIN_EXE_rigbinder")).current_dir(&here);
        let output = command.output().expect("runs");
        assert_eq!(output.status.code(), Some(2), "{blocks}: {}", errors(&output));
        assert!(errors(&output).contains("File too large"), "{blocks}: {}", errors(&output));
        assert_eq!(contents(&here.join("out/mine")), second, "{blocks}");
        assert_eq!(left_over(&here), [""; 0], "{blocks}");
    }
    let output = rigbinder(&here, &["compile", "mine.toml", "--out", "mine.toml", "--no-pdf"]);
    assert_eq!(output.status.code(), Some(2), "a file in the place of the folder: {}", errors(&output));
}
