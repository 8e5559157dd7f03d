//! What somebody put where files of rigbinder's go: links, pipes, folders, files of others. None is followed, none is
//! waited for, none is lost; what cannot be made good is told with its own path.

use crate::harness::{errors, rigbinder};
use crate::publishing::{WELL, bench, compile, contents, spec, stand_in};
use rustix::process::{Pid, Signal, kill_process};
use std::fs;
use std::os::unix::fs::symlink;
use std::os::unix::net::UnixListener;
use std::path::Path;
use std::process::{Child, Command, Output, Stdio};
use std::thread;
use std::time::{Duration, Instant};

/// Longer than any of it takes on a busy machine, shorter than for ever.
const PATIENCE: Duration = Duration::from_secs(90);

/// What a person would not like to lose.
const PRECIOUS: &str = "nobody may write here\n";

/// Runs the program and waits for its end, but not for ever.
fn run(here: &Path, args: &[&str]) -> Output {
    ended(start(here, args, Stdio::null()), args)
}

fn start(here: &Path, args: &[&str], stdin: Stdio) -> Child {
    let mut command = Command::new(env!("CARGO_BIN_EXE_rigbinder"));
    command.args(args).current_dir(here).env_remove("RIGBINDER_TYPST").env("NO_COLOR", "1");
    command.stdin(stdin).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().expect("starts")
}

fn ended(mut child: Child, what: &[&str]) -> Output {
    let begun = Instant::now();
    while child.try_wait().expect("runs").is_none() {
        if begun.elapsed() > PATIENCE {
            child.kill().expect("killed");
            panic!("{what:?} never ends");
        }
        thread::sleep(Duration::from_millis(5));
    }
    child.wait_with_output().expect("ended")
}

fn ends_with(output: &Output, code: i32, words: &str) {
    let told = errors(output);
    assert_eq!(output.status.code(), Some(code), "{told}");
    assert!(told.contains(words), "{words:?} is not in: {told}");
    assert!(!told.contains(".new-"), "a folder that is gone by now is named: {told}");
}

fn pipe(path: &Path) {
    assert!(Command::new("mkfifo").arg(path).status().expect("mkfifo").success());
}

/// Puts things that are no plain file at `path`, one after the other, and calls `then` with the words for each.
fn each_other_thing(path: &Path, then: &dyn Fn(&str)) {
    let target = path.with_file_name("precious.txt");
    fs::write(&target, PRECIOUS).expect("target");
    let clear = || {
        drop(fs::remove_file(path));
        drop(fs::remove_dir_all(path));
    };
    clear();
    symlink(&target, path).expect("link");
    then("a link");
    clear();
    symlink(path.with_file_name("nowhere"), path).expect("link");
    then("a link");
    assert!(!path.with_file_name("nowhere").exists(), "something was made through a link");
    clear();
    pipe(path);
    then("a pipe");
    clear();
    let socket = UnixListener::bind(path).expect("socket");
    then("a pipe");
    drop(socket);
    clear();
    assert_eq!(fs::read_to_string(&target).expect("target"), PRECIOUS, "the target of a link was written");
    fs::remove_file(target).expect("gone");
}

