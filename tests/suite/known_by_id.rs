//! No kind is known by its id: what rigbinder knows of a kind stands in its file, so that a shop's kind can say all of it.

use crate::harness::{built_in, demo_specs, root, sheets, stem};
use rigbinder::catalogue::{Catalogue, Layer};
use rigbinder::kinds::{Kind, Library};
use rigbinder::{pipeline, roles};
use std::collections::{BTreeMap, BTreeSet};
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

/// Ids of tasks, readings and upkeep of all kinds, with and without the kind in front; those of one plain word, which
/// anything may be called, only with it.
fn ids_within_kinds(library: &Library) -> BTreeSet<String> {
    let of_kind = |kind: &Kind| {
        let readings = kind.tasks.iter().flat_map(|t| &t.readings).map(|r| &r.id);
        let own = kind.tasks.iter().map(|t| &t.id).chain(readings).chain(kind.upkeep.iter().map(|u| &u.id));
        own.flat_map(|id| [id.clone(), format!("{}.{id}", kind.id)]).collect::<Vec<_>>()
    };
    let formulas: Vec<&str> = rigbinder::compute::formulas::all().map(|formula| formula.id).collect();
    // A figure that is weighed or measured bears the name of the one that was computed.
    let told = |id: &String| id.contains('.') || id.contains('-') && !formulas.contains(&id.as_str());
    library.iter().flat_map(of_kind).filter(told).collect()
}

/// What lies in a kind is no more known by its id than the kind: no text beside the kinds and no code names a task, a
/// reading or a piece of upkeep, nor a figure of a part that a spec may call as it likes.
#[test]
fn nothing_within_a_kind_is_known_by_its_id() {
    let library = Library::load(built_in()).expect("kinds");
    let within = ids_within_kinds(&library);
    assert!(within.len() > 500, "only {} ids", within.len());
    let kinds = Library::ids(built_in());
    // Names of cases, of which one is that of the task that weighs them.
    let cases = ["as-built"];
    let known = |word: &str| {
        let part = word.split_once('.').is_some_and(|(first, rest)| {
            let id = !rest.is_empty() && rest.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-');
            id && rest != "toml" && kinds.iter().any(|kind| kind == first)
        });
        part || within.contains(word) && !cases.contains(&word)
    };
    let mut read = 0;
    let mut all = BTreeMap::new();
    for folder in ["templates/documents/", "templates/spec/", "src/"] {
        files(&root().join(folder), folder, &mut all);
    }
    let ours = |name: &str| name.ends_with(".rs") || name.ends_with(".toml");
    for (name, text) in
        all.iter().filter(|(name, _)| ours(name) && !name.contains("starter") && !name.contains("tests"))
    {
        let text = std::str::from_utf8(text).expect("text");
        let code = text.split("#[cfg(test)]\nmod tests {").next().unwrap_or_default();
        for word in
            code.lines().filter(|l| !l.trim_start().starts_with("//")).flat_map(|l| l.split('"').skip(1).step_by(2))
        {
            read += 1;
            assert!(!known(word), "{name} names {word}");
        }
    }
    assert!(read > 5000, "only {read} texts were read");
    assert!(known("air-heater.day-fuel") && known("air-heater.fit") && !known("roof.roof-load"));
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
