//! What a compile leaves in the output folder: only what changed is made, the rest stays the very file it was.
//!
//! A stand-in for `typst` keeps a list of what it was asked for, so that a test can count.

use crate::harness::{errors, folder, rigbinder};
use rigbinder::publish::{self, Record};
use std::collections::BTreeMap;
use std::fs;
use std::os::unix::fs::{MetadataExt, PermissionsExt};
use std::path::{Path, PathBuf};
use std::process::Output;

/// A small spec; `run` is the length of one cable, `title` stands on every page.
pub(crate) fn spec(title: &str, run: &str) -> String {
    format!(
        "[build]\ntitle = \"{title}\"\nhandover = 2027-04-09\n[place.here]\nabout = \"Here\"\n[component]\n\
         bank = {{ kind = \"battery-bank\", capacity = \"200 Ah\", place = \"here\" }}\n\
         main = {{ kind = \"main-fuse\", fed_from = \"bank\", run = \"0.1 m\", place = \"here\" }}\n\
         switch = {{ kind = \"battery-disconnect\", fed_from = \"main\", run = \"0.1 m\", place = \"here\" }}\n\
         panel = {{ kind = \"fuse-panel\", fed_from = \"switch\", run = \"1 m\", place = \"here\" }}\n\
         fridge = {{ kind = \"fridge\", fed_from = \"panel\", run = \"{run}\", place = \"here\" }}\n"
    )
}

/// What the stand-in does when it is asked for a PDF: `$in` and `$out` are the files. It writes about the smallest one
/// there is, with the sum of what it is made from.
pub(crate) const WELL: &str = concat!(
    r"printf '",
    r"%%PDF-1.7\n",
    r"1 0 obj\n<</Type/Catalog/Pages 2 0 R>>\nendobj\n",
    r"2 0 obj\n<</Type/Pages/Count 1/Kids[3 0 R]>>\nendobj\n",
    r"3 0 obj\n<</Type/Page/Parent 2 0 R/Sum(%24s)>>\nendobj\n",
    r"xref\n0 4\n0000000000 65535 f\r\n0000000009 00000 n\r\n0000000054 00000 n\r\n0000000105 00000 n\r\n",
    r"trailer\n<</Size 4/Root 1 0 R>>\nstartxref\n178\n%%%%EOF",
    r#"' "$(cksum < "$in")" > "$out""#,
);

/// Writes a stand-in for `typst`; every PDF it is asked for is a line in `asked` beside it.
pub(crate) fn stand_in(path: &Path, version: &str, does: &str) {
    let text = format!(
        "#!/bin/sh\n[ \"$1\" = --version ] && echo 'typst {version}' && exit 0\n\
         for word; do in=\"$out\"; out=\"$word\"; done\n\
         echo \"${{out##*/}}\" >> \"${{0%/*}}/asked\"\n{does}\n"
    );
    let new = path.with_extension("new");
    fs::write(&new, text).expect("stand-in");
    fs::set_permissions(&new, fs::Permissions::from_mode(0o755)).expect("mode");
    fs::rename(new, path).expect("in place");
}

/// A folder with `mine.toml` and a stand-in that works.
pub(crate) fn bench(test: &str) -> PathBuf {
    let here = folder(test);
    stand_in(&here.join("typst"), "0.15.1", WELL);
    fs::write(here.join("mine.toml"), spec("First", "3 m")).expect("spec");
    here
}

/// Compiles `mine.toml` with the stand-in.
pub(crate) fn compile(here: &Path, more: &[&str]) -> Output {
    let mut args = vec!["compile", "mine.toml", "--out", "out", "--typst", "./typst", "--quiet"];
    args.extend(more);
    rigbinder(here, &args)
}

