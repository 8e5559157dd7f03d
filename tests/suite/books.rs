//! The two books: the owner's holds what an owner uses, the service file what who works on the van later needs, and each
//! says a thing once.

use crate::harness::{demos, load, root, stem};
use rigbinder::pipeline::{self, Only, Sheet};
use rigbinder::typeset::tree::plain_text;
use rigbinder::typeset::{self, Block};
use std::collections::{BTreeMap, BTreeSet};

/// A paragraph of fewer words may stand twice: "Where: garage." is a fact of each of two parts.
const WORDS: usize = 14;

/// What is printed on the leaves of a book: its front and what it binds.
fn leaves<'s>(book: &'s Sheet, all: &'s [Sheet]) -> impl Iterator<Item = &'s Sheet> {
    all.iter().filter(move |s| s.stem == book.stem || book.binds.contains(&s.stem))
}

/// The words of a text with its numbers and places blanked.
fn blanked(text: &str, names: &BTreeSet<String>) -> String {
    let mut text = text.to_owned();
    for name in names {
        text = text.replace(name.as_str(), "#");
    }
    let word = |w: &str| if w.contains(|c: char| c.is_ascii_digit()) { "#".to_owned() } else { w.to_owned() };
    text.split_whitespace().map(word).collect::<Vec<_>>().join(" ")
}

/// Every paragraph, procedure and table of a document, by its words. Safety messages stand before each step that can hurt,
/// and what is ticked stands where it is ticked: they are not told. Items and steps are facts
/// of a thing each, and figures are what a table tells: both are compared as they stand.
fn told(blocks: &[Block], blank: &dyn Fn(&str) -> String, found: &mut Vec<String>) {
    for block in blocks {
        match block {
            Block::Paragraph(line) => found.push(blank(&plain_text(line))),
            Block::List(list) if list.items.iter().all(|item| item.tick.is_none()) => {
                let mut items = Vec::new();
                list.items.iter().for_each(|item| told(&item.body, &str::to_owned, &mut items));
                // Steps are one procedure, other items stand for themselves.
                if list.start.is_some() { found.push(items.join(" ")) } else { found.extend(items) }
            }
            Block::Table(table) if !table.is_form() => {
                let cells = table.rows.iter().flatten().map(|cell| plain_text(cell));
                found.push(cells.collect::<Vec<_>>().join(" "));
            }
            Block::Landscape(body) | Block::Keep(body) | Block::Columns(body) | Block::Narrow(body) => {
                told(body, blank, found);
            }
            _ => {}
        }
    }
}

#[test]
fn a_book_says_a_thing_once() {
    let (mut faults, mut read) = (Vec::new(), 0);
    for demo in demos() {
        let (path, made) = (&demo.path, &demo.sheets);
        let spec = demo.worked.build.spec;
        let names: BTreeSet<String> = spec.places.values().filter_map(|p| p.text("about").map(str::to_owned)).collect();
        for book in made.iter().filter(|s| !s.binds.is_empty()) {
            let mut places: BTreeMap<String, Vec<&str>> = BTreeMap::new();
            for leaf in leaves(book, made) {
                let mut found = Vec::new();
                let blank = |text: &str| blanked(text, &names);
                told(&typeset::parse(&leaf.markdown).expect("parsed").blocks, &blank, &mut found);
                for words in found {
                    if words.split(' ').filter(|w| w.chars().any(char::is_alphabetic)).count() >= WORDS {
                        read += 1;
                        places.entry(words).or_default().push(&leaf.stem);
                    }
                }
            }
            let twice = places.into_iter().filter(|(_, at)| at.len() > 1);
            faults.extend(twice.map(|(words, at)| format!("{} {} {at:?}: {words}", stem(path), book.stem)));
        }
    }
    assert!(read > 3_000, "{read} texts read");
    assert!(faults.is_empty(), "{} of {read}\n{}", faults.len(), faults.join("\n"));
}

/// What an owner has no use for: prices, cut lists, ends of conductors, sheets of stages.
#[test]
fn the_owner_is_told_nothing_of_the_shop() {
    let mut faults = Vec::new();
    for demo in demos() {
        let (path, made) = (&demo.path, &demo.sheets);
        let book = made.iter().find(|s| s.stem == "handover-binder").expect("binder");
        for leaf in leaves(book, made) {
            for (number, line) in leaf.markdown.lines().enumerate() {
                let shops = ["Supplier", "Purchase", "Cable cut", "price", "Nothing given yet", ".jpg", "stage-"];
                for word in shops.iter().filter(|word| line.contains(**word)) {
                    faults.push(format!("{} {}:{}: {word}: {line}", stem(path), leaf.stem, number + 1));
                }
            }
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

/// A book that is asked for alone comes with what it binds: on a screen its links lead there.
#[test]
fn a_book_alone_comes_with_what_it_binds() {
    let loaded = load(&root().join("specs/weekend.toml"));
    let worked = pipeline::work_out(&loaded).expect("profile");
    let only = Only { documents: vec!["binder".to_owned()], stages: Vec::new() };
    let made = pipeline::sheets(&worked, &only).expect("documents");
    let stems: Vec<&str> = made.iter().map(|s| s.stem.as_str()).collect();
    assert_eq!(stems, ["maintenance-calendar", "owners-manual", "handover-binder"]);
    let book = &made[2];
    assert!(book.binds.iter().all(|stem| stems.contains(&stem.as_str())), "{:?}", book.binds);
    // What a link leads to beyond that is told by the command.
    let beyond: BTreeSet<&str> = made.iter().flat_map(Sheet::leads_to).filter(|stem| !stems.contains(stem)).collect();
    assert_eq!(beyond, BTreeSet::from(["service-file"]));
}

/// Whoever looks for a thing finds it in one of the two: every document but packets and labels is bound, and every piece
/// of upkeep has its steps.
#[test]
fn the_two_books_hold_all_there_is() {
    for demo in demos() {
        let (path, made) = (&demo.path, &demo.sheets);
        let bound: BTreeSet<&String> = made.iter().flat_map(|s| &s.binds).collect();
        let loose: Vec<&str> = made
            .iter()
            .filter(|s| s.binds.is_empty() && !bound.contains(&s.stem))
            .map(|s| s.stem.as_str())
            .filter(|stem| !stem.starts_with("packet-") && *stem != "labels")
            .collect();
        assert_eq!(loose, [""; 0], "{}", stem(path));
    }
}
