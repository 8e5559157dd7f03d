//! Faults of a Markdown document, each with the line it stands on.

use rigbinder::typeset::{self, Paper, Pictures};

use super::setup;

/// Markdown behind `# T` and an empty line, the line of the fault (0: the whole document), words of the message.
const FAULTS: &[(&str, usize, &str)] = &[
    ("a <b>bold</b>", 3, "raw HTML"),
    ("<div>x</div>", 3, "raw HTML"),
    ("<!-- pagebreak -->", 3, "unknown directive"),
    ("- a\n\n  <!-- page -->", 5, "not allowed inside lists"),
    ("<!-- portrait -->", 3, "nothing is open"),
    ("<!-- keep -->\n\na", 3, "never closed"),
    ("<!-- keep -->\n\n<!-- portrait -->\n\na\n\n<!-- /keep -->", 5, "nothing is open"),
    ("<!-- columns -->\n\na", 3, "never closed"),
    ("<!-- widths: 1 -->\n\na", 6, "without a table"),
    ("> [!HAZARD]\n> a", 3, "no known callout"),
    ("> [!WARNING] at once\n> a", 3, "no known callout"),
    ("> [!DANGER]", 3, "without text"),
    ("[a](#nosuch)", 3, "`#nosuch`, which does not exist"),
    ("## A {#a}\n\n## B {#a}", 5, "`a` is given twice"),
    ("<a id=\"a\"></a>x\n\n## B {#a}", 5, "`a` is given twice"),
    ("[a](javascript:alert(1))", 3, "is not allowed"),
    ("[a](../../etc/passwd)", 3, "is not allowed"),
    ("[](#a)\n\n## A {#a}", 3, "has no text"),
    ("text[^a]", 3, "`a` is not defined"),
    ("[^a]: text", 3, "`a` is never referred to"),
    ("![](water.svg)", 3, "no alternative text"),
    ("text ![a](water.svg)", 3, "must stand alone"),
    ("## A\n\n#### B", 5, "skips from level 1 to level 3"),
    ("##\n\ntext", 3, "heading without text"),
    ("| a | b |\n| --- | --- |\n| 1 | 2 | 3 |", 5, "3 cells under a head of 2"),
    ("| a | b |\n| --- | --- |\n| 1 |", 5, "1 cells under a head of 2"),
    ("| a[^n] |\n| --- |\n| 1 |\n\n[^n]: x", 3, "footnote cannot stand in the head"),
    ("<!-- widths: 1 2 -->\n\n| a |\n| --- |\n| 1 |", 5, "2 widths for a table of 1"),
    ("<!-- widths: wide -->\n\n| a |\n| --- |\n| 1 |", 3, "`wide` is no width"),
];

#[test]
fn faults_are_found_where_they_are() {
    for (text, line, words) in FAULTS {
        let source = format!("# T\n\n{text}\n");
        let errors = typeset::parse(&source).expect_err(text);
        assert!(
            errors.iter().any(|e| e.line == *line && e.message.contains(words)),
            "{text:?} should give line {line}: {words:?}, gave {errors:?}"
        );
    }
}

#[test]
fn several_faults_are_found_at_once() {
    let errors = typeset::parse("text <b>\n\n> [!X]\n> a\n").expect_err("three faults");
    assert_eq!(errors.len(), 3, "{errors:?}");
    assert!(errors.iter().any(|e| e.message.contains("no title")));
}

#[test]
fn front_matter_is_checked() {
    let errors = typeset::parse("+++\ntitel = \"x\"\n+++\n\n# T\n").expect_err("unknown key");
    assert_eq!((errors[0].line, errors[0].message.contains("`titel`")), (2, true));
    let errors = typeset::parse("+++\nmono = \"perhaps\"\n+++\n\n# T\n").expect_err("no switch");
    assert!(errors[0].message.contains("must be yes or no"));
}

#[test]
fn a_missing_picture_is_an_error_of_both_writers() {
    let document = typeset::parse("# T\n\n![a pump](pump.svg)\n").expect("parses");
    let setup = setup(Paper::A4);
    let typst = typeset::to_typst(&document, &setup, &Pictures::new()).expect_err("no picture");
    let html = typeset::to_html(&document, &setup, &Pictures::new()).expect_err("no picture");
    assert!(typst[0].message.contains("pump.svg") && html == typst);
}

#[test]
fn a_table_that_cannot_fit_is_reported() {
    let head: Vec<String> = (0..14).map(|i| format!("Considerable{i}")).collect();
    let row = vec!["unbreakableword"; 14];
    let source = format!("# T\n\n| {} |\n|{}\n| {} |\n", head.join(" | "), " --- |".repeat(14), row.join(" | "));
    let document = typeset::parse(&source).expect("parses");
    let typst = typeset::to_typst(&document, &setup(Paper::A4), &Pictures::new()).expect("writes");
    assert!(typst.warnings.iter().any(|w| w.contains("too wide")), "{:?}", typst.warnings);
}