/// Everything below a folder with its content, by name.
pub(crate) fn contents(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let mut found = BTreeMap::new();
    let mut open = vec![folder.to_owned()];
    while let Some(next) = open.pop() {
        for entry in fs::read_dir(&next).unwrap_or_else(|e| panic!("{}: {e}", next.display())) {
            let path = entry.expect("entry").path();
            if path.is_dir() {
                open.push(path);
            } else {
                let name = path.strip_prefix(folder).expect("below").display().to_string();
                found.insert(name, fs::read(&path).expect("file"));
            }
        }
    }
    found
}

/// What the stand-in was asked for since the last call.
fn asked(here: &Path) -> Vec<String> {
    let list = fs::read_to_string(here.join("asked")).unwrap_or_default();
    drop(fs::remove_file(here.join("asked")));
    let mut list: Vec<String> = list.lines().map(str::to_owned).collect();
    list.sort();
    list
}

fn ends_with(output: &Output, code: i32, words: &str) {
    assert_eq!(output.status.code(), Some(code), "{}", errors(output));
    assert!(errors(output).contains(words), "{words:?} is not in: {}", errors(output));
}

#[test]
fn the_record_has_the_digest_of_every_file() {
    let here = bench("publish-record");
    ends_with(&compile(&here, &[]), 0, "");
    let out = here.join("out/mine");
    let record = Record::read(&out);
    assert_eq!(record.version, publish::VERSION);
    let files = contents(&out);
    assert_eq!(record.documents.len() + 2, files.len(), "all but the record and the mark are in the record");
    for (name, entry) in &record.documents {
        assert_eq!(entry.digest, publish::digest(&files[name]), "{name}");
        assert_eq!(entry.source_digest.is_some(), name.ends_with(".pdf"), "{name}");
    }
}

#[test]
fn what_did_not_change_is_not_made_again() {
    let here = bench("publish-unchanged");
    let out = here.join("out/mine");
    ends_with(&compile(&here, &[]), 0, "");
    let first = contents(&out);
    let all = asked(&here);
    assert_eq!(all.len(), first.keys().filter(|n| n.ends_with(".pdf")).count());
    let told = |path: &Path| fs::metadata(path).map(|m| (m.ino(), m.mtime_nsec())).expect("there");
    let (folder, calendar) = (told(&out), told(&out.join("maintenance-calendar.pdf")));

    // The quiet run before had the same order but for what it prints: its seal serves, and is not written anew.
    let sealed = told(&here.join("out/.mine.lock"));
    let output = rigbinder(&here, &["compile", "mine.toml", "--out", "out", "--typst", "./typst"]);
    ends_with(&output, 0, "nothing changed");
    assert_eq!(told(&here.join("out/.mine.lock")), sealed, "all was worked out although nothing changed");
    // Not taken for the same as before, and found to be the same.
    ends_with(&compile(&here, &["--typst-limit", "60"]), 0, "");
    assert_eq!(asked(&here), [""; 0]);
    assert_eq!(told(&out), folder, "the folder was not swapped");

    // One value: what does not speak of it stays the very file it was.
    fs::write(here.join("mine.toml"), spec("First", "3.5 m")).expect("spec");
    ends_with(&compile(&here, &[]), 0, "");
    let made = asked(&here);
    let second = contents(&out);
    assert!(made.contains(&"schedule.pdf".to_owned()) && made.len() < all.len(), "{made:?}");
    for name in all.iter().filter(|name| !made.contains(name)) {
        assert_eq!(first[name], second[name], "{name}");
    }
    assert!(!made.contains(&"maintenance-calendar.pdf".to_owned()));
    assert_eq!(
        told(&out.join("maintenance-calendar.pdf")),
        calendar,
        "an unchanged file keeps its number and its date"
    );

    // Back again: the same bytes as a fresh compile.
    fs::write(here.join("mine.toml"), spec("First", "3 m")).expect("spec");
    ends_with(&compile(&here, &[]), 0, "");
    assert_eq!(contents(&out), first);
}

