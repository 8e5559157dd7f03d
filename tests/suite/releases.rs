//! Releases: never written over, whole or not there, and what a later compile makes of the last one.

use crate::faults::{Chance, assert_whole, with_mounts};
use crate::harness::{errors, folder, rigbinder, root};
use crate::publishing::{WELL, bench, compile, contents, spec, stand_in};
use rigbinder::publish::{self, Record};
use std::collections::BTreeMap;
use std::fs;
use std::os::unix::fs::{MetadataExt, PermissionsExt};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Output, Stdio};
use std::thread;
use std::time::{Duration, Instant};

const RELEASE: [&str; 6] = ["release", "mine.toml", "--out", "out", "--typst", "./typst"];

fn release(here: &Path) -> Output {
    rigbinder(here, &RELEASE)
}

/// The small spec of a revision; `more` are further components.
fn of(revision: &str, run: &str, more: &str) -> String {
    let quoted = toml::Value::String(revision.to_owned());
    spec("Van", run).replacen("[build]\n", &format!("[build]\nrevision = {quoted}\n"), 1) + more
}

/// As editors save it: whoever reads it at that moment reads the old or the new one, whole.
fn write(here: &Path, text: &str) {
    fs::write(here.join("mine.toml~"), text).expect("spec");
    fs::rename(here.join("mine.toml~"), here.join("mine.toml")).expect("renamed");
}

fn ends_with(output: &Output, code: i32, words: &str) {
    assert_eq!(output.status.code(), Some(code), "{}", errors(output));
    assert!(errors(output).contains(words), "{words:?} is not in: {}", errors(output));
}

/// Every file below a folder: bytes, number, date and mode.
fn told(folder: &Path) -> BTreeMap<String, (Vec<u8>, u64, i64, i64, u32)> {
    let about = |(name, bytes): (String, Vec<u8>)| {
        let m = fs::metadata(folder.join(&name)).expect("there");
        (name, (bytes, m.ino(), m.mtime(), m.mtime_nsec(), m.permissions().mode() & 0o777))
    };
    contents(folder).into_iter().map(about).collect()
}

/// Names in the folder of the releases, sorted.
fn names(here: &Path) -> Vec<String> {
    let Ok(entries) = fs::read_dir(here.join("out/mine.released")) else { return Vec::new() };
    let mut names: Vec<_> = entries.map(|e| e.expect("entry").file_name().to_string_lossy().into_owned()).collect();
    names.sort();
    names
}

fn number(folder: &Path) -> u64 {
    Record::read(folder).about["release"]["number"].as_u64().expect("number")
}

#[test]
fn a_release_is_never_written_over() {
    let here = bench("releases-once");
    let (out, first) = (here.join("out/mine"), here.join("out/mine.released/a"));
    write(&here, &of("A", "3 m", ""));
    ends_with(&release(&here), 0, "released revision A, number 1: out/mine.released/a");
    let kept = told(&first);
    assert_whole(&first, "released");
    assert!(kept.values().all(|(.., mode)| *mode == 0o444), "nobody may write to a file of it");
    let made = contents(&out);
    for (name, (bytes, inode, ..)) in kept.iter().filter(|(name, _)| *name != "record.json") {
        assert_eq!(bytes, &made[name], "{name}");
        assert_ne!(fs::metadata(out.join(name)).expect("there").ino(), *inode, "{name} is a copy");
    }
    assert_eq!(kept.len() + 1, made.len(), "all but the mark of an output");
    assert_eq!(number(&first), 1);
    let untouched = |when: &str| assert!(told(&first) == kept, "{when}: the release was touched");

    ends_with(&release(&here), 0, "revision A is released already, with the same documents");
    untouched("the same again");
    // A typesetter of another version makes other bytes of the same documents.
    stand_in(&here.join("typst"), "0.15.2", WELL);
    ends_with(&release(&here), 0, "revision A is released already, with the same documents");
    stand_in(&here.join("typst"), "0.15.1", WELL);
    ends_with(&release(&here), 0, "released already");
    untouched("another typesetter");

    // Another build under the same revision: told, and nothing is written at all.
    let before = told(&out);
    write(&here, &of("A", "3.5 m", ""));
    let output = release(&here);
    ends_with(&output, 1, "revision-not-raised");
    assert!(errors(&output).contains("nothing was written"), "{}", errors(&output));
    untouched("another build");
    assert!(told(&out) == before, "the documents were touched");
    // A remark in the spec alone: the build is the same, the service file, which holds the spec, is not.
    write(&here, &format!("{}# a remark\n", of("A", "3 m", "")));
    let output = release(&here);
    ends_with(&output, 1, "revision A is released already in out/mine.released/a, and 1 file differs");
    assert!(errors(&output).contains("service-file.pdf\n"), "{}", errors(&output));
    untouched("a remark");

    write(&here, &of("B", "3.5 m", ""));
    ends_with(&release(&here), 0, "released revision B, number 2");
    untouched("the next revision");
    assert_eq!(number(&here.join("out/mine.released/b")), 2);
    // Back to a revision that is spent, with the build of today and with that of then.
    for run in ["3.5 m", "3 m"] {
        write(&here, &of("A", run, ""));
        ends_with(&release(&here), 1, "revision A was released earlier");
        untouched("a spent revision");
    }
    assert_eq!(names(&here), ["a", "b"]);
}

