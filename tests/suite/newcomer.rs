//! What a person meets who uses the program for the first time: odd files, odd arguments, a full disk, a hostile text.

use crate::harness::{errors, folder, names_below, rigbinder, root};
use crate::publishing::{WELL, bench, compile, contents, spec, stand_in};
use rigbinder::diag::{human, is_steering, json, short};
use rigbinder::pipeline;
use rigbinder::publish::Record;
use std::fs;
use std::path::Path;
use std::process::{Command, Output, Stdio};
use std::time::{Duration, Instant};

fn says(output: &Output, code: i32, words: &str) {
    let told = errors(output);
    assert_eq!(output.status.code(), Some(code), "{told}");
    assert!(told.contains(words), "{words:?} is not in: {told}");
    assert!(!told.contains("os error") && !told.contains("panicked"), "{told}");
}

fn out(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).expect("text")
}

/// Runs the program with another standard output.
fn into(here: &Path, args: &[&str], stdout: Stdio) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_rigbinder"));
    command.args(args).current_dir(here).env_remove("RIGBINDER_TYPST").env("NO_COLOR", "1").stdout(stdout);
    command.stderr(Stdio::piped()).output().expect("the program starts")
}

#[test]
fn a_result_that_cannot_be_written_is_told() {
    let here = folder("newcomer-full");
    fs::write(here.join("a.toml"), spec("First", "3 m")).expect("spec");
    fs::write(here.join("b.toml"), spec("First", "4 m")).expect("spec");
    let commands: &[&[&str]] = &[
        &["kinds"],
        &["kinds", "fridge"],
        &["explain"],
        &["explain", "fuse-above-conductor"],
        &["schema"],
        &["schema", "--of", "build"],
        &["man"],
        &["completions", "bash"],
        &["new", "-"],
        &["check", "a.toml", "--message-format", "json"],
        &["check", "a.toml", "--for", "handover"],
        &["compile", "a.toml", "--emit", "spec"],
        &["compare", "a.toml", "b.toml"],
        &["compare", "a.toml", "a.toml"],
        &["compare", "a.toml", "b.toml", "--message-format", "json"],
        &["--version"],
        &["--help"],
        &["compile", "--help"],
    ];
    for args in commands {
        let full = fs::File::options().write(true).open("/dev/full").expect("/dev/full");
        says(&into(&here, args, full.into()), 2, "to standard output: No space left on device");
    }
    // A reader that has enough is no fault.
    for args in commands {
        let (reader, writer) = std::io::pipe().expect("pipe");
        drop(reader);
        let output = into(&here, args, writer.into());
        assert!(output.status.code() <= Some(1), "{args:?}: {}", errors(&output));
        assert!(!errors(&output).contains("standard output"), "{args:?}: {}", errors(&output));
    }
}

