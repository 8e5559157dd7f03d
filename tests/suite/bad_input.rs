//! Bad input on the command line: a clear error each, nothing written, never a panic.

use crate::harness::{errors, folder, names_below, rigbinder, root};
use std::fs;

/// Compiles `bytes`; returns exit code and errors. Checks that nothing was written and nothing panicked.
fn refused(test: &str, bytes: &[u8]) -> (i32, String) {
    let here = folder(test);
    fs::write(here.join("spec.toml"), bytes).expect("spec");
    let output = rigbinder(&here, &["compile", "spec.toml", "--no-pdf", "--message-format", "short"]);
    let said = errors(&output);
    assert!(!said.contains("panicked"), "{test}: {said}");
    assert!(!here.join("docs-out").exists(), "{test} wrote something");
    (output.status.code().expect("exit code"), said)
}

fn weekend() -> String {
    fs::read_to_string(root().join("specs/weekend.toml")).expect("demo")
}

#[test]
fn faults_in_the_text_are_named_with_line_and_column() {
    let fridge = "[build]\ntitle = \"T\"\n[component.fridge]\nkind = \"fridge\"\n";
    let cases: &[(&str, String, &str)] = &[
        ("wrong-unit", format!("{fridge}draw = \"55 kg\"\n"), "quantity-unreadable"),
        ("missing-unit", format!("{fridge}draw = \"55\"\n"), "quantity-unreadable"),
        ("bare-number", format!("{fridge}draw = 55\n"), "bare-number"),
        ("duplicate-key", format!("{fridge}draw = \"55 W\"\ndraw = \"60 W\"\n"), "duplicate-key"),
        ("unknown-kind", "[build]\ntitle = \"T\"\n[component.f]\nkind = \"frigde\"\n".into(), "unknown-kind"),
        ("dangling", format!("{fridge}fed_from = \"house-pannel\"\n"), "unknown-component"),
        ("nan", format!("{fridge}draw = nan\n"), "quantity-unreadable"),
        ("nan-text", format!("{fridge}draw = \"NaN W\"\n"), "quantity-unreadable"),
        ("huge", format!("{fridge}draw = \"1e308 W\"\n"), "quantity-unreadable"),
        ("negative-length", format!("{fridge}run = \"-4 m\"\n"), "out-of-bounds"),
        ("no-key", format!("{fridge}draw \"55 W\"\n"), "toml-syntax"),
        ("unknown-field", format!("{fridge}dwar = \"55 W\"\n"), "unknown-field"),
        ("path-id", "[build]\ntitle = \"T\"\n[component.\"../../etc\"]\nkind = \"fridge\"\n".into(), "id-not-plain"),
    ];
    for (test, text, name) in cases {
        let (code, errors) = refused(&format!("bad-{test}"), text.as_bytes());
        assert_eq!(code, 1, "{test}: {errors}");
        assert!(errors.contains(name), "{test} does not say {name}: {errors}");
        assert!(errors.contains("spec.toml:"), "{test} names no line: {errors}");
    }
}

/// What a line holds that cannot be read is not missing; nor is anything said of a build that is not known.
#[test]
fn a_line_that_cannot_be_read_is_told_first_and_alone() {
    let here = folder("bad-alone");
    for (from, to) in
        [("handover = 2027-04-09", "handover = 2027-4-9"), ("title    = \"Weekend\"", "title    = \"Weekend")]
    {
        fs::write(here.join("spec.toml"), weekend().replacen(from, to, 1)).expect("spec");
        let output = rigbinder(&here, &["check", "spec.toml", "--message-format", "short"]);
        let told = errors(&output);
        assert_eq!((output.status.code(), told.lines().count()), (Some(1), 2), "{told}");
        assert!(
            told.ends_with("1 error; 1 line cannot be read, and the build is checked once every line can\n"),
            "{told}"
        );
        let gate = rigbinder(&here, &["check", "spec.toml", "--for", "handover"]);
        assert_eq!(gate.status.code(), Some(1));
        assert!(!String::from_utf8_lossy(&gate.stdout).contains("[recorded"), "{gate:?}");
    }
    let both = weekend().replacen("people          = 2", "poeple          = 2", 1).replacen(
        "[component.solar]",
        "[component.solar",
        1,
    );
    let both = both.replacen("power = \"160 W\"", "power = \"160 W", 1);
    fs::write(here.join("spec.toml"), both).expect("spec");
    let told = errors(&rigbinder(&here, &["check", "spec.toml", "--message-format", "short"]));
    let names: Vec<&str> = told.lines().map(|l| if l.contains("toml-syntax") { "form" } else { "other" }).collect();
    assert_eq!(names[..3], ["form", "form", "other"], "{told}");
}

