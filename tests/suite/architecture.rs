//! Holds the import law, the size of files and the lists that must match folders.

use crate::harness::root;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// Rooms of the house by layer. A room may import rooms of lower layers; its siblings only where said below.
const LAYERS: &[(&str, u8)] = &[
    ("units", 0),
    ("source", 0),
    ("assets", 0),
    ("parallel", 0),
    ("files", 0),
    ("letters", 0),
    ("fields", 1),
    ("diag", 1),
    ("tables", 1),
    ("render", 1),
    ("typeset", 1),
    ("typst_cli", 1),
    ("spreadsheet", 1),
    ("spec", 2),
    ("kinds", 2),
    ("build", 3),
    ("compute", 4),
    ("checks", 5),
    ("documents", 5),
    ("drawings", 5),
    ("publish", 5),
    ("pipeline", 6),
    ("cli", 7),
];

/// These see views and text, never the build.
const TEXT_ONLY: &[&str] = &["render", "typeset", "typst_cli", "publish", "spreadsheet"];

fn sources(folder: &Path, into: &mut Vec<PathBuf>) {
    for entry in std::fs::read_dir(folder).expect("folder") {
        let path = entry.expect("entry").path();
        if path.is_dir() {
            sources(&path, into);
        } else if path.extension().is_some_and(|e| e == "rs") {
            into.push(path);
        }
    }
}

fn all_sources() -> Vec<PathBuf> {
    let mut files = Vec::new();
    sources(&root().join("src"), &mut files);
    files.sort();
    files
}

/// Room of a source file: the folder or file right below `src`.
fn room(path: &Path) -> String {
    let inside = path.strip_prefix(root().join("src")).expect("in src");
    let first = inside.components().next().expect("name").as_os_str().to_string_lossy().into_owned();
    first.trim_end_matches(".rs").to_owned()
}

/// Rooms that a source text names by `crate::room`, brace imports included.
fn imports(text: &str) -> Vec<String> {
    let mut rooms = Vec::new();
    for (at, _) in text.match_indices("crate::") {
        let rest = &text[at + "crate::".len()..];
        if let Some(list) = rest.strip_prefix('{') {
            let list = &list[..list.find(';').unwrap_or(list.len())];
            let mut depth = 0;
            let mut word = String::new();
            for c in list.chars() {
                match c {
                    '{' => depth += 1,
                    '}' if depth == 0 => break,
                    '}' => depth -= 1,
                    ',' if depth == 0 => rooms.push(std::mem::take(&mut word)),
                    c => word.push(c),
                }
            }
            rooms.push(word);
        } else {
            rooms.push(rest.to_owned());
        }
    }
    let name = |text: &String| text.trim().chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect::<String>();
    rooms.iter().map(name).filter(|n| !n.is_empty()).collect()
}

#[test]
fn imports_go_down_only() {
    let layers: BTreeMap<&str, u8> = LAYERS.iter().copied().collect();
    let mut faults = Vec::new();
    for path in all_sources() {
        let own = room(&path);
        if ["lib", "main", "rerun"].contains(&own.as_str()) {
            continue;
        }
        let text = std::fs::read_to_string(&path).expect("source");
        let layer = *layers.get(own.as_str()).unwrap_or_else(|| panic!("{own} has no layer in this test"));
        for import in imports(&text).into_iter().filter(|i| *i != own) {
            let Some(other) = layers.get(import.as_str()) else { continue };
            let text_only = TEXT_ONLY.contains(&own.as_str());
            // How Markdown is read has one home, which escaping must agree with.
            let parser = own == "render" && import == "typeset";
            if (*other >= layer || text_only && *other > 0) && !parser {
                faults.push(format!("{} imports {import}", path.display()));
            }
        }
        if text.contains("super::super::") {
            faults.push(format!("{} climbs with super::super", path.display()));
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn the_import_reader_sees_planted_imports() {
    let planted =
        "use crate::{checks::dc, units::{Amps, Volts}, cli};\nuse crate::pipeline;\nfn f() { crate::build::x() }";
    assert_eq!(imports(planted), ["checks", "units", "cli", "pipeline", "build"]);
}

#[test]
fn files_stay_small_and_say_what_they_are_for() {
    for path in all_sources() {
        let text = std::fs::read_to_string(&path).expect("source");
        assert!(text.starts_with("//!"), "{} does not say what it is for", path.display());
        assert!(text.lines().count() <= 500, "{} has more than 500 lines", path.display());
    }
}

#[test]
fn only_the_command_line_prints_and_looks_around() {
    for path in all_sources() {
        let own = room(&path);
        let text = std::fs::read_to_string(&path).expect("source");
        let code = text.split("#[cfg(test)]").next().unwrap_or("");
        for banned in ["println!", "eprintln!", "dbg!(", "SystemTime::now", "Local::now", "std::env::var", "env::args"]
        {
            assert!(
                ["cli", "main", "rerun"].contains(&own.as_str()) || !code.contains(banned),
                "{} uses {banned}",
                path.display()
            );
        }
    }
}

/// Each check is one file, named for the fault, with one line in its group's list.
#[test]
fn every_check_is_listed_under_the_name_of_its_file() {
    for (group, checks) in rigbinder::checks::GROUPS {
        let mut listed: Vec<_> = checks.iter().map(|c| c.doc.name.to_owned()).collect();
        listed.sort();
        let folder = format!("src/checks/{group}");
        let mut files: Vec<_> = crate::harness::files(&folder, "rs")
            .iter()
            // What several checks of a group share stands beside them and holds no check of its own.
            .filter(|p| std::fs::read_to_string(p).expect("source").contains("static CHECK: Check"))
            .map(|p| crate::harness::stem(p).replace('_', "-"))
            .collect();
        files.sort();
        assert_eq!(listed, files, "group {group}");
    }
}

#[test]
fn names_of_findings_are_faults_and_unique() {
    let docs = rigbinder::pipeline::finding_docs();
    assert!(docs.windows(2).all(|w| w[0].name != w[1].name), "two findings share a name");
    for doc in &docs {
        let plain = doc.name.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-');
        assert!(plain, "{} is not kebab-case", doc.name);
        for start in ["check-", "validate-", "must-", "avoid-", "use-", "prefer-"] {
            assert!(!doc.name.starts_with(start), "{} is not the name of a fault", doc.name);
        }
        assert!(!doc.what.is_empty() && !doc.why.is_empty(), "{} is not explained", doc.name);
    }
}

#[test]
fn no_template_opens_the_escaping() {
    for folder in ["templates/documents", "templates/partials", "templates/kinds"] {
        if !root().join(folder).is_dir() {
            continue;
        }
        for path in crate::harness::files(folder, "md").into_iter().chain(crate::harness::files(folder, "toml")) {
            let text = std::fs::read_to_string(&path).expect("template");
            assert!(!text.contains("| safe") && !text.contains("|safe"), "{} opens the escaping", path.display());
        }
    }
}

/// A caption stands in quotes: a name with one in it would end it, and with it the picture.
#[test]
fn every_caption_of_a_picture_is_escaped_as_one() {
    let mut captions = 0;
    for path in crate::harness::files("templates/documents", "md") {
        let text = std::fs::read_to_string(&path).expect("template");
        for line in text.lines().filter(|line| line.contains("![")) {
            for value in line.split("\"{{").skip(1) {
                let value = value.split("}}").next().unwrap_or_default();
                assert!(value.trim().ends_with("| caption"), "{}: {line}", path.display());
                captions += 1;
            }
        }
    }
    assert!(captions > 5, "only {captions} captions were found");
}