#[test]
fn what_is_no_spec_file_is_told_at_once() {
    let here = folder("newcomer-files");
    fs::create_dir(here.join("folder")).expect("folder");
    fs::write(here.join("huge.toml"), vec![b'#'; (16 << 20) + 1]).expect("file");
    fs::write(here.join("van.toml"), spec("First", "3 m")).expect("spec");
    assert!(Command::new("mkfifo").arg(here.join("pipe")).status().expect("mkfifo").success());
    let begun = Instant::now();
    for (name, words) in [
        ("folder", "folder is a folder; name the spec file in it"),
        ("absent.toml", "cannot read absent.toml: No such file"),
        ("van.toml/x", "cannot read van.toml/x: Not a directory"),
        ("/dev/zero", "cannot read /dev/zero: it is a socket or a device, no file"),
        ("/dev/null", "cannot read /dev/null: it is a socket or a device, no file"),
        ("pipe", "cannot read pipe: it is a pipe, no file; pipe a text to /dev/stdin instead"),
        ("huge.toml", "huge.toml has 16777217 bytes; a spec has far less"),
    ] {
        says(&rigbinder(&here, &["check", name]), 2, words);
        says(&rigbinder(&here, &["compile", name, "--no-pdf"]), 2, words);
        says(&rigbinder(&here, &["compare", "van.toml", name]), 2, words);
    }
    says(&rigbinder(&here, &["watch", "pipe"]), 2, "cannot watch pipe: it is no file");
    for name in ["/dev/zero", "folder", "absent.json"] {
        let output = rigbinder(&here, &["compile", "van.toml", "--no-pdf", "--revision-from", name]);
        says(&output, 2, name);
    }
    assert!(begun.elapsed() < Duration::from_mins(1), "nothing waits for ever");
    assert!(!here.join("docs-out").exists());
    // A pipe that somebody writes to is as good as a file.
    let text = fs::File::open(here.join("van.toml")).expect("spec");
    let mut cat = Command::new("cat").stdin(text).stdout(Stdio::piped()).spawn().expect("cat");
    let mut command = Command::new(env!("CARGO_BIN_EXE_rigbinder"));
    command.args(["check", "/dev/stdin"]).stdin(cat.stdout.take().expect("pipe"));
    let output = command.output().expect("starts");
    assert_eq!(output.status.code(), Some(0), "{}", errors(&output));
    cat.wait().expect("ends");
}

#[test]
fn odd_arguments_are_told_in_plain_words() {
    let here = bench("newcomer-arguments");
    fs::create_dir(here.join("folder")).expect("folder");
    fs::write(here.join("file"), "x").expect("file");
    for (args, words) in [
        (vec!["new", "none/van.toml"], "there is no folder none; make it first"),
        (vec!["new", "folder"], "it is a folder; name the file to make, such as folder/mine.toml"),
        (vec!["new", "mine.toml"], "cannot make mine.toml: it exists"),
        (vec!["compile", "mine.toml", "--no-pdf", "--out", "file"], "file: is a file; name a folder with --out"),
        (vec!["compile", "mine.toml", "--no-pdf", "--out", "file/x"], "file/x: Not a directory"),
        (vec!["compile", "mine.toml", "--typst", "folder"], "folder could not be started: it is a folder"),
        (vec!["compile", "mine.toml", "--typst", "file"], "./file could not be started: it may not be run"),
        (vec!["compare", "mine.toml", "out/mine/record.json"], "the later one is a spec"),
        (vec!["compile", "mine.toml", "mine.toml", "--no-pdf"], "mine.toml is named twice"),
        (vec!["compile", "mine.toml", "./mine.toml", "--no-pdf"], "mine.toml and ./mine.toml are the same file"),
        (
            vec!["compile", "mine.toml", "--no-pdf", "--only", "schedule", "--stage", "commissioning"],
            "--stage chooses among the packets",
        ),
    ] {
        says(&rigbinder(&here, &args), 2, words);
    }
    assert_eq!(
        out(&rigbinder(&here, &["new", "-"])),
        rigbinder::spec::starter(crate::harness::built_in()).expect("starter")
    );
    assert!(!here.join("-").exists());
    let both = ["--no-pdf", "--only", "schedule", "--only", "packet", "--stage", "commissioning"];
    says(&compile(&here, &both), 0, "");
    let made = names_below(&here.join("out/mine"));
    let made: Vec<_> = made.iter().filter(|n| n.ends_with(".md")).collect();
    assert_eq!(made, ["packet-11-commissioning.md", "schedule.md"]);
    // A spec with errors is shown as far as it is known, but not as if all were well.
    fs::write(here.join("broken.toml"), spec("Broken", "2 parsecs")).expect("spec");
    says(&rigbinder(&here, &["compile", "broken.toml", "--emit", "spec"]), 1, "rigbinder check");
    // An empty variable is none.
    let mut command = Command::new(env!("CARGO_BIN_EXE_rigbinder"));
    command.args(["compile", "mine.toml", "--no-pdf"]).current_dir(&here).env("RIGBINDER_TYPST", "");
    says(&command.output().expect("starts"), 0, "");
}