#[test]
fn a_compile_compares_with_the_last_release_by_itself() {
    let here = bench("releases-compare");
    let (out, notice) = (here.join("out/mine"), here.join("out/mine/change-notice.md"));
    let compile = |more: &[&str]| {
        let mut args = vec!["compile", "mine.toml", "--out", "out", "--typst", "./typst"];
        args.extend(more);
        let output = rigbinder(&here, &args);
        assert_eq!(output.status.code(), Some(0), "{}", errors(&output));
        errors(&output)
    };
    let light = "light = { kind = \"reading-light\", fed_from = \"panel\", run = \"2 m\", place = \"here\" }\n";
    let all = of("A", "3 m", light);
    write(&here, &all);
    let alone = compile(&[]);
    assert!(!alone.contains("compared with") && !notice.exists(), "{alone}");
    let without = contents(&out);
    ends_with(&release(&here), 0, "number 1");
    assert_eq!(contents(&out), without, "a release changes nothing in the documents");
    // Nothing changed: no notice, and the documents are those of the release.
    assert!(compile(&[]).contains("compared with released revision A in out/mine.released/a"));
    assert_eq!(contents(&out), without);

    // The first circuit of the panel goes: the other keeps its way, which alone it would not.
    let fridge = all.lines().find(|line| line.starts_with("fridge")).expect("fridge");
    let fewer = all.replacen(&format!("{fridge}\n"), "", 1);
    write(&here, &fewer);
    let warned = compile(&[]);
    assert!(warned.contains("revision-not-raised") && warned.contains("since the last release"), "{warned}");
    let again = compile(&[]);
    assert!(again.contains("nothing changed") && again.contains("revision-not-raised"), "told as often: {again}");
    let way = |text: &str| {
        let json: serde_json::Value = serde_json::from_str(text).expect("JSON");
        json["circuits"]["light"]["way"].as_u64().expect("way")
    };
    let kept = way(&fs::read_to_string(out.join("data/build.json")).expect("data"));
    assert_eq!(kept, way(&String::from_utf8(without["data/build.json"].clone()).expect("text")));
    let lone = here.join("lone");
    fs::create_dir(&lone).expect("folder");
    fs::write(lone.join("mine.toml"), &fewer).expect("spec");
    assert_eq!(rigbinder(&lone, &["compile", "mine.toml", "--no-pdf"]).status.code(), Some(0));
    let fresh = way(&fs::read_to_string(lone.join("docs-out/mine/data/build.json")).expect("data"));
    assert_ne!(kept, fresh, "the test needs a way that would move");

    // Raised: the notice leads from the last release, and stays when this one is released too.
    write(&here, &fewer.replacen("\"A\"", "\"B\"", 1));
    let raised = compile(&[]);
    assert!(!raised.contains("revision-not-raised"), "{raised}");
    let text = fs::read_to_string(&notice).expect("notice");
    assert!(text.contains("from revision A to revision B") && text.contains("fridge"), "{text}");
    ends_with(&release(&here), 0, "number 2");
    let second = contents(&out);
    assert!(compile(&[]).contains("compared with released revision B"));
    assert_eq!(contents(&out), second, "a release that is compiled again is the same");
    assert_eq!(way(&String::from_utf8(second["data/build.json"].clone()).expect("text")), kept);
    ends_with(&release(&here), 0, "released already, with the same documents");

    // A record that is named wins.
    let record = "out/mine.released/a/record.json";
    let named = compile(&["--revision-from", record]);
    assert!(named.contains(&format!("compared with revision A of {record}")), "{named}");
    // Without the line the documents print no revision, so none is spent; with it A is.
    write(&here, &fewer.replacen("revision = \"A\"\n", "", 1));
    assert!(!compile(&[]).contains("revision A was released earlier"));
    write(&here, &fewer);
    assert!(compile(&[]).contains("revision A was released earlier"));
    write(&here, &fewer.replacen("\"A\"", "\"B\"", 1));
    // What is handed out of a release is the release, made alone too.
    let binder = fs::read(here.join("out/mine.released/b/schedule.html")).expect("released");
    fs::remove_file(out.join("schedule.html")).expect("gone");
    compile(&["--only", "schedule"]);
    assert_eq!(fs::read(out.join("schedule.html")).expect("made"), binder);
}

