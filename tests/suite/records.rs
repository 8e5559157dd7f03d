//! Records that say what none can say, and releases that are not as they were made: each is told.

use crate::harness::{errors, rigbinder};
use crate::publishing::{bench, compile, spec};
use serde_json::{Value, json};
use std::fs;
use std::path::Path;
use std::process::Output;

fn release(here: &Path, revision: &str, run: &str) -> Output {
    let text = spec("Van", run).replacen("[build]\n", &format!("[build]\nrevision = \"{revision}\"\n"), 1);
    fs::write(here.join("mine.toml"), text).expect("spec");
    rigbinder(here, &["release", "mine.toml", "--out", "out", "--typst", "./typst"])
}

fn ends_with(output: &Output, code: i32, words: &str) {
    assert_eq!(output.status.code(), Some(code), "{}", errors(output));
    assert!(errors(output).contains(words), "{words:?} is not in: {}", errors(output));
}

fn json_of(path: &Path) -> Value {
    serde_json::from_slice(&fs::read(path).expect("record")).expect("JSON")
}

/// Writes over what nobody may write to.
fn rewrite(path: &Path, text: &str) {
    fs::remove_file(path).expect("gone");
    fs::write(path, text).expect("written");
}

#[test]
fn a_number_that_no_release_gets_is_refused() {
    let here = bench("records-number");
    ends_with(&release(&here, "A", "3 m"), 0, "number 1");
    let path = here.join("out/mine.released/a/record.json");
    let whole = fs::read_to_string(&path).expect("record");
    for number in ["18446744073709551615", "18446744073709551616", "1000000", "0", "-1", "1.5", "null"] {
        rewrite(&path, &whole.replacen("\"number\": 1", &format!("\"number\": {number}"), 1));
        let output = release(&here, "B", "4 m");
        ends_with(&output, 2, "out/mine.released/a/record.json: ");
        assert!(!here.join("out/mine.released/b").exists(), "{number}");
        ends_with(&rigbinder(&here, &["check", "mine.toml", "--out", "out"]), 2, "out/mine.released/a/record.json: ");
    }
    rewrite(&path, &whole);
    ends_with(&release(&here, "B", "4 m"), 0, "number 2");
    // Two of one number: nobody knows which was the last.
    let path = here.join("out/mine.released/b/record.json");
    let second = fs::read_to_string(&path).expect("record");
    rewrite(&path, &second.replacen("\"number\": 2", "\"number\": 1", 1));
    ends_with(&release(&here, "C", "5 m"), 2, "says that it is release 1, as does out/mine.released/a");
    // The last number there can be.
    rewrite(&path, &second.replacen("\"number\": 2", "\"number\": 999999", 1));
    ends_with(&release(&here, "C", "5 m"), 2, "holds as many releases as there can be");
}

#[test]
fn an_edited_release_is_told_when_the_next_one_is_made() {
    let here = bench("records-edited");
    ends_with(&release(&here, "A", "3 m"), 0, "number 1");
    let first = here.join("out/mine.released/a");
    let page = fs::read_to_string(first.join("schedule.html")).expect("page");
    rewrite(&first.join("schedule.html"), &page.replacen("Van", "Yan", 1));
    fs::remove_file(first.join("labels.pdf")).expect("gone");
    let output = release(&here, "B", "4 m");
    ends_with(&output, 0, "released revision B, number 2");
    let told = "the earlier release A in out/mine.released/a is not as it was released: labels.pdf, schedule.html";
    ends_with(&output, 0, told);
    // The record of a release holds no digest of itself; that of the next one does.
    let record = here.join("out/mine.released/b/record.json");
    let second = json_of(&record);
    let of_first = rigbinder::publish::digest(&fs::read(first.join("record.json")).expect("record"));
    assert_eq!(second["release"], json!({ "number": 2, "after": of_first }));
    rewrite(&first.join("schedule.html"), &page);
    let mut edited = json_of(&first.join("record.json"));
    edited["build"]["head"]["title"]["shown"] = "Another".into();
    rewrite(&first.join("record.json"), &edited.to_string());
    let output = release(&here, "C", "5 m");
    ends_with(&output, 0, "out/mine.released/a is not as it was released: labels.pdf, record.json");
    assert!(!errors(&output).contains("mine.released/b is"), "{}", errors(&output));
}

/// What a record says of a build is compared: one that says nothing, or in a form of later days, must not pass for one.
#[test]
fn a_record_of_no_build_or_of_later_days_is_told() {
    let here = bench("records-form");
    ends_with(&release(&here, "A", "3 m"), 0, "number 1");
    let path = here.join("out/mine.released/a/record.json");
    let whole = json_of(&path);
    let change = |change: &dyn Fn(&mut Value)| {
        let mut record = whole.clone();
        change(&mut record);
        record.to_string()
    };
    let cases = [
        (change(&|r| r["build"] = json!({})), "its `build` has no `head`"),
        (change(&|r| r["build"] = json!([])), "its `build` has no `head`"),
        (change(&|r| drop(r["build"].as_object_mut().expect("map").remove("circuits"))), "has no `circuits`"),
        (change(&|r| drop(r.as_object_mut().expect("map").remove("build"))), "no `build`"),
        (change(&|r| r["build"]["form"] = 7.into()), "is of form 7; this rigbinder knows form 1"),
        (change(&|r| r["build"]["form"] = "new".into()), "is of form \"new\""),
        (change(&|r| r["build"]["form"] = (-1).into()), "is of form -1"),
        (change(&|r| r["version"] = 9.into()), "is of version 9; this rigbinder knows version 1"),
        (change(&|r| r["version"] = u64::MAX.into()), "is of version"),
        (change(&|r| drop(r.as_object_mut().expect("map").remove("version"))), "has no `version`"),
    ];
    fs::write(here.join("mine.toml"), spec("Van", "4 m")).expect("spec");
    for (text, words) in &cases {
        rewrite(&path, text);
        let record = path.to_str().expect("path");
        let commands: [&[&str]; 4] = [
            &["check", "mine.toml", "--out", "out"],
            &["compile", "mine.toml", "--out", "out", "--no-pdf"],
            &["compile", "mine.toml", "--out", "other", "--no-pdf", "--revision-from", record],
            &["compare", record, "mine.toml"],
        ];
        for command in commands {
            ends_with(&rigbinder(&here, command), 2, words);
        }
    }
    rewrite(&path, &whole.to_string());
    ends_with(&rigbinder(&here, &["check", "mine.toml", "--out", "out"]), 0, "compared with released revision A");
}

/// The record of the output itself: what cannot be read counts as none, all is made anew, and that is told.
#[test]
fn an_output_whose_record_cannot_be_read_is_made_anew_and_told() {
    let here = bench("records-output");
    ends_with(&compile(&here, &["--no-pdf"]), 0, "");
    let path = here.join("out/mine/record.json");
    let whole = fs::read_to_string(&path).expect("record");
    for (text, words) in [
        ("{".to_owned(), "out/mine/record.json is no record of a compile"),
        (String::new(), "out/mine/record.json is no record of a compile"),
        (whole.replacen("\"version\": 1", "\"version\": 4000", 1), "record.json is of version 4000"),
        (whole.replacen("\"version\": 1,", "", 1), "record.json has no `version`"),
    ] {
        fs::write(&path, &text).expect("record");
        let args = ["compile", "mine.toml", "--out", "out", "--no-pdf"];
        ends_with(&rigbinder(&here, &args), 0, words);
        assert_eq!(fs::read_to_string(&path).expect("record"), whole);
        assert!(!errors(&rigbinder(&here, &args)).contains("made anew"), "told once");
    }
}
