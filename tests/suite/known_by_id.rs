//! No kind is known by its id: what rigbinder knows of a kind stands in its file, so that a shop's kind can say all of it.

use crate::harness::{built_in, demo_specs, root, sheets, stem};
use rigbinder::catalogue::{Catalogue, Layer};
use rigbinder::kinds::Library;
use rigbinder::{pipeline, roles};
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

/// Stands before the ids of the kinds of another house.
const OTHER: &str = "zz-";

/// A text in which every kind that a key names has the id of the other house.
fn renamed(text: &str) -> String {
    let kind = |line: &str| {
        let mut rest = line;
        let mut new = String::new();
        while let Some(at) = rest.find("kind") {
            let (before, from) = rest.split_at(at);
            let value = from["kind".len()..].trim_start().strip_prefix('=').map(str::trim_start);
            let value = value.and_then(|value| value.strip_prefix('"'));
            let whole = !before.ends_with(|c: char| c.is_alphanumeric() || c == '_' || c == '-');
            let end = match value.filter(|_| whole) {
                Some(value) => from.len() - value.len(),
                None => "kind".len(),
            };
            new += before;
            new += &from[..end];
            new += if value.is_some() && whole { OTHER } else { "" };
            rest = &from[end..];
        }
        new + rest
    };
    text.lines().map(|line| kind(line) + "\n").collect()
}

fn files(folder: &Path, below: &str, into: &mut BTreeMap<String, Vec<u8>>) {
    for entry in fs::read_dir(folder).expect("folder") {
        let path = entry.expect("entry").path();
        let name = format!("{below}{}", path.file_name().expect("name").to_string_lossy());
        if path.is_dir() {
            files(&path, &format!("{name}/"), into);
        } else {
            into.insert(name, fs::read(path).expect("file"));
        }
    }
}

/// The shop's folder of the demo specs with every kind, its own and the built-in ones, under another id.
fn other_house() -> Catalogue {
    let house = crate::harness::house();
    let mut shop = BTreeMap::new();
    files(&root().join("specs/shop"), "", &mut shop);
    shop.retain(|name, _| !name.starts_with("kinds/"));
    for (_, text) in shop.iter_mut().filter(|(name, _)| name.ends_with(".toml")) {
        *text = renamed(std::str::from_utf8(text).expect("text")).into_bytes();
    }
    let library = Library::load(house).expect("kinds");
    let tasks: Vec<String> =
        library.iter().flat_map(|kind| kind.tasks.iter().map(|task| format!("\"{}.{}\"", kind.id, task.id))).collect();
    for kind in house.folder("kinds", "toml") {
        let mut text = kind.text.to_owned();
        // What waits for a task of another kind names that kind.
        for task in tasks.iter().filter(|task| kind.text.contains(*task)) {
            text = text.replace(task, &format!("\"{OTHER}{}", &task[1..]));
        }
        shop.insert(format!("kinds/{OTHER}{}.toml", kind.stem), text.into_bytes());
    }
    built_in().with(Layer::of_shop("another house", shop, Vec::new()))
}

/// The same van of kinds with other ids has the same documents.
#[test]
fn documents_are_the_same_whatever_the_kinds_are_called() {
    let (ours, other) = (crate::harness::house(), other_house());
    for path in demo_specs() {
        let text = fs::read_to_string(&path).expect("spec");
        let made = |catalogue: &Catalogue, text: &str| {
            let loaded = pipeline::load(catalogue, "van.toml", text.as_bytes()).expect("kinds");
            let faults: Vec<String> = loaded.library.faults.iter().map(ToString::to_string).collect();
            assert!(faults.is_empty(), "{faults:?}");
            sheets(&loaded)
        };
        let (here, there) = (made(ours, &text), made(&other, &renamed(&text)));
        assert_eq!(here.len(), there.len());
        for (here, there) in here.iter().zip(&there) {
            let markdown = there.markdown.replace(OTHER, "");
            let differs = here.markdown.lines().zip(markdown.lines()).find(|(a, b)| a != b);
            assert!(here.markdown == markdown, "{} {}: {differs:#?}", stem(&path), here.stem);
        }
    }
    assert_eq!(
        renamed("x = { kind = \"tap\", akind = \"b\" }\nkind=\"sink\""),
        "x = { kind = \"zz-tap\", akind = \"b\" }\nkind=\"zz-sink\"\n"
    );
}

/// Texts that rigbinder keeps beside its kinds name roles and words, never a kind; starters show how a spec is written.
#[test]
fn no_text_beside_the_kinds_names_one() {
    let ids = Library::ids(built_in());
    let mut strings = 0;
    for folder in ["templates/documents", "templates/spec"] {
        for path in crate::harness::files(folder, "toml") {
            if stem(&path).starts_with("starter") {
                continue;
            }
            let text = fs::read_to_string(&path).expect("text");
            let mut open: Vec<toml::Value> =
                toml::from_str::<toml::Table>(&text).expect("TOML").into_iter().map(|(_, v)| v).collect();
            while let Some(value) = open.pop() {
                match value {
                    toml::Value::String(word) => {
                        strings += 1;
                        let named = ids.contains(&word) && roles::contract(&word).is_none();
                        assert!(!named, "{} names the kind {word}", path.display());
                    }
                    toml::Value::Array(list) => open.extend(list),
                    toml::Value::Table(table) => {
                        // Words of a section's own: how it is written, and the choices of a field.
                        let own = |key: &str| matches!(key, "form" | "choices");
                        open.extend(table.into_iter().filter(|(key, _)| !own(key)).map(|(_, value)| value));
                    }
                    _ => {}
                }
            }
        }
    }
    assert!(strings > 1000, "only {strings} texts were read");
}