#[test]
fn a_spec_does_not_write_over_the_documents_of_another() {
    let here = folder("newcomer-names");
    let write = |name: &str, title: &str| {
        fs::create_dir_all(here.join(name).parent().expect("folder")).expect("folder");
        fs::write(here.join(name), spec(title, "3 m")).expect("spec");
    };
    let run = |name: &str, more: &[&str]| {
        rigbinder(&here, &[&["compile", name, "--no-pdf", "--out", "out", "--quiet"], more].concat())
    };
    let record = || Record::read(&here.join("out/my-van"));
    write("my van.toml", "First");
    write("my-van.toml", "Second");
    says(&run("my van.toml", &[]), 0, "");
    assert_eq!(record().spec, "my van.toml");
    let before = contents(&here.join("out/my-van"));
    let refused = run("my-van.toml", &[]);
    says(&refused, 2, "holds the documents of my van.toml");
    says(&refused, 2, "--out");
    says(&refused, 2, "--take-over");
    assert_eq!(contents(&here.join("out/my-van")), before);
    says(&run("my van.toml", &["--only", "schedule"]), 0, "");
    // Renamed.
    says(&run("my-van.toml", &["--take-over"]), 0, "");
    assert_eq!(record().spec, "my-van.toml");
    says(&run("my-van.toml", &[]), 0, "");
    says(&run("my van.toml", &[]), 2, "holds the documents of my-van.toml");
    // The same name in another folder, while the first one still stands.
    write("other/my-van.toml", "Third");
    says(&run("other/my-van.toml", &[]), 2, "my-van.toml");
    says(&run("./my-van.toml", &[]), 0, "");
    // Moved: the first one is gone.
    fs::rename(here.join("my-van.toml"), here.join("other/my-van.toml")).expect("moved");
    says(&run("other/my-van.toml", &[]), 0, "");
    // Moved together with its documents.
    fs::create_dir(here.join("copy")).expect("folder");
    for name in ["out", "other"] {
        let status = Command::new("cp").arg("-r").arg(here.join(name)).arg(here.join("copy")).status().expect("cp");
        assert!(status.success());
    }
    let args = ["compile", "other/my-van.toml", "--no-pdf", "--out", "out"];
    says(&rigbinder(&here.join("copy"), &args), 0, "nothing changed");
    // Nothing in the documents names a folder of this machine.
    let machine = here.display().to_string();
    for (name, bytes) in contents(&here.join("out/my-van")) {
        assert!(!String::from_utf8_lossy(&bytes).contains(&machine), "{name}");
    }
}

#[test]
fn what_a_failed_compile_leaves_goes_when_it_is_not_needed() {
    let here = bench("newcomer-left");
    let beside = || {
        let mut names: Vec<_> =
            fs::read_dir(here.join("out")).expect("out").map(|e| e.expect("entry").file_name()).collect();
        names.sort();
        names
    };
    stand_in(&here.join("typst"), "0.15.1", "echo no >&2; exit 1");
    says(&compile(&here, &[]), 2, "kept in");
    assert_eq!(beside(), [".failed-typst"], "no lock of a build that is not there");
    fs::create_dir_all(here.join("out/.failed-typst/other")).expect("of another build");
    says(&compile(&here, &["--no-pdf"]), 0, "");
    assert!(here.join("out/.failed-typst/mine").is_dir(), "nothing was typeset, so the fault may still be there");
    stand_in(&here.join("typst"), "0.15.1", WELL);
    says(&compile(&here, &[]), 0, "");
    assert!(!here.join("out/.failed-typst/mine").exists() && here.join("out/.failed-typst/other").is_dir());
    fs::remove_dir(here.join("out/.failed-typst/other")).expect("gone");
    says(&compile(&here, &[]), 0, "");
    assert_eq!(beside(), [".mine.lock", "mine"]);
    // A lock with a seal stays, whatever comes after it.
    fs::write(here.join("mine.toml"), spec("Second", "3 m")).expect("spec");
    stand_in(&here.join("typst"), "0.15.2", "echo no >&2; exit 1");
    says(&compile(&here, &[]), 2, "kept in");
    assert_eq!(beside(), [".failed-typst", ".mine.lock", "mine"]);
    stand_in(&here.join("typst"), "0.15.1", WELL);
    says(&compile(&here, &[]), 0, "");
    assert_eq!(beside(), [".mine.lock", "mine"]);
}

