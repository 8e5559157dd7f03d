//! Holds that no files of `src` go in a circle: each can be read with what it stands on, and that without it.
//!
//! A file stands on another where it names something that is written there: by a path, or through a `use`. Three
//! things count for nothing:
//!
//! - `mod`, and `pub use`: a door. What is named through it counts where it is written.
//! - What a file names of the files above it in the tree, its parents. A folder is a room with a file of its own name,
//!   and what is declared there (the form of a view, a struct that its files fill) is the floor that all in it stand on.
//! - Tests inside a file, and files of tests.
//!
//! Methods are called without a path and aren't seen. That is meant: an `impl` may stand beside what it works on.

use crate::harness::root;
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

type Module = Vec<String>;

/// A source file as far as paths go.
#[derive(Default)]
struct File {
    /// What its `use` lines bring in, by the name that it has here.
    names: BTreeMap<String, Vec<String>>,
    /// Paths that it names: those of its own `use` lines, and those in the code.
    paths: BTreeSet<Vec<String>>,
}

/// The code without comments and with empty texts, up to the tests inside it.
fn code(text: &str) -> String {
    let text = text.split("#[cfg(test)]\nmod tests {").next().unwrap_or_default();
    let chars: Vec<char> = text.chars().collect();
    let (mut out, mut at) = (String::new(), 0);
    let starts = |at: usize, word: &str| word.chars().enumerate().all(|(i, c)| chars.get(at + i) == Some(&c));
    while let Some(&c) = chars.get(at) {
        let inside_word = at > 0 && (chars[at - 1].is_alphanumeric() || chars[at - 1] == '_');
        let hashes = chars.iter().skip(at + 1).take_while(|c| **c == '#').count();
        if starts(at, "//") {
            at += chars[at..].iter().take_while(|c| **c != '\n').count();
        } else if c == 'r' && !inside_word && chars.get(at + 1 + hashes) == Some(&'"') {
            let end = format!("\"{}", "#".repeat(hashes));
            at += 2 + hashes;
            while at < chars.len() && !starts(at, &end) {
                at += 1;
            }
            at += end.len();
            out.push_str("\"\"");
        } else if c == '"' {
            at += 1;
            while at < chars.len() && chars[at] != '"' {
                at += if chars[at] == '\\' { 2 } else { 1 };
            }
            at += 1;
            out.push_str("\"\"");
        } else if c == '\'' && (chars.get(at + 1) == Some(&'\\') || chars.get(at + 2) == Some(&'\'')) {
            at += 2;
            while at < chars.len() && chars[at] != '\'' {
                at += 1;
            }
            at += 1;
        } else {
            out.push(c);
            at += 1;
        }
    }
    out
}

/// Words, `::` and single signs.
fn tokens(code: &str) -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    let mut joined = false;
    for c in code.chars() {
        let word = c.is_alphanumeric() || c == '_';
        match all.last_mut() {
            Some(last) if joined && word && last.chars().all(|c| c.is_alphanumeric() || c == '_') => last.push(c),
            Some(last) if joined && c == ':' && last == ":" => last.push(c),
            _ if !c.is_whitespace() => all.push(c.to_string()),
            _ => {}
        }
        joined = !c.is_whitespace();
    }
    all
}

/// The tree of a `use` line from `at`: paths, each with the name that it has here. Returns where it ends.
fn tree(tokens: &[String], mut at: usize, before: &[String], into: &mut Vec<(Vec<String>, String)>) -> usize {
    let mut path = before.to_vec();
    let mut name = None;
    while let Some(token) = tokens.get(at) {
        match token.as_str() {
            "{" => {
                at += 1;
                while tokens.get(at).is_some_and(|t| t != "}" && t != ";") {
                    at = tree(tokens, at, &path, into);
                    at += usize::from(tokens.get(at).is_some_and(|t| t == ","));
                }
                return at + 1;
            }
            "," | "}" | ";" => break,
            "as" => {
                name = tokens.get(at + 1).cloned();
                at += 1;
            }
            "::" | "*" => {}
            "self" if !path.is_empty() => {}
            word => path.push(word.to_owned()),
        }
        at += 1;
    }
    let name = name.or_else(|| path.last().cloned()).unwrap_or_default();
    into.push((path, name));
    at
}

