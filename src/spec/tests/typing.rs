//! A line typed half-way, or with a slip of one sign: the place, the words, and a mend that mends.

use super::{mended, places, read_text, starter};
use crate::diag::Finding;
use crate::source::SourceFile;

/// Lines before the faulty one, which is the fourth.
const HEAD: &str = "[build]\ntitle = \"T\"\n[component.a]\n";
const TAIL: &str = "\nkind = \"sink\"\n";

/// The faulty line, the column of its finding, a part of the headline, and the line mended; empty where there is
/// nothing to propose.
const SLIPS: &[(&str, usize, &str, &str)] = &[
    ("note = \"abc", 8, "the text of `note` is not closed", "note = \"abc\""),
    ("note = 'abc", 8, "the text of `note` is not closed", "note = 'abc'"),
    ("note = \"abc  # remark", 8, "is not closed", "note = \"abc\"  # remark"),
    ("note = \"\"\"abc", 8, "is not closed", "note = \"\"\"abc\"\"\""),
    ("note = \"\"\"abc\"", 8, "is not closed", "note = \"\"\"abc\"\"\""),
    ("note = \"\"\"abc\"\"", 8, "is not closed", "note = \"\"\"abc\"\"\""),
    ("note = '''abc", 8, "is not closed", "note = '''abc'''"),
    ("note = abc\"", 8, "lacks its first quote", "note = \"abc\""),
    ("note = \"abc\"\"", 13, "a quote too many", "note = \"abc\""),
    ("note = \"a\"bc\"", 10, "a quote too many", "note = \"a\\\"bc\""),
    ("note = \u{201c}abc\u{201d}", 8, "quotes of `note` are curly", "note = \"abc\""),
    ("note = \u{201e}ab, c\u{201c}", 8, "are curly", "note = \"ab, c\""),
    ("note = \"abc\u{201d}", 8, "is not closed", "note = \"abc\""),
    ("note \"abc\"", 5, "`note` needs a `=`", "note = \"abc\""),
    ("note == \"abc\"", 7, "a second `=`", "note = \"abc\""),
    ("note := \"abc\"", 6, "another sign", "note = \"abc\""),
    ("note: \"abc\"", 5, "a `:` where a `=` must stand", "note = \"abc\""),
    ("note =", 6, "`note` has no value", ""),
    ("note", 1, "`note` has no value", ""),
    ("= \"abc\"", 1, "no name before the `=`", ""),
    ("note = abc", 8, "must stand in quotes", "note = \"abc\""),
    ("due = …", 7, "`due` is not filled in", ""),
    ("due = ____", 7, "`due` is not filled in", ""),
    ("note = \"abc\";", 13, "something follows", "note = \"abc\""),
    ("note = \"abc\" // remark", 14, "something follows", "note = \"abc\" # remark"),
    ("// remark", 1, "neither a header nor", "# remark"),
    ("note = \"C:\\van\"", 11, "a backslash", "note = 'C:\\van'"),
    ("note = \"a\u{7}b\"", 10, "control character", "note = \"ab\""),
    ("note\u{a0}= \"abc\"", 1, "no plain one", "note= \"abc\""),
    ("the note = \"abc\"", 1, "a name has no blanks", "the_note = \"abc\""),
    ("mass = \"3\" kg", 12, "stands behind the quotes", "mass = \"3 kg\""),
    ("mass = 3 kg", 8, "must stand in quotes", "mass = \"3 kg\""),
    ("mass = 3,5 kg", 8, "decimals follow a point", "mass = \"3.5 kg\""),
    ("count = 02", 9, "number of `count`", "count = 2"),
    ("count = Yes", 9, "true or false", "count = true"),
    ("due = 14.5.2027", 7, "the date of `due`", "due = 2027-05-14"),
    ("due = 14 May 2027", 7, "the date of `due`", "due = 2027-05-14"),
    ("due = 2027-5-14", 7, "the date of `due`", "due = 2027-05-14"),
    ("due = 05/14/2027", 7, "the date of `due`", "due = 2027-05-14"),
    ("due = 05/06/2027", 7, "the date of `due`", ""),
    ("due = 2027-02-30", 7, "the date of `due`", ""),
    ("due = 2027-05", 7, "the date of `due`", ""),
    ("through = [\"a\", \"b\"", 11, "the list of `through` is not closed", "through = [\"a\", \"b\"]"),
    ("through = [\"a\", \"b\")", 20, "another bracket", "through = [\"a\", \"b\"]"),
    ("through = [\"a\" \"b\"]", 15, "a comma is missing", "through = [\"a\", \"b\"]"),
    ("through = [\"a\"; \"b\"]", 15, "a `;` where a comma", "through = [\"a\", \"b\"]"),
    ("through = [\"a, \"b\"]", 12, "is not closed", "through = [\"a\", \"b\"]"),
    ("through = [\"a\", \"b]", 17, "is not closed", "through = [\"a\", \"b\"]"),
    ("through = [\"a\", \"b", 17, "is not closed", "through = [\"a\", \"b\"]"),
    ("through = [\"a\",, \"b\"]", 16, "a comma too many", "through = [\"a\", \"b\"]"),
    ("through = \"a\", \"b\"]", 11, "lacks its brackets", "through = [\"a\", \"b\"]"),
    ("through = \"a\", \"b\"", 11, "lacks its brackets", "through = [\"a\", \"b\"]"),
    ("through = [\"a\"]]", 16, "something follows", "through = [\"a\"]"),
    ("at = { x = 1, y = 2", 6, "the table of `at` is not closed", "at = { x = 1, y = 2 }"),
    ("at = { x = 1 y = 2 }", 13, "a comma is missing in `at`", "at = { x = 1, y = 2 }"),
    ("at = { x: 1, y = 2 }", 9, "a `:` where a `=`", "at = { x = 1, y = 2 }"),
    ("at = { x = 1, y = [2, 3 }", 19, "the list of `at.y` is not closed", "at = { x = 1, y = [2, 3] }"),
    ("at = { x = 1, y = 2 ]", 21, "opens with { and closes with ]", "at = { x = 1, y = 2 }"),
    ("at = { x = 1,5 }", 12, "decimals follow a point", "at = { x = 1.5 }"),
    ("at = { x = \"a, y = \"b\" }", 12, "is not closed", "at = { x = \"a\", y = \"b\" }"),
    ("at = { x = , y = 2 }", 10, "`at.x` has no value", ""),
    ("place.galley]", 1, "does not begin with `[`", "[place.galley]"),
    ("[place.galley", 1, "not closed with `]`", "[place.galley]"),
    ("[place.galley)", 1, "not closed with `]`", "[place.galley]"),
    ("[[place.galley]", 1, "cannot be read", "[place.galley]"),
    ("[place,galley]", 1, "cannot be read", "[place.galley]"),
    ("[place..galley]", 1, "cannot be read", "[place.galley]"),
    ("[place.the galley]", 1, "cannot be read", "[place.the-galley]"),
];