#[test]
fn a_revision_that_cannot_name_a_folder_is_refused_and_none_leads_out() {
    let here = bench("releases-names");
    write(&here, &spec("Van", "3 m"));
    ends_with(&release(&here), 1, "a release needs a `revision`");
    assert!(!here.join("out").exists(), "nothing is written");
    let long = "r".repeat(300);
    for revision in ["", " ", ".", "..", "///", "ревизия", "\u{1f690}", &long] {
        write(&here, &of(revision, "3 m", ""));
        let output = release(&here);
        assert_eq!(output.status.code(), Some(1), "{revision:?}: {}", errors(&output));
        assert!(errors(&output).contains("nothing was written"), "{revision:?}: {}", errors(&output));
        assert!(names(&here).is_empty(), "{revision:?}");
    }
    for (number, (revision, folder)) in
        [("../x", "x"), ("C/1", "c-1"), ("/etc/van", "etc-van"), ("Rév 2", "r-v-2")].into_iter().enumerate()
    {
        write(&here, &of(revision, &format!("{}.5 m", number + 2), ""));
        ends_with(&release(&here), 0, &format!("number {}: out/mine.released/{folder}", number + 1));
        assert_whole(&here.join("out/mine.released").join(folder), revision);
    }
    assert_eq!(names(&here), ["c-1", "etc-van", "r-v-2", "x"]);
    assert_eq!(fs::read_dir(&here).expect("here").count(), 4, "out, the spec, the typesetter and its list");
    let kept = told(&here.join("out/mine.released/c-1"));
    for revision in ["C-1", "c 1"] {
        write(&here, &of(revision, "9 m", ""));
        ends_with(&release(&here), 1, "revision C/1 is released in");
    }
    assert!(told(&here.join("out/mine.released/c-1")) == kept);
    // What a person put where a release goes is left alone.
    fs::create_dir(here.join("out/mine.released/d")).expect("folder");
    fs::write(here.join("out/mine.released/d/note.txt"), "mine").expect("note");
    write(&here, &of("D", "9 m", ""));
    ends_with(&release(&here), 2, "is no release, but stands where one goes");
    assert_eq!(fs::read_dir(here.join("out/mine.released/d")).expect("folder").count(), 1);
}

#[test]
fn a_damaged_release_is_told() {
    let here = bench("releases-damaged");
    let first = here.join("out/mine.released/a");
    write(&here, &of("A", "3 m", ""));
    ends_with(&release(&here), 0, "number 1");
    let page = first.join("schedule.html");
    fs::remove_file(&page).expect("gone");
    fs::write(&page, "scribbled over").expect("damage");
    fs::remove_file(first.join("labels.pdf")).expect("gone");
    let output = release(&here);
    ends_with(&output, 2, "out/mine.released/a is not as it was released: labels.pdf, schedule.html");
    assert_eq!(fs::read(&page).expect("there"), b"scribbled over", "it is told, not mended");
    // A record that cannot be read: nobody knows what the last release was, so nothing is compared with another.
    let record = first.join("record.json");
    for text in ["{", "{}", r#"{"release": {"number": "one"}}"#] {
        fs::remove_file(&record).expect("gone");
        fs::write(&record, text).expect("damage");
        let output = compile(&here, &["--no-pdf"]);
        ends_with(&output, 2, "is no record of a release");
        assert!(errors(&output).contains("--revision-from"), "{}", errors(&output));
        ends_with(&release(&here), 2, "is no record of a release");
    }
    let record = here.join("issued.json");
    fs::copy(here.join("out/mine/record.json"), &record).expect("record");
    ends_with(&compile(&here, &["--no-pdf", "--revision-from", "issued.json"]), 0, "");
}