#[test]
fn a_lock_that_is_none_of_ours_is_refused_and_stays() {
    let here = bench("way-lock");
    ends_with(&compile(&here, &["--no-pdf"]), 0, "");
    let lock = here.join("out/.mine.lock");
    let before = contents(&here.join("out/mine"));
    fs::write(here.join("mine.toml"), spec("Other", "3 m")).expect("spec");
    let refused = |what: &str| {
        let args = ["compile", "mine.toml", "--out", "out", "--no-pdf"];
        let output = run(&here, &args);
        ends_with(&output, 2, "out/.mine.lock: ");
        assert!(errors(&output).contains(what) && errors(&output).contains("move it away"), "{}", errors(&output));
        assert!(contents(&here.join("out/mine")) == before, "{what}: the documents changed");
    };
    each_other_thing(&lock, &|what| refused(&format!("is {what}")));
    fs::create_dir(&lock).expect("folder");
    refused("is a folder");
    fs::remove_dir(&lock).expect("gone");
    for text in [PRECIOUS, "4711\n", "\u{0}\u{1}"] {
        fs::write(&lock, text).expect("file of another program");
        refused("holds what rigbinder did not write");
        assert_eq!(fs::read_to_string(&lock).expect("there"), text);
    }
    // A second name of a file that stands elsewhere.
    fs::remove_file(&lock).expect("gone");
    fs::write(here.join("notes.txt"), PRECIOUS).expect("file");
    fs::hard_link(here.join("notes.txt"), &lock).expect("second name");
    refused("holds what rigbinder did not write");
    assert_eq!(fs::read_to_string(here.join("notes.txt")).expect("there"), PRECIOUS);
    fs::remove_file(&lock).expect("gone");
    ends_with(&compile(&here, &["--no-pdf"]), 0, "");
}

#[test]
fn no_link_leads_to_other_releases() {
    let here = bench("way-releases");
    let release = ["release", "mine.toml", "--out", "out", "--typst", "./typst"];
    let revised = |revision: &str| {
        let text = spec("Van", "3 m").replacen("[build]\n", &format!("[build]\nrevision = \"{revision}\"\n"), 1);
        fs::write(here.join("mine.toml"), text).expect("spec");
    };
    revised("A");
    ends_with(&run(&here, &release), 0, "number 1");
    let place = here.join("out/mine.released");
    let kept = contents(&place);
    fs::rename(&place, here.join("elsewhere")).expect("moved");
    revised("B");
    let commands: [&[&str]; 3] =
        [&release, &["check", "mine.toml", "--out", "out"], &["compile", "mine.toml", "--out", "out", "--no-pdf"]];
    let told = |path: &str, what: &str, help: &str| {
        for command in commands {
            let output = run(&here, command);
            ends_with(&output, 2, &format!("{path}: is {what}"));
            assert!(errors(&output).contains(help), "{}", errors(&output));
        }
    };
    let refused = |path: &str, what: &str| told(path, what, "move it away");
    symlink(here.join("elsewhere"), &place).expect("link");
    refused("out/mine.released", "a link");
    fs::remove_file(&place).expect("gone");
    each_other_thing(&place, &|what| refused("out/mine.released", what));
    fs::write(&place, "").expect("file");
    refused("out/mine.released", "a file");
    fs::remove_file(&place).expect("gone");
    fs::create_dir(&place).expect("folder");
    symlink(here.join("elsewhere/a"), place.join("a")).expect("link");
    refused("out/mine.released/a", "a link");
    assert!(contents(&here.join("elsewhere")) == kept, "the release was touched");
    // In its own place, with a record that is none.
    fs::remove_dir_all(&place).expect("gone");
    fs::rename(here.join("elsewhere"), &place).expect("back");
    fs::remove_file(place.join("a/record.json")).expect("gone");
    // The release may be good but for that, so what to do is another thing.
    let help = "put its copy back, or move the folder away";
    each_other_thing(&place.join("a/record.json"), &|what| told("out/mine.released/a/record.json", what, help));
}