#[test]
fn every_text_file_ends_with_one_line_end() {
    let here = folder("newcomer-ends");
    for path in ["specs/heron.toml", "specs/weekend.toml"].map(|name| root().join(name)) {
        let output = rigbinder(&here, &["compile", path.to_str().expect("path"), "--no-pdf", "--quiet"]);
        assert_eq!(output.status.code(), Some(0), "{}", errors(&output));
    }
    let mut seen = 0;
    for name in names_below(&here.join("docs-out")).iter().filter(|n| !n.ends_with(".xlsx") && !n.ends_with(".lock")) {
        let bytes = fs::read(here.join("docs-out").join(name)).expect("file");
        assert!(bytes.ends_with(b"\n") && !bytes.ends_with(b"\n\n") && !bytes.ends_with(b"\n\r\n"), "{name}");
        seen += 1;
    }
    assert!(seen > 100, "{seen}");
}

#[test]
fn a_comparison_reads_well_and_is_one_value_of_json() {
    let here = folder("newcomer-compare");
    fs::write(here.join("a.toml"), spec("First", "3 m")).expect("spec");
    fs::write(here.join("b.toml"), spec("First", "4 m")).expect("spec");
    let weekend = root().join("specs/weekend.toml").display().to_string();
    let same = out(&rigbinder(&here, &["compare", "a.toml", "a.toml"]));
    assert_eq!(same, "Nothing changed: both are the same build.\n");
    let text = out(&rigbinder(&here, &["compare", "a.toml", "b.toml"]));
    assert!(text.starts_with("Change notice — First\n=====================\n\nNo revision given\n\n"), "{text}");
    assert!(text.contains("no revision was given") && text.contains("4 m"), "{text}");
    let wide = out(&rigbinder(&here, &["compare", "a.toml", &weekend]));
    for text in [&text, &wide] {
        assert!(!text.contains("<!--") && !text.contains("{#") && !text.contains("+++"), "{text}");
        assert!(!text.contains("\n\n\n") && text.lines().all(|l| l.chars().count() <= 100), "{text}");
        assert!(!text.contains("](") && !text.contains("**"), "{text}");
    }
    // What either spec warns of is counted, not told: the comparison was asked for.
    let told = errors(&rigbinder(&here, &["compare", "a.toml", &weekend]));
    assert!(told.contains("`rigbinder check` tells them") && !told.contains("-->"), "{told}");
    let output = rigbinder(&here, &["compare", "a.toml", "b.toml", "--message-format", "json"]);
    let value: serde_json::Value = serde_json::from_slice(&output.stdout).expect("one value");
    assert!(value["findings"].is_array() && value["changes"]["components"]["changed"][0]["id"] == "fridge", "{value}");
    fs::write(here.join("broken.toml"), spec("Broken", "2 parsecs")).expect("spec");
    let output = rigbinder(&here, &["compare", "a.toml", "broken.toml", "--message-format", "json"]);
    assert_eq!(output.status.code(), Some(1));
    let value: serde_json::Value = serde_json::from_slice(&output.stdout).expect("one value");
    assert!(value["changes"].is_null() && value["findings"].as_array().is_some_and(|all| !all.is_empty()), "{value}");
}