#[test]
fn loops_in_feeding_are_reported_whole() {
    let text = "[build]\ntitle = \"T\"\n[component.a]\nkind = \"fuse-panel\"\nfed_from = \"b\"\n\
                [component.b]\nkind = \"sub-panel\"\nfed_from = \"c\"\n[component.c]\nkind = \"sub-panel\"\nfed_from = \"a\"\n";
    let (code, errors) = refused("bad-loop", text.as_bytes());
    assert_eq!(code, 1);
    assert!(errors.contains("feeding-loop"), "{errors}");
    for id in ["a", "b", "c"] {
        assert!(errors.contains(id), "{errors}");
    }
}

#[test]
fn bytes_that_are_no_spec_are_refused() {
    let deep = "a = ".to_owned() + &"[".repeat(5 << 20) + &"]".repeat(5 << 20);
    let cases: &[(&str, Vec<u8>)] = &[
        ("deep", deep.into_bytes()),
        ("utf8", b"[build]\ntitle = \"\xff\xfe\"\n".to_vec()),
        ("empty", Vec::new()),
        ("blank", b"\n\n  # only a comment\n".to_vec()),
        ("binary", (0..=255).collect()),
    ];
    for (test, bytes) in cases {
        let (code, errors) = refused(&format!("bytes-{test}"), bytes);
        assert_eq!(code, 1, "{test}: {}", errors.chars().take(400).collect::<String>());
        assert!(!errors.is_empty() && errors.len() < 20_000, "{test}: {} bytes of errors", errors.len());
    }
}

#[test]
fn byte_order_mark_and_windows_line_ends_change_nothing() {
    let here = folder("bom-crlf");
    let text = weekend();
    fs::write(here.join("weekend.toml"), &text).expect("spec");
    fs::create_dir(here.join("crlf")).expect("folder");
    fs::write(here.join("crlf/weekend.toml"), format!("\u{feff}{}", text.replace('\n', "\r\n"))).expect("spec");
    for (spec, out) in [("weekend.toml", "plain"), ("crlf/weekend.toml", "windows")] {
        let output = rigbinder(&here, &["compile", spec, "--no-pdf", "--out", out]);
        assert_eq!(output.status.code(), Some(0), "{}", errors(&output));
    }
    for name in names_below(&here.join("plain/weekend")) {
        let [plain, windows] =
            ["plain", "windows"].map(|o| fs::read(here.join(o).join("weekend").join(&name)).expect("file"));
        assert!(plain == windows, "{name} differs");
    }
}

#[test]
fn paths_that_cannot_be_used_are_told() {
    let here = folder("bad-paths");
    fs::write(here.join("spec.toml"), weekend()).expect("spec");
    fs::write(here.join("a-file"), "x").expect("file");
    for (args, word) in [
        (vec!["check", "."], "folder"),
        (vec!["check", "absent.toml"], "cannot read"),
        (vec!["compile", "spec.toml", "--no-pdf", "--out", "a-file"], "a-file"),
        (vec!["compile", "spec.toml", "--stage", "nowhere"], "no stage"),
        (vec!["explain", "fuse-above-conducter"], "fuse-above-conductor"),
        (vec!["kinds", "qqqq"], "there is no kind"),
        (vec!["new", "spec.toml"], "cannot make"),
    ] {
        let output = rigbinder(&here, &args);
        assert_eq!(output.status.code(), Some(2), "{args:?}: {}", errors(&output));
        assert!(errors(&output).contains(word), "{args:?}: {}", errors(&output));
    }
    assert_eq!(fs::read_to_string(here.join("a-file")).expect("file"), "x");
    assert_eq!(fs::read_to_string(here.join("spec.toml")).expect("spec"), weekend());
}

#[cfg(unix)]
#[test]
fn an_output_folder_that_cannot_be_written_keeps_what_was_there() {
    let here = folder("bad-output");
    fs::write(here.join("spec.toml"), weekend()).expect("spec");
    fs::create_dir_all(here.join("docs-out")).expect("folder");
    fs::write(here.join("docs-out/spec"), "mine").expect("file");
    let output = rigbinder(&here, &["compile", "spec.toml", "--no-pdf"]);
    assert_eq!(output.status.code(), Some(2), "{}", errors(&output));
    assert_eq!(fs::read_to_string(here.join("docs-out/spec")).expect("file"), "mine");
    assert_eq!(fs::read_dir(here.join("docs-out")).expect("folder").count(), 1, "left-overs");
}