/// What stands in the place of a document that was edited is made anew; a link there is never followed.
#[test]
fn a_document_that_is_no_file_is_made_anew() {
    let here = bench("way-documents");
    let out = here.join("out/mine");
    let args = ["compile", "mine.toml", "--out", "out", "--typst", "./typst"];
    ends_with(&run(&here, &args), 0, "");
    let first = contents(&out);
    for name in ["schedule.md", "schedule.pdf", "drawings/dc-one-line.svg", "data/build.json", "record.json"] {
        assert!(first.contains_key(name), "{name}");
        let outside = here.join("outside");
        fs::create_dir(&outside).expect("folder");
        each_other_thing(&outside.join("thing"), &|_| {
            fs::remove_file(out.join(name)).expect("gone");
            fs::rename(outside.join("thing"), out.join(name)).expect("in its place");
            ends_with(&run(&here, &args), 0, "");
            assert!(contents(&out) == first, "{name}");
        });
        fs::remove_dir(outside).expect("empty");
    }
    // A part of the documents leaves the others, whatever they are now.
    fs::remove_file(out.join("labels.md")).expect("gone");
    pipe(&out.join("labels.md"));
    let some = ["compile", "mine.toml", "--out", "out", "--no-pdf", "--only", "schedule"];
    fs::write(here.join("mine.toml"), spec("First", "3.5 m")).expect("spec");
    ends_with(&run(&here, &some), 0, "");
    fs::write(here.join("mine.toml"), spec("First", "3 m")).expect("spec");
    ends_with(&run(&here, &args), 0, "");
    assert!(contents(&out) == first, "whole again");
}

/// A folder may hold a person's files: it is told by its own path, and nothing in it is touched.
#[test]
fn a_folder_in_the_place_of_a_file_is_told_and_so_is_a_file_in_that_of_a_folder() {
    let here = bench("way-folders");
    let out = here.join("out/mine");
    ends_with(&compile(&here, &[]), 0, "");
    let first = contents(&out);
    fs::write(here.join("mine.toml"), spec("First", "3.5 m")).expect("spec");
    let args = ["compile", "mine.toml", "--out", "out", "--typst", "./typst"];
    for name in ["schedule.md", "schedule.pdf", "record.json", "drawings/dc-one-line.svg", ".unfinished"] {
        let (path, aside) = (out.join(name), here.join("aside"));
        let had = fs::rename(&path, &aside).is_ok();
        for inside in ["", "letter.txt"] {
            fs::create_dir(&path).expect("folder");
            if !inside.is_empty() {
                fs::write(path.join(inside), PRECIOUS).expect("file");
            }
            let output = run(&here, &args);
            ends_with(&output, 2, &format!("out/mine/{name}: is a folder, where a file of rigbinder's goes"));
            assert!(inside.is_empty() || fs::read_to_string(path.join(inside)).expect("kept") == PRECIOUS);
            fs::remove_dir_all(&path).expect("gone");
        }
        if had {
            fs::rename(&aside, &path).expect("back");
        }
    }
    fs::rename(out.join("drawings"), here.join("aside")).expect("moved");
    let refused = |what: &str| {
        ends_with(&run(&here, &args), 2, &format!("out/mine/drawings: is {what}"));
    };
    fs::write(out.join("drawings"), PRECIOUS).expect("file");
    refused("a file, where a folder of rigbinder's goes");
    assert_eq!(fs::read_to_string(out.join("drawings")).expect("kept"), PRECIOUS);
    each_other_thing(&out.join("drawings"), &|what| refused(what));
    symlink(here.join("aside"), out.join("drawings")).expect("link");
    refused("a link");
    fs::remove_file(out.join("drawings")).expect("gone");
    fs::rename(here.join("aside"), out.join("drawings")).expect("back");
    assert!(contents(&out) == first, "something changed");
    // With a name that rigbinder once used itself, a folder of a person's stays as well.
    fs::create_dir(out.join(".typst")).expect("folder");
    fs::write(out.join(".typst/letter.txt"), PRECIOUS).expect("file");
    ends_with(&run(&here, &args), 0, "");
    assert_eq!(fs::read_to_string(out.join(".typst/letter.txt")).expect("kept"), PRECIOUS);
}