/// Without PDFs, with a typesetter that fails, with errors: nothing is released.
#[test]
fn only_what_went_well_is_released() {
    let here = bench("releases-well");
    write(&here, &of("A", "3 parsecs", ""));
    ends_with(&release(&here), 1, "nothing was written");
    write(&here, &of("A", "3 m", ""));
    stand_in(&here.join("typst"), "0.15.1", "exit 3");
    ends_with(&release(&here), 2, "nothing was written");
    let args = ["release", "mine.toml", "--out", "out", "--typst", "./nowhere"];
    ends_with(&rigbinder(&here, &args), 2, "no PDFs were made");
    ends_with(&rigbinder(&here, &args), 2, "nothing was released");
    assert!(names(&here).is_empty() && here.join("out/mine/schedule.md").is_file());
    let several = ["release", "mine.toml", "other.toml", "--out", "out", "--typst", "./typst"];
    stand_in(&here.join("typst"), "0.15.1", WELL);
    fs::write(here.join("other.toml"), of("7", "2 m", "")).expect("spec");
    ends_with(&rigbinder(&here, &several), 0, "2 specs: 2 released");
    write(&here, &of("A", "4 m", ""));
    let output = rigbinder(&here, &several);
    ends_with(&output, 1, "2 specs: 1 released, 1 stopped by findings");
    let told = errors(&output);
    assert!(told.contains("mine.toml: compared with released revision A in out/mine.released/a"), "{told}");
    assert!(told.contains("other.toml: compared with released revision 7 in out/other.released/7"), "{told}");
}

#[test]
fn a_folder_of_releases_that_may_not_be_written_is_told() {
    let here = bench("releases-read-only");
    write(&here, &of("A", "3 m", ""));
    ends_with(&release(&here), 0, "number 1");
    let kept = told(&here.join("out/mine.released"));
    write(&here, &of("B", "4 m", ""));
    let script = format!(
        "cd out; mount --bind mine.released mine.released; mount -o remount,bind,ro mine.released; cd ..\n\
         exec \"$BIN\" {}",
        RELEASE.join(" ")
    );
    let Some(output) = with_mounts(&here, &script) else { return };
    ends_with(&output, 2, "Read-only file system");
    assert!(errors(&output).contains("nothing was released"), "{}", errors(&output));
    assert!(told(&here.join("out/mine.released")) == kept);
    // No room: the documents fit, the copy does not.
    let free = 80 + contents(&here.join("out/mine")).values().map(|b| b.len().div_ceil(4096) * 4).sum::<usize>() / 2;
    let script = format!(
        "cp -a out/mine.released kept; mount -t tmpfs -o size={free}k tmpfs out/mine.released\n\
         code=0; \"$BIN\" {} || code=$?; ls -A out/mine.released > left; exit $code",
        RELEASE.join(" ")
    );
    let Some(output) = with_mounts(&here, &script) else { return };
    ends_with(&output, 2, "No space left");
    assert_eq!(fs::read_to_string(here.join("left")).expect("listed"), "", "half a release is left");
}

fn start(here: &Path, spec: &str) -> Child {
    let mut command = Command::new(env!("CARGO_BIN_EXE_rigbinder"));
    command.args(["release", spec, "--out", "out", "--typst", "./typst", "--quiet"]).current_dir(here);
    command.env("NO_COLOR", "1").stderr(Stdio::piped()).spawn().expect("starts")
}

/// Waits until so many per cent of the files of a release are copied; above 100, until it stands in its place.
fn until_copied(here: &Path, child: &mut Child, percent: usize) {
    let place = here.join("out/mine.released");
    let staged = place.join(format!(".release.new-{}", child.id()));
    let all = contents(&place.join("r0")).len();
    let mut seen = false;
    while child.try_wait().expect("runs").is_none() {
        let below = |folder: &str| fs::read_dir(staged.join(folder)).map_or(0, Iterator::count);
        let copied = ["", "data", "drawings"].map(below).iter().sum::<usize>();
        if staged.is_dir() && copied * 100 >= percent * all || seen && !staged.is_dir() {
            return;
        }
        seen |= copied > 0;
        thread::sleep(Duration::from_micros(100));
    }
}