fn read(text: &str) -> File {
    let tokens = tokens(&code(text));
    let mut file = File::default();
    let mut at = 0;
    while at < tokens.len() {
        let is_word = |t: &String| t.chars().next().is_some_and(|c| c.is_alphabetic() || c == '_');
        // What `use<…>` captures is no import.
        if tokens[at] == "use" && tokens.get(at + 1).is_some_and(is_word) {
            let door = at > 0 && (tokens[at - 1] == "pub" || tokens[at - 1] == ")");
            let mut all = Vec::new();
            at = tree(&tokens, at + 1, &[], &mut all);
            if !door {
                file.paths.extend(all.iter().map(|(path, _)| path.clone()));
            }
            file.names.extend(all.into_iter().map(|(path, name)| (name, path)));
        } else if is_word(&tokens[at]) && tokens.get(at + 1).is_some_and(|t| t == "::") {
            let mut path = vec![tokens[at].clone()];
            while tokens.get(at + 1).is_some_and(|t| t == "::") && tokens.get(at + 2).is_some_and(is_word) {
                path.push(tokens[at + 2].clone());
                at += 2;
            }
            file.paths.insert(path);
            at += 1;
        } else {
            at += 1;
        }
    }
    file
}

/// All files of a folder by their modules.
fn house(folder: &Path, at: &Module, into: &mut BTreeMap<Module, File>) {
    for entry in std::fs::read_dir(folder).expect("folder") {
        let path = entry.expect("entry").path();
        let stem = path.file_stem().expect("name").to_string_lossy().into_owned();
        if stem == "main" {
            continue;
        }
        let own: Module = at.iter().cloned().chain([stem.clone()]).collect();
        if path.is_dir() {
            house(&path, &own, into);
        } else if path.extension().is_some_and(|e| e == "rs") {
            let module = if ["mod", "lib"].contains(&stem.as_str()) { at.clone() } else { own };
            into.insert(module, read(&std::fs::read_to_string(&path).expect("source")));
        }
    }
}

/// The file in which what `path` names from `from` is written; `None` outside of the house. `use` lines that bring in a
/// file as a whole name nothing in it yet.
fn home(
    house: &BTreeMap<Module, File>,
    from: &Module,
    path: &[String],
    seen: &mut Vec<(Module, Vec<String>)>,
) -> Option<Module> {
    let key = (from.clone(), path.to_vec());
    if seen.contains(&key) {
        return None;
    }
    seen.push(key);
    let mut at = from.clone();
    let mut rest = path;
    let below = |at: &Module, name: &String| at.iter().cloned().chain([name.clone()]).collect::<Module>();
    match rest.first()?.as_str() {
        "crate" => (at, rest) = (Module::new(), &rest[1..]),
        "self" => rest = &rest[1..],
        "super" => {
            while rest.first().is_some_and(|word| word == "super") {
                at.pop();
                rest = &rest[1..];
            }
        }
        _ if house.contains_key(&below(&at, &rest[0])) => {}
        first => {
            let brought = house.get(&at)?.names.get(first)?;
            // `use serde::…` and the like lead out of the house.
            if brought.first() == rest.first() {
                return None;
            }
            let whole: Vec<String> = brought.iter().chain(&rest[1..]).cloned().collect();
            return home(house, from, &whole, seen);
        }
    }
    while let Some(next) = rest.first().map(|name| below(&at, name)).filter(|next| house.contains_key(next)) {
        (at, rest) = (next, &rest[1..]);
    }
    let name = rest.first()?;
    match house.get(&at)?.names.get(name) {
        Some(_) => home(house, &at, rest, seen),
        None => Some(at),
    }
}