#[test]
fn a_damaged_missing_or_foreign_pdf_is_made_anew() {
    let here = bench("publish-damaged");
    let out = here.join("out/mine");
    ends_with(&compile(&here, &[]), 0, "");
    let first = contents(&out);
    asked(&here);
    fs::write(out.join("schedule.pdf"), "%PDF-1.7 scribbled over %%EOF").expect("damage");
    fs::remove_file(out.join("owners-manual.pdf")).expect("loss");
    fs::write(out.join("calculation-sheet.html"), "scribbled over").expect("damage");
    ends_with(&compile(&here, &[]), 0, "");
    assert_eq!(asked(&here), ["owners-manual.pdf", "schedule.pdf"]);
    assert_eq!(contents(&out), first);
    // Another version of the typesetter: all of them.
    stand_in(&here.join("typst"), "0.15.2", WELL);
    ends_with(&compile(&here, &[]), 0, "");
    assert_eq!(asked(&here).len(), first.keys().filter(|n| n.ends_with(".pdf")).count());
    // A record that cannot be read: all of them too, and the folder is whole again.
    let second = contents(&out);
    fs::write(out.join("record.json"), "{\"version\": 1, \"documents\": [").expect("damage");
    ends_with(&compile(&here, &[]), 0, "");
    assert_eq!(contents(&out), second);
}

#[test]
fn pdfs_stay_without_typesetting_as_long_as_their_text_does() {
    let here = bench("publish-no-pdf");
    let out = here.join("out/mine");
    ends_with(&compile(&here, &[]), 0, "");
    let first = contents(&out);
    asked(&here);
    ends_with(&compile(&here, &["--no-pdf"]), 0, "");
    assert_eq!(contents(&out), first);
    fs::write(here.join("mine.toml"), spec("First", "3.5 m")).expect("spec");
    let output = rigbinder(&here, &["compile", "mine.toml", "--out", "out", "--no-pdf"]);
    ends_with(&output, 0, "removed, since the text changed");
    assert!(errors(&output).contains("schedule.pdf"), "{}", errors(&output));
    assert!(!out.join("schedule.pdf").exists() && out.join("maintenance-calendar.pdf").exists());
    assert_eq!(asked(&here), [""; 0]);
    // Made again, and nothing but what went.
    ends_with(&compile(&here, &[]), 0, "");
    let made = asked(&here);
    assert!(
        made.contains(&"schedule.pdf".to_owned()) && !made.contains(&"maintenance-calendar.pdf".to_owned()),
        "{made:?}"
    );
}

/// Foreign files stay, below rigbinder's own folders too; files of documents that are no more go.
#[test]
fn others_files_stay_and_stale_ones_go() {
    let here = bench("publish-others");
    let out = here.join("out/mine");
    ends_with(&compile(&here, &[]), 0, "");
    // A drawing of an earlier run that no document shows any more.
    let mut record = Record::read(&out);
    fs::create_dir_all(out.join("drawings/mine")).expect("folder");
    fs::write(out.join("drawings/of-no-document.svg"), "<svg/>").expect("drawing");
    record.documents.insert("drawings/of-no-document.svg".into(), publish::Entry::default());
    record.documents.insert("../../mine.toml".into(), publish::Entry::default());
    fs::write(out.join("record.json"), record.to_json()).expect("record");
    for name in ["drawings/sketch.svg", "drawings/mine/photo.jpg", "invoice.txt"] {
        fs::write(out.join(name), name).expect("foreign");
    }
    std::os::unix::fs::symlink("/nowhere", out.join("link")).expect("link");
    fs::create_dir(out.join("empty")).expect("folder");
    fs::write(here.join("mine.toml"), spec("Second", "3 m")).expect("spec");
    ends_with(&compile(&here, &["--no-pdf"]), 0, "");
    assert!(!out.join("drawings/of-no-document.svg").exists(), "a drawing of no document goes");
    for name in ["drawings/sketch.svg", "drawings/mine/photo.jpg", "invoice.txt"] {
        assert_eq!(fs::read_to_string(out.join(name)).expect("kept"), name);
    }
    assert_eq!(fs::read_link(out.join("link")).expect("kept"), Path::new("/nowhere"));
    assert!(out.join("empty").is_dir() && here.join("mine.toml").is_file());
    let recorded = Record::read(&out).documents;
    assert!(!recorded.contains_key("drawings/of-no-document.svg") && !recorded.contains_key("drawings/sketch.svg"));
}