/// Every control character of C0 and C1, DEL, and every mark that turns the direction of text (Unicode Standard Annex
/// 9, section 2), but for the end of a line.
fn hostile() -> impl Iterator<Item = char> {
    let controls = (0..=0x1f).chain(0x7f..=0x9f).filter(|c| *c != 0x0a);
    controls.chain([0x200e, 0x200f, 0x61c]).chain(0x202a..=0x202e).chain(0x2066..=0x2069).filter_map(char::from_u32)
}

fn plain(text: &str, of: &str) {
    let bad: Vec<char> = text.chars().filter(|c| is_steering(*c) && !matches!(c, '\n' | '\t')).collect();
    assert!(bad.is_empty(), "{of}: {bad:?} in {text:?}");
}

#[test]
fn no_text_of_a_spec_steers_the_terminal() {
    for c in hostile() {
        assert!(is_steering(c), "U+{:04X}", u32::from(c));
        let text = spec("First", "3 m")
            .replace("First", &format!("a{c}[31mb"))
            .replace("\"Here\"", &format!("\"H{c}e\\u001b[2J\""))
            .replace("[component]", &format!("\"k{c}\" = 1\n# c{c}d\n[accepted{c}]\nx{c} = '''{c}\n'''\n[component]"));
        let name = format!("x{c}y.toml");
        let loaded = pipeline::load(crate::harness::house(), &name, text.as_bytes()).expect("kinds");
        let worked = pipeline::work_out(&loaded).expect("profile");
        assert!(!worked.findings.is_empty());
        let of = format!("U+{:04X}", u32::from(c));
        plain(&human::render(&worked.findings, &loaded.file, false, true), &of);
        plain(&short::render(&worked.findings, &loaded.file), &of);
        plain(&json::render(&worked.findings, &loaded.file), &of);
        let drawn = human::render(&worked.findings, &loaded.file, true, true);
        assert!(!drawn.contains("\u{1b}[2J") && !drawn.contains("\u{1b}[31mb"), "{of}: {drawn:?}");
    }
}

#[test]
fn no_name_of_a_file_and_no_argument_steers_the_terminal() {
    let here = folder("newcomer-hostile");
    let all: String = hostile().filter(|c| *c != '\0').chain(['\n']).collect();
    let name = format!("v{all}.toml");
    fs::write(here.join(&name), spec("First", "3 m")).expect("spec");
    let broken = format!("w{all}.toml");
    fs::write(here.join(&broken), spec(&format!("F{all}\u{1b}[2J"), "3 parsecs")).expect("spec");
    let missing = format!("none{all}.toml");
    let odd = format!("odd{all}");
    let commands: Vec<Vec<&str>> = vec![
        vec!["check", &name],
        vec!["check", &name, "--for", "handover"],
        vec!["check", &name, "--for", "handover", "--message-format", "json"],
        vec!["check", &name, "--for", "handover", "--message-format", "short"],
        vec!["check", &broken],
        vec!["check", &broken, "--message-format", "short"],
        vec!["check", &broken, "--message-format", "json"],
        vec!["check", &missing],
        vec!["compile", &name, &broken, &missing, "--no-pdf", "--out", &odd],
        vec!["compile", &broken, "--emit", "spec"],
        vec!["compile", &name, "--no-pdf", "--stage", &odd],
        vec!["compile", &name, "--typst", &odd],
        vec!["compile", &name, "--no-pdf", "--revision-from", &odd],
        vec!["compare", &name, &name],
        vec!["compare", &name, &broken],
        vec!["new", &name],
        vec!["new", &odd],
        vec!["kinds", &odd],
        vec!["explain", &odd],
        vec![&odd],
        vec!["check", "x.toml", &odd],
        vec!["check", "--message-format", &odd],
        vec!["completions", &odd],
        vec!["compile", &name, "--typst-limit", &odd],
        vec!["watch", &missing],
    ];
    for args in commands {
        let output = rigbinder(&here, &args);
        let of = args[0];
        plain(&errors(&output), of);
        plain(&out(&output), of);
        assert!(!errors(&output).contains("panicked"), "{}", errors(&output));
    }
}