/// Every release is whole and as it was when it was first seen.
fn assert_releases(here: &Path, seen: &mut BTreeMap<String, BTreeMap<String, Vec<u8>>>, when: &str) {
    for name in names(here).into_iter().filter(|name| !name.starts_with('.')) {
        let folder = here.join("out/mine.released").join(&name);
        assert_whole(&folder, when);
        let now = contents(&folder);
        assert_eq!(now.len(), Record::read(&folder).documents.len() + 1, "{when}: {name}");
        assert!(*seen.entry(name.clone()).or_insert_with(|| now.clone()) == now, "{when}: {name} changed");
    }
    assert!(seen.keys().all(|name| here.join("out/mine.released").join(name).is_dir()), "{when}: one went");
}

#[test]
fn killed_at_any_instant_a_release_is_whole_or_not_there() {
    let kills = std::env::var("RIGBINDER_KILLS").ok().and_then(|n| n.parse().ok()).unwrap_or(24);
    let here = bench("releases-killed");
    let revise = |n: usize| write(&here, &of(&format!("R{n}"), &format!("{} m", 2 + n % 3), ""));
    revise(0);
    ends_with(&release(&here), 0, "number 1");
    revise(1);
    let begun = Instant::now();
    ends_with(&release(&here), 0, "number 2");
    let whole = begun.elapsed();
    let (mut chance, mut seen, mut left) = (Chance(0x9e37_79b9_7f4a_7c15), BTreeMap::new(), 0);
    for run in 2..kills + 2 {
        revise(run);
        let mut child = start(&here, "mine.toml");
        let staged = format!(".release.new-{}", child.id());
        if run % 3 == 0 {
            thread::sleep(whole.mul_f64(chance.next() * 1.1));
        } else {
            // While the copy is made: by its files, since a time would depend on what else the machine does.
            until_copied(&here, &mut child, run * 37 % 125);
        }
        child.kill().expect("killed");
        child.wait().expect("ended");
        left += usize::from(names(&here).contains(&staged));
        assert_releases(&here, &mut seen, &format!("run {run}"));
    }
    println!("{kills} kills: {left} met the copying, {} releases stand", seen.len());
    assert!(left >= kills / 8, "only {left} of {kills} kills met the copying");
    assert!(seen.len() > 2 && seen.len() < kills + 2, "{} of {kills} got to the end", seen.len() - 2);
    thread::sleep(Duration::from_millis(200));
    // The next run tidies up, whatever it does.
    let output = compile(&here, &["--no-pdf"]);
    assert_eq!(output.status.code(), Some(0), "{}", errors(&output));
    assert!(names(&here).iter().all(|name| !name.starts_with('.')), "{:?}", names(&here));
    let known = seen.len() as u64;
    ends_with(&release(&here), 0, "");
    let last = publish::releases(&here.join("out"), "mine").expect("readable");
    assert!(last.iter().map(|r| r.number).eq(1..=last.len() as u64), "numbers run on: {last:?}");
    assert!(last.len() as u64 >= known);
}

#[test]
fn of_two_at_once_one_is_released_and_none_is_mixed() {
    let here = bench("releases-two");
    for round in 0..4 {
        write(&here, &of(&format!("{round}a"), &format!("{}.5 m", round + 2), ""));
        let first = start(&here, "mine.toml");
        // In even rounds both are the same revision; in odd ones two, where the first has read its spec by now.
        if round % 2 == 1 {
            thread::sleep(Duration::from_millis(20));
            write(&here, &of(&format!("{round}b"), "9 m", ""));
        }
        let second = start(&here, "mine.toml");
        let ended = [first, second].map(|child| child.wait_with_output().expect("ends"));
        let well = ended.iter().filter(|o| o.status.code() == Some(0)).count();
        assert!(well >= 1, "{}", ended.iter().map(errors).collect::<String>());
        for output in ended.iter().filter(|o| o.status.code() != Some(0)) {
            let told = errors(output);
            let known = ["another rigbinder is writing", "in the meantime", "released already", "released earlier"];
            assert!(known.iter().any(|words| told.contains(words)), "{told}");
        }
        assert_releases(&here, &mut BTreeMap::new(), &format!("round {round}"));
        let all = publish::releases(&here.join("out"), "mine").expect("readable");
        assert!(all.iter().map(|r| r.number).eq(1..=all.len() as u64), "{all:?}");
    }
}

