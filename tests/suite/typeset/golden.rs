//! Every construct as Typst and HTML, compared with files. `UPDATE=1 cargo test` writes them anew; review the difference.

use std::fs;
use std::path::{Path, PathBuf};

use rigbinder::typeset::{self, Paper};

use super::{pictures, setup};

/// The folder with the cases.
pub(crate) fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/suite/typeset/cases")
}

/// Names of the cases, in order.
pub(crate) fn names() -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(folder())
        .expect("cases")
        .filter_map(|entry| {
            let name = entry.expect("entry").file_name().into_string().expect("name");
            name.strip_suffix(".md").map(str::to_owned)
        })
        .collect();
    names.sort();
    names
}

/// The part of the page that comes from the document.
fn main_part(html: &str) -> &str {
    let start = html.find("<body").expect("body");
    let end = html.find("<script>").expect("end of text");
    &html[start..end]
}

fn compare(path: &Path, text: &str, wrong: &mut Vec<String>) {
    let old = fs::read_to_string(path).unwrap_or_default();
    if old == text {
        return;
    }
    if std::env::var_os("UPDATE").is_some() {
        fs::write(path, text).expect("writes");
        return;
    }
    let line = old.lines().zip(text.lines()).position(|(a, b)| a != b).map_or(0, |i| i + 1);
    wrong.push(format!("{}:{line} differs", path.display()));
}

#[test]
fn constructs_are_written_as_agreed() {
    let names = names();
    assert!(names.len() >= 7, "cases are missing: {names:?}");
    let mut wrong = Vec::new();
    for name in names {
        let source = fs::read_to_string(folder().join(format!("{name}.md"))).expect("case");
        let document = typeset::parse(&source).unwrap_or_else(|e| panic!("{name}: {e:?}"));
        let setup = setup(Paper::A4);
        let typst = typeset::to_typst(&document, &setup, &pictures()).expect("writes");
        assert_eq!(typst.warnings, Vec::<String>::new(), "{name}");
        let (errors, _) = typst_syntax::parse(&typst.text).errors_and_warnings();
        assert!(errors.is_empty(), "{name}: {errors:?}");
        let html = typeset::to_html(&document, &setup, &pictures()).expect("writes");
        compare(&folder().join(format!("{name}.typ")), &typst.text, &mut wrong);
        compare(&folder().join(format!("{name}.html")), main_part(&html), &mut wrong);
    }
    assert!(wrong.is_empty(), "{wrong:#?}\nUPDATE=1 writes them anew");
}

#[test]
fn pages_need_nothing_from_outside() {
    for name in names() {
        let source = fs::read_to_string(folder().join(format!("{name}.md"))).expect("case");
        let document = typeset::parse(&source).expect("parses");
        let html = typeset::to_html(&document, &setup(Paper::A4), &pictures()).expect("writes");
        assert_eq!(html.matches("<script").count(), 1, "{name}: the search is the only script");
        for forbidden in ["<link", "src=\"http", "url(", "@import"] {
            assert!(!html.contains(forbidden), "{name}: {forbidden}");
        }
    }
}

#[test]
fn links_to_other_documents_are_reported() {
    let source = "# T\n\nSee [a](owners-manual.md#water) and [b](upkeep.ics).\n";
    let document = typeset::parse(source).expect("parses");
    assert_eq!(
        document.outside_links(),
        [("owners-manual.md".to_owned(), Some("water".to_owned())), ("upkeep.ics".to_owned(), None)]
    );
}

#[test]
fn front_matter_values_are_read_back_as_typed() {
    let source = "+++\ntitle = \"A \\*b\\* &#92; \\# \"c\" &amp; d_e\"\n+++\n\ntext\n";
    let document = typeset::parse(source).expect("parses");
    assert_eq!(document.meta.title, "A *b* \\ # \"c\" & d_e");
    assert_eq!(document.meta.document, document.meta.title);
}
