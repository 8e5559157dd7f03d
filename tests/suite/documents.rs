//! Holds the table of documents: a row is all that a document needs, and nothing else lists documents.

use crate::harness::{files, root, stem};
use rigbinder::documents::{ALL, Making};
use std::collections::BTreeSet;

/// Demo specs whose documents are committed.
fn demos() -> Vec<String> {
    files("specs", "toml")
        .iter()
        .map(|p| stem(p).to_owned())
        .filter(|name| root().join("docs-out").join(name).is_dir())
        .collect()
}

#[test]
fn every_row_has_a_template_and_every_template_a_row() {
    let named: BTreeSet<String> = ALL.iter().map(|d| d.template.to_owned()).collect();
    let there: BTreeSet<String> = files("templates/documents", "md").iter().map(|p| stem(p).to_owned()).collect();
    assert_eq!(named, there);
}

#[test]
fn every_row_has_a_committed_document_and_every_one_of_those_a_row() {
    let demos = demos();
    assert!(demos.len() >= 3, "{demos:?}");
    let of =
        |demo: &String| files(&format!("docs-out/{demo}"), "md").iter().map(|p| stem(p).to_owned()).collect::<Vec<_>>();
    let there: BTreeSet<String> = demos.iter().flat_map(of).collect();
    for document in ALL {
        // A notice comes of a comparison: what is committed was compared with nothing.
        let compared = matches!(document.making, Making::Compared(_));
        assert_eq!(document.stems().any(|(stem, _)| there.contains(&stem)), !compared, "{}", document.stem);
    }
    for name in there {
        assert!(ALL.iter().any(|d| d.stems().any(|(stem, _)| stem == name)), "{name}.md is of no row");
        assert!(rigbinder::pipeline::is_document(&format!("{name}.html")), "{name}");
    }
}

#[test]
fn each_document_is_asked_for_by_its_word() {
    use clap::CommandFactory;
    let command = rigbinder::cli::Args::command();
    let compile = command.find_subcommand("compile").expect("compile");
    let only = compile.get_arguments().find(|a| a.get_id() == "only").expect("--only");
    let asked: Vec<String> = only.get_possible_values().iter().map(|v| v.get_name().to_owned()).collect();
    let words = ALL.iter().map(|d| d.word).filter(|w| !w.is_empty()).chain(["data"]);
    assert_eq!(asked, words.collect::<Vec<_>>());
}

#[test]
fn names_of_documents_are_told_apart() {
    let words: Vec<&str> = ALL.iter().map(|d| d.word).filter(|w| !w.is_empty()).collect();
    assert_eq!(words.iter().collect::<BTreeSet<_>>().len(), words.len(), "{words:?}");
    let stems: Vec<String> = ALL.iter().flat_map(rigbinder::documents::Document::stems).map(|(stem, _)| stem).collect();
    assert_eq!(stems.iter().collect::<BTreeSet<_>>().len(), stems.len(), "{stems:?}");
}

/// A second list would name file names, templates or words again.
#[test]
fn the_code_names_each_document_once() {
    let mut sources = Vec::new();
    let mut folders = vec![root().join("src")];
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(folder).expect("folder") {
            let path = entry.expect("entry").path();
            if path.is_dir() {
                folders.push(path);
            } else {
                sources.push(std::fs::read_to_string(&path).expect("source"));
            }
        }
    }
    let count = |word: &str| sources.iter().map(|text| text.matches(&format!("\"{word}\"")).count()).sum::<usize>();
    // Words that mean something else as well: a drawing's subject, a folder, what a finding points at.
    let plain = ["labels", "drawings"];
    for document in ALL {
        let names = BTreeSet::from([document.word, document.stem, document.template]);
        let same =
            |name: &str| [document.word, document.stem, document.template].iter().filter(|n| **n == name).count();
        for name in names.into_iter().filter(|name| !name.is_empty() && !plain.contains(name)) {
            assert!((1..=same(name)).contains(&count(name)), "{name} stands {} times in src", count(name));
        }
    }
}