/// `tests/reference/record-1.json` was written before there were releases, of the small spec with a run of 3 m.
#[test]
fn a_record_from_before_there_were_releases_is_read() {
    let here = folder("releases-old-record");
    let old: PathBuf = root().join("tests/reference/record-1.json");
    fs::copy(&old, here.join("record.json")).expect("record");
    let record = Record::read(&here);
    assert_eq!(record.version, 1);
    assert!(record.documents.len() > 20 && !record.about.contains_key("release"));
    let old = old.to_str().expect("path");
    fs::write(here.join("mine.toml"), of("B", "7 m", "")).expect("spec");
    let output = rigbinder(&here, &["compile", "mine.toml", "--no-pdf", "--revision-from", old]);
    ends_with(&output, 0, "compared with revision A of ");
    let notice = fs::read_to_string(here.join("docs-out/mine/change-notice.md")).expect("notice");
    assert!(notice.contains("3 m") && notice.contains("7 m"), "{notice}");
    let output = rigbinder(&here, &["compare", old, "mine.toml"]);
    let told = String::from_utf8(output.stdout).expect("text");
    assert!(told.contains("2 × 3.3 m") && told.contains("7.3 m"), "{told}");
}

/// Records of then and now, of a compile and of a release, fit the schema, which knows every field of theirs.
#[test]
fn records_fit_their_schema() {
    let here = bench("releases-schema");
    write(&here, &of("A", "3 m", ""));
    ends_with(&release(&here), 0, "number 1");
    let schema = rigbinder::pipeline::record_schema();
    let validator = jsonschema::validator_for(&schema).expect("schema");
    let known = |at: &str| schema.pointer(at).and_then(|p| p["properties"].as_object()).expect("fields").clone();
    let old = root().join("tests/reference/record-1.json");
    for path in [old, here.join("out/mine/record.json"), here.join("out/mine.released/a/record.json")] {
        let record: serde_json::Value = serde_json::from_slice(&fs::read(&path).expect("record")).expect("JSON");
        let faults: Vec<_> = validator.iter_errors(&record).map(|e| e.to_string()).take(3).collect();
        assert!(faults.is_empty(), "{}: {faults:?}", path.display());
        let fields = |value: &serde_json::Value| value.as_object().expect("object").keys().cloned().collect::<Vec<_>>();
        assert!(fields(&record).iter().all(|name| known("").contains_key(name)), "{}", path.display());
        let build = known("/$defs/Snapshot");
        assert!(fields(&record["build"]).iter().all(|name| build.contains_key(name)), "{}", path.display());
        for (at, value) in [("version", serde_json::json!("1")), ("build", serde_json::json!([]))] {
            let mut other = record.clone();
            other[at] = value;
            assert!(!validator.is_valid(&other), "{at}");
        }
    }
}

/// What only a race, or a hand in the folder at the wrong moment, brings about.
#[test]
fn a_release_that_was_overtaken_or_tampered_with_is_not_made() {
    let here = bench("releases-overtaken");
    write(&here, &of("A", "3 m", ""));
    ends_with(&release(&here), 0, "number 1");
    let open = || publish::Output::open(&here.join("out"), "mine", rigbinder::pipeline::is_document).expect("opens");
    let overtaken = open().freeze("B", 0).expect("measured");
    assert!(matches!(&overtaken, publish::Frozen::Overtaken(r) if r.revision == "A"), "{overtaken:?}");
    fs::write(here.join("out/mine/schedule.html"), "scribbled over").expect("damage");
    let error = open().freeze("B", 1).expect_err("the output is damaged").to_string();
    assert!(error.contains("schedule.html") && error.contains("was changed since it was made"), "{error}");
    assert_eq!(names(&here), ["a"]);
    // A compile of nothing new sees to what a killed release left.
    ends_with(&compile(&here, &[]), 0, "");
    fs::create_dir(here.join("out/mine.released/.release.new-77")).expect("folder");
    fs::write(here.join("out/mine.released/.release.new-77/schedule.md"), "half").expect("file");
    ends_with(&compile(&here, &[]), 0, "");
    assert_eq!(names(&here), ["a"]);
}