/// Which files each file stands on.
fn stands_on(house: &BTreeMap<Module, File>) -> BTreeMap<&Module, BTreeSet<Module>> {
    let of = |(module, file): (&Module, &File)| {
        let homes = file.paths.iter().filter_map(|path| home(house, module, path, &mut Vec::new()));
        homes.filter(|home| !module.starts_with(home)).collect::<BTreeSet<_>>()
    };
    house.iter().map(|(module, file)| (module, of((module, file)))).collect()
}

/// Files that can be reached from a file and reach it.
fn circles(edges: &BTreeMap<&Module, BTreeSet<Module>>) -> Vec<String> {
    let reached = |from: &Module| {
        let mut seen: BTreeSet<&Module> = BTreeSet::new();
        let mut open: Vec<&Module> = edges[from].iter().collect();
        while let Some(next) = open.pop() {
            if seen.insert(next) {
                open.extend(edges.get(next).into_iter().flatten());
            }
        }
        seen
    };
    let all: BTreeMap<&Module, BTreeSet<&Module>> = edges.keys().map(|module| (*module, reached(module))).collect();
    let mut told = BTreeSet::new();
    for (module, reach) in &all {
        let with: Vec<String> =
            reach.iter().filter(|other| all[**other].contains(module)).map(|other| other.join("/")).collect();
        if !with.is_empty() {
            told.insert(with.join(", "));
        }
    }
    told.into_iter().collect()
}

#[test]
fn no_files_go_in_a_circle() {
    let mut files = BTreeMap::new();
    house(&root().join("src"), &Module::new(), &mut files);
    assert!(files.len() > 300, "{} files", files.len());
    let edges = stands_on(&files);
    assert!(edges.values().map(BTreeSet::len).sum::<usize>() > 1000, "imports are read");
    assert_eq!(circles(&edges), [""; 0], "these files stand on each other");
}

#[test]
fn the_reader_of_circles_sees_planted_ones() {
    let planted = |texts: &[(&str, &str)]| {
        let module =
            |name: &str| name.split('/').filter(|part| !part.is_empty()).map(str::to_owned).collect::<Module>();
        let files: BTreeMap<Module, File> = texts.iter().map(|(name, text)| (module(name), read(text))).collect();
        circles(&stands_on(&files))
    };
    let door = ("", "mod a;\nmod b;\npub use a::{One, two as other};\nstruct Floor;");
    let one_way =
        [door, ("a", "use crate::Floor;\nstruct One;\nfn two() {}"), ("b", "use super::One;\nfn f(_: One) {}")];
    assert!(planted(&one_way).is_empty(), "{:?}", planted(&one_way));
    for back in ["use super::b::f;", "use super::{Floor, b};\nfn g() { b::f() }", "fn g() { crate::b::f() }"] {
        let text = format!("{back}\nstruct One;\nfn two() {{}}");
        assert_eq!(planted(&[door, ("a", &text), ("b", "use super::One;\nfn f(_: One) {}")]), ["a, b"], "{back}");
        assert_eq!(planted(&[door, ("a", &text), ("b", "fn f() { crate::other() }")]), ["a, b"], "{back}");
    }
    let captures = "struct One;\nfn f<'a>() -> impl Iterator + use<'a> { let a = crate::b::f(); a }";
    assert_eq!(planted(&[door, ("a", captures), ("b", "use super::One;\nfn f(_: One) {}")]), ["a, b"]);
    let quoted = "// use super::b::f;\nconst T: &str = \"crate::b::f\";\nstruct One;\nuse std::fmt;";
    assert!(planted(&[door, ("a", quoted), ("b", "use super::One;\nfn f(_: One) {}")]).is_empty());
    let tested = "struct One;\n#[cfg(test)]\nmod tests {\n    use crate::b::f;\n}";
    assert!(planted(&[door, ("a", tested), ("b", "use super::One;\nfn f(_: One) {}")]).is_empty());
}