/// What a run leaves that was killed right after the exchange: the replaced folder, with what came into it late.
#[test]
fn a_folder_left_over_is_cleared_and_what_came_late_moves_along() {
    let here = bench("publish-left-over");
    let out = here.join("out/mine");
    ends_with(&compile(&here, &["--no-pdf"]), 0, "");
    let first = contents(&out);
    for (name, marked) in [(".mine.new-77", false), (".mine.new-78", true), (".mine.old", false)] {
        let left = here.join("out").join(name);
        fs::create_dir(&left).expect("folder");
        for (file, bytes) in &first {
            fs::create_dir_all(left.join(file).parent().expect("folder")).expect("folder");
            fs::write(left.join(file), bytes).expect("copy");
        }
        fs::write(left.join(format!("late{name}.txt")), "late").expect("late");
        if marked {
            fs::write(left.join(".unfinished"), "").expect("mark");
        }
    }
    ends_with(&compile(&here, &["--no-pdf"]), 0, "");
    assert!(out.join("late.mine.new-77.txt").is_file() && out.join("late.mine.old.txt").is_file());
    assert!(!out.join("late.mine.new-78.txt").exists(), "an unfinished folder holds nothing of its own");
    let mut left: Vec<_> =
        fs::read_dir(here.join("out")).expect("out").map(|e| e.expect("entry").file_name()).collect();
    left.sort();
    assert_eq!(left, [".mine.lock", "mine"]);
    // Killed between two renames: the folder stands aside, and comes back although the spec is broken now.
    fs::rename(&out, here.join("out/.mine.old")).expect("aside");
    ends_with(&compile(&here, &["--no-pdf"]), 0, "");
    assert!(out.join("late.mine.old.txt").is_file());
}

#[test]
fn several_specs_go_on_past_a_broken_one() {
    let here = bench("publish-several");
    fs::write(here.join("other.toml"), spec("Other", "2 m")).expect("spec");
    fs::write(here.join("broken.toml"), spec("Broken", "2 parsecs")).expect("spec");
    let run = |specs: &[&str]| {
        let mut args = vec!["compile", "--out", "out", "--typst", "./typst", "--message-format", "short"];
        args.extend(specs);
        rigbinder(&here, &args)
    };
    let output = run(&["other.toml", "broken.toml", "mine.toml"]);
    ends_with(&output, 1, "3 specs: 2 compiled, 1 stopped by findings");
    let told = errors(&output);
    let at = |words: &str| told.find(words).unwrap_or_else(|| panic!("{words:?} is not in {told}"));
    assert!(
        at("other.toml: 5 components") < at("broken.toml: ") && at("mine.toml: 5 components") > at("broken.toml: ")
    );
    assert!(here.join("out/mine/schedule.pdf").is_file() && here.join("out/other/schedule.pdf").is_file());
    assert!(!here.join("out/broken").exists());
    ends_with(&run(&["other.toml", "nowhere.toml", "broken.toml"]), 2, "cannot read nowhere.toml");
    ends_with(&run(&["mine.toml", "other.toml"]), 0, "nothing changed");
    fs::create_dir(here.join("more")).expect("folder");
    fs::copy(here.join("mine.toml"), here.join("more/Mine.toml")).expect("copy");
    ends_with(
        &run(&["mine.toml", "more/Mine.toml"]),
        2,
        "mine.toml and more/Mine.toml would both be written to out/mine",
    );
    let args = ["compile", "mine.toml", "broken.toml", "--no-pdf", "--out", "out", "--message-format", "json"];
    let json: serde_json::Value = serde_json::from_slice(&rigbinder(&here, &args).stdout).expect("one array");
    assert!(json.as_array().is_some_and(|all| all.iter().any(|f| f["file"] == "broken.toml")), "{json}");
}