/// Beside the output: where failed Typst files are kept, what is being removed, what a killed run left.
#[test]
fn what_is_tidied_up_is_never_behind_a_link() {
    let here = bench("way-beside");
    let elsewhere = here.join("elsewhere/mine");
    fs::create_dir_all(&elsewhere).expect("folder");
    fs::write(elsewhere.join("letter.txt"), PRECIOUS).expect("file");
    let untouched = || assert_eq!(fs::read_to_string(elsewhere.join("letter.txt")).expect("kept"), PRECIOUS);
    ends_with(&compile(&here, &[]), 0, "");
    symlink(here.join("elsewhere"), here.join("out/.failed-typst")).expect("link");
    fs::write(here.join("mine.toml"), spec("First", "3.5 m")).expect("spec");
    stand_in(&here.join("typst"), "0.15.1", "echo 'error: no' >&2; exit 1");
    ends_with(&compile(&here, &[]), 2, "out/.failed-typst is a link; move it away");
    untouched();
    stand_in(&here.join("typst"), "0.15.1", WELL);
    ends_with(&compile(&here, &[]), 0, "");
    untouched();
    fs::remove_file(here.join("out/.failed-typst")).expect("gone");
    for (name, code) in [(".mine.new-77", 0), (".mine.old", 0), (".mine.gone", 2)] {
        let link = here.join("out").join(name);
        symlink(&elsewhere, &link).expect("link");
        fs::write(here.join("mine.toml"), spec(name, "3 m")).expect("spec");
        let output = compile(&here, &["--no-pdf"]);
        ends_with(&output, code, if code == 0 { "" } else { "out/.mine.gone: is a link" });
        untouched();
        assert!(!here.join("out/mine/letter.txt").exists(), "{name}: a file moved here");
        fs::remove_file(link).expect("stays");
    }
    ends_with(&compile(&here, &["--no-pdf"]), 0, "");
}

/// A pipe with a name stands where a file goes; what a shell pipes in is read, and the wait for it ends.
#[test]
fn a_signal_ends_every_wait() {
    let here = bench("way-signals");
    pipe(&here.join("pipe.toml"));
    // Somebody holds it open, and writes nothing.
    let _held = fs::File::options().read(true).write(true).open(here.join("pipe.toml")).expect("held");
    for command in ["check", "compile"] {
        ends_with(&run(&here, &[command, "pipe.toml"]), 2, "pipe.toml: it is a pipe, no file");
    }
    let hangs = "[ -e asked ] || [ \"$1\" = --version ] || exit 0; sleep 600";
    stand_in(&here.join("typst"), "0.15.1", hangs);
    fs::write(here.join("mute"), "#!/bin/sh\nsleep 600\n").expect("program");
    let mode = std::os::unix::fs::PermissionsExt::from_mode(0o755);
    fs::set_permissions(here.join("mute"), mode).expect("mode");
    let waits: [(&str, &[&str]); 4] = [
        ("for a typesetter", &["compile", "mine.toml", "--out", "out", "--typst", "./typst"]),
        ("for its version", &["compile", "mine.toml", "--out", "out", "--typst", "./mute"]),
        ("for its version", &["watch", "mine.toml", "--out", "out", "--typst", "./mute"]),
        ("for a spec", &["compile", "/dev/stdin", "--out", "out", "--no-pdf"]),
    ];
    for signal in [Signal::INT, Signal::TERM] {
        for (what, args) in waits {
            let (reader, writer) = std::io::pipe().expect("pipe");
            let mut child = start(&here, args, reader.into());
            thread::sleep(Duration::from_millis(1500));
            assert!(child.try_wait().expect("runs").is_none(), "{args:?} does not wait {what}");
            let begun = Instant::now();
            let pid = Pid::from_raw(i32::try_from(child.id()).expect("number")).expect("number");
            kill_process(pid, signal).expect("told");
            let output = ended(child, args);
            assert!(begun.elapsed() < Duration::from_secs(20), "{what}: {:?}", begun.elapsed());
            assert!(matches!(output.status.code(), Some(0 | 2 | 130)), "{what}: {}", errors(&output));
            drop(writer);
        }
    }
    let left = fs::read_dir(here.join("out")).map_or(0, Iterator::count);
    assert_eq!(left, 0, "a run that was broken off left something");
    ends_with(&rigbinder(&here, &["compile", "mine.toml", "--out", "out", "--no-pdf"]), 0, "");
}