#[test]
fn a_slip_of_one_sign_is_told_at_its_place_and_the_mend_is_the_line_that_was_meant() {
    let mut wrong = Vec::new();
    for (slip, column, words, meant) in SLIPS {
        for ends in ["\n", "\r\n"] {
            let text = format!("{HEAD}{slip}{TAIL}").replace('\n', ends);
            let (file, _, findings) = read_text(&text);
            let here = |f: &&Finding| f.span.is_some_and(|s| file.position(s.start).0 == 4);
            let told = findings.iter().find(here);
            let place = told.and_then(|f| f.span).map(|s| file.position(s.start));
            let headline = told.map_or("nothing", |f| f.headline.as_str());
            let mended = told.and_then(|f| mended(&text, f));
            let line = mended.as_deref().and_then(|m| m.lines().nth(3)).unwrap_or("");
            if place != Some((4, *column)) || !headline.contains(words) || line != *meant {
                wrong.push(format!("{slip}\n  {place:?} {headline}\n  {line}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Each slip alone in a whole spec: it is the only thing told, nothing is missing for it, and the mend makes all well.
#[test]
fn a_slip_hides_no_section_behind_it() {
    let weekend = weekend();
    for (from, to) in [
        (r#"at = ["-0.30 m", "0 m", "0.30 m"] }"#, r#"at = ["-0.30 m", "0 m", "0.30 m""#),
        (r#"at = ["-0.30 m", "0 m", "0.30 m"] }"#, r#"at = ["-0.30 m", "0 m", "0.30 m" }"#),
        (r#"about = "Engine bay","#, r#"about = "Engine bay,"#),
        (r#"kind = "busbar", fed_from"#, r#"kind = "busbar, fed_from"#),
        ("[component.battery]", "component.battery]"),
        (r#"title    = "Weekend""#, r#"title    = "Weekend"#),
        (r#"title    = "Weekend""#, r#"title    = """Weekend"#),
        (r#"place = "bench", mass = "7 kg" }"#, r#"place = "bench", mass = "7 kg""#),
    ] {
        let text = weekend.replacen(from, to, 1);
        assert_ne!(text, weekend, "{from}");
        assert_eq!(places(&text).len(), 1, "{to}: {:?}", places(&text));
        let (_, _, findings) = read_text(&text);
        let again = mended(&text, &findings[0]).unwrap_or_else(|| panic!("{to}: {findings:?}"));
        assert_eq!(places(&again), Vec::<String>::new(), "{to}: {:?}", findings[0].fix);
    }
}

#[test]
fn lone_carriage_returns_are_told_once() {
    let text = weekend().replace('\n', "\r");
    assert_eq!(places(&text), ["1:107 toml-syntax"]);
}

fn weekend() -> String {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("specs/weekend.toml");
    std::fs::read_to_string(path).expect("demo")
}

/// Every sign of a spec left out, doubled and bent, one at a time: what is proposed takes the fault away.
#[test]
fn whatever_is_proposed_mends() {
    let weekend = weekend();
    let starter: String = starter().lines().take(60).flat_map(|l| [l, "\n"]).collect();
    let mut proposed = 0;
    for text in [weekend.as_str(), &starter] {
        for (at, c) in text.char_indices().filter(|(_, c)| !c.is_alphanumeric() && *c != ' ') {
            let (before, after) = (&text[..at], &text[at + c.len_utf8()..]);
            for instead in ["", &format!("{c}{c}"), "\u{201d}"] {
                proposed += mends(&format!("{before}{instead}{after}"));
            }
        }
    }
    assert!(proposed > 1000, "{proposed}");
}

/// Makes each mend of a syntax fault by itself; returns how many there were.
fn mends(broken: &str) -> usize {
    let (file, _, findings) = read_text(broken);
    let syntax = |all: &[Finding]| all.iter().filter(|f| f.name == "toml-syntax").count();
    let place = |f: &Finding, file: &SourceFile| f.span.map(|s| file.position(s.start));
    let mut proposed = 0;
    for finding in findings.iter().filter(|f| f.name == "toml-syntax") {
        let Some(whole) = mended(broken, finding) else { continue };
        proposed += 1;
        let (after_file, _, after) = read_text(&whole);
        let same = |f: &Finding| f.headline == finding.headline && place(f, &after_file) == place(finding, &file);
        let line = place(finding, &file).map_or("", |(line, _)| broken.lines().nth(line - 1).unwrap_or(""));
        let told = || format!("{line}\n{}\n{:?}\n{after:?}", finding.headline, finding.fix);
        assert!(!after.iter().any(same) && syntax(&after) <= syntax(&findings), "{}", told());
    }
    proposed
}
