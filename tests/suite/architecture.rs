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
    ("digest", 0),
    ("shop", 2),
    ("papers", 2),
    ("letters", 0),
    ("catalogue", 1),
    ("fields", 2),
    ("diag", 2),
    ("tables", 2),
    ("render", 2),
    ("typeset", 2),
    ("typst_cli", 2),
    ("spreadsheet", 2),
    ("roles", 3),
    ("spec", 4),
    ("kinds", 4),
    ("build", 5),
    ("compute", 6),
    ("checks", 7),
    ("documents", 7),
    ("drawings", 7),
    ("publish", 7),
    ("pipeline", 8),
    ("cli", 9),
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

/// `.clippy.toml` says what only the command line may call. Elsewhere the rule may be lifted for limits of time alone.
#[test]
fn only_the_command_line_prints_and_looks_around() {
    let rules = std::fs::read_to_string(root().join(".clippy.toml")).expect(".clippy.toml");
    for banned in ["env::var", "env::args", "SystemTime::now", "Zoned::now", "io::stdout", "io::stderr"] {
        assert!(rules.contains(&format!("::{banned}\"")), "{banned} may be called anywhere");
    }
    for path in all_sources().iter().filter(|path| !["cli", "rerun"].contains(&room(path).as_str())) {
        let text = std::fs::read_to_string(path).expect("source");
        let code = text.split("#[cfg(test)]").next().unwrap_or("");
        let lifted = code.contains("disallowed_methods") && !code.contains("SystemTime") && !code.contains("env::");
        let lifted = lifted && (room(path) == "typst_cli" || path.components().any(|part| part.as_os_str() == "tests"));
        assert!(lifted || !code.contains("disallowed_methods"), "{} lifts the rule", path.display());
        assert!(!code.contains("clippy::print_std"), "{} lets itself print", path.display());
    }
}

/// Files that may keep something in a static, and why: all of it is the one typeface, which no layer can change.
const STATICS: &[(&str, &str)] = &[
    ("src/assets.rs", "the embedded folder itself"),
    ("src/assets/glyphs.rs", "which letters the embedded typeface has"),
    ("src/drawings/letters.rs", "how wide the letters of the embedded typeface are"),
];

/// Statics of a source that are made or changed while the program runs; plain tables are constants and stand apart.
fn living_statics(code: &str) -> Vec<String> {
    let makes =
        ["LazyLock", "OnceLock", "OnceCell", "Mutex", "RwLock", "Atomic", "Cell<", "include_dir!", "include_str!"];
    let items = code.lines().map(str::trim).enumerate().filter(|(_, line)| {
        let item = line.trim_start_matches("pub ").trim_start_matches("pub(crate) ").trim_start_matches("pub(super) ");
        item.starts_with("static ") || item.starts_with("thread_local!")
    });
    let lines: Vec<&str> = code.lines().collect();
    let whole =
        |at: usize| lines[at..].iter().take_while(|l| !l.is_empty()).take(3).copied().collect::<Vec<_>>().join(" ");
    let declared = |at: usize| whole(at).split_once(';').map_or_else(|| whole(at), |(item, _)| item.to_owned());
    items
        .map(|(at, _)| declared(at))
        .filter(|item| item.contains("thread_local!") || makes.iter().any(|m| item.contains(m)))
        .collect()
}

/// What is looked up goes through the catalogue, so that two of them in one program know nothing of each other.
#[test]
fn nothing_is_kept_in_statics_but_the_typeface() {
    let mut used = Vec::new();
    for path in all_sources().into_iter().filter(|path| room(path) != "cli") {
        let text = std::fs::read_to_string(&path).expect("source");
        let own = path.strip_prefix(root()).expect("ours").display().to_string();
        let tests = own.contains("/tests");
        let living = living_statics(text.split("#[cfg(test)]").next().unwrap_or(""));
        if !living.is_empty() && !tests {
            assert!(STATICS.iter().any(|(file, _)| *file == own), "{own} keeps {living:?} in a static");
            used.push(own);
        }
    }
    let unused: Vec<_> = STATICS.iter().filter(|(file, _)| !used.iter().any(|u| u == file)).collect();
    assert!(unused.is_empty(), "these keep nothing: {unused:?}");
    let planted = "static A: &str = \"\";\n    static B: LazyLock<X> =\n  LazyLock::new(f);\n\npub static C: AtomicBool = x;\nthread_local! {";
    assert_eq!(living_statics(planted).len(), 3, "{:?}", living_statics(planted));
}

/// Texts that are embedded are looked up by the catalogue alone; what else looks into the folder takes the typeface.
#[test]
fn embedded_texts_are_reached_through_the_catalogue() {
    for path in all_sources().into_iter().filter(|path| !["assets", "catalogue"].contains(&room(path).as_str())) {
        let text = std::fs::read_to_string(&path).expect("source");
        let code = text.split("#[cfg(test)]").next().unwrap_or("");
        let reached = code.contains("assets::TEMPLATES") || code.contains("assets::{TEMPLATES");
        assert!(!reached || code.contains("fonts/"), "{} reads embedded files past the catalogue", path.display());
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

/// Roles and their fields, as DEVELOPERS.md has them.
fn table_of_roles() -> String {
    use rigbinder::roles::{ALL, Block, RoleField};
    let row = |role: &&rigbinder::roles::Contract| {
        let settings: Vec<String> = role.settings().iter().map(|(name, _)| format!("`{name}`")).collect();
        let field = |f: &RoleField| if f.must { format!("**`{}`**", f.name) } else { format!("`{}`", f.name) };
        let fields: Vec<String> = role.fields.iter().map(field).collect();
        let settings = if role.block == Block::Electric { "(electric)".to_owned() } else { settings.join(" ") };
        format!("| `{}` | {settings} | {} |\n", role.id, fields.join(" "))
    };
    let head = "| role | settings | fields |\n| --- | --- | --- |\n".to_owned();
    head + &ALL.iter().map(row).collect::<Vec<_>>().concat()
}

/// `UPDATE=1` writes the table anew.
#[test]
fn the_table_of_roles_is_that_of_the_code() {
    const MARKS: [&str; 2] = ["<!-- roles: written by a test -->\n", "<!-- end of roles -->"];
    let path = root().join("DEVELOPERS.md");
    let text = std::fs::read_to_string(&path).expect("DEVELOPERS.md");
    let from = text.find(MARKS[0]).expect("first mark") + MARKS[0].len();
    let to = text.find(MARKS[1]).expect("last mark");
    let wanted = table_of_roles();
    if std::env::var_os("UPDATE").is_some() {
        std::fs::write(&path, format!("{}{wanted}{}", &text[..from], &text[to..])).expect("written");
    } else {
        assert_eq!(
            &text[from..to],
            wanted,
            "DEVELOPERS.md is stale: UPDATE=1 cargo test --test suite -- table_of_roles"
        );
    }
}

/// How a record tells a field by its name.
const GETTERS: &[&str] = &[
    "amps",
    "volts",
    "ohms",
    "watts",
    "watt_hours",
    "amp_hours",
    "metres",
    "celsius",
    "kilograms",
    "seconds",
    "ratio",
    "text",
    "flag",
    "count",
    "date",
    "conductor",
    "list",
    "quantities",
    "quantity",
    "gave",
    "span_of",
];

/// What a component told is read once, into the structs of its roles: beyond that no code asks for a field by a name.
#[test]
fn computations_take_structs_not_fields_by_name() {
    // Where fields are read, or told one by one whatever they are.
    const READERS: &[&str] =
        &["fields", "roles", "spec", "kinds", "build", "documents/facts.rs", "documents/snapshot", "documents/data"];
    let mut found = Vec::new();
    for path in all_sources() {
        let inside = path.strip_prefix(root().join("src")).expect("in src").display().to_string();
        if READERS.iter().any(|reader| inside.starts_with(reader)) {
            continue;
        }
        let text = std::fs::read_to_string(&path).expect("source");
        let code = text.split("#[cfg(test)]").next().unwrap_or("");
        for getter in GETTERS {
            let call = format!(".record.{getter}(");
            found.extend(code.match_indices(&call).map(|_| format!("{inside}: {call}")));
        }
        if inside.starts_with("compute/") && code.contains("fields::Record") {
            found.push(format!("{inside} reads records"));
        }
    }
    assert!(found.is_empty(), "{}", found.join("\n"));
}

/// Calls that a text makes on what is read of a field (`.get()`, or a record by name), each with what it is called with,
/// chain by chain.
fn chains(code: &str) -> Vec<Vec<(&str, &str)>> {
    fn call<'t>(rest: &mut &'t str) -> Option<(&'t str, &'t str)> {
        let at = rest.trim_start().trim_start_matches('?').trim_start().strip_prefix('.')?;
        let name = &at[..at.find(|c: char| !c.is_alphanumeric() && c != '_')?];
        let inside = at[name.len()..].strip_prefix('(')?;
        let mut depth = 1;
        let end = inside.find(|c: char| {
            depth += i32::from(matches!(c, '(' | '[' | '{')) - i32::from(matches!(c, ')' | ']' | '}'));
            depth == 0
        })?;
        *rest = &inside[end + 1..];
        Some((name, inside[..end].trim()))
    }
    let fields = code.match_indices(".get()").map(|(at, get)| &code[at + get.len()..]);
    let by_name = code.match_indices("record.").filter_map(|(at, record)| {
        let mut rest = &code[at + record.len() - 1..];
        call(&mut rest).filter(|(name, _)| GETTERS.contains(name)).map(|_| rest)
    });
    fields.chain(by_name).map(|mut rest| std::iter::from_fn(|| call(&mut rest)).collect()).collect()
}

/// Whether a text is nothing but a number or the name of a constant.
fn is_a_number(text: &str) -> bool {
    let constant = text.len() > 1 && text.chars().all(|c| c.is_ascii_uppercase() || c.is_ascii_digit() || c == '_');
    constant || text.trim_start_matches('-').starts_with(|c: char| c.is_ascii_digit())
}

/// Names in a text that stand for numbers that are written there: `let usual = if lithium { 0.8 } else { 0.5 };`.
fn numbers_by_name(code: &str) -> Vec<&str> {
    let named = code.split("let ").skip(1).filter_map(|rest| {
        let (name, value) = rest.split(';').next()?.split_once(" = ")?;
        value.split(['{', '}']).any(|piece| is_a_number(piece.trim())).then_some(name)
    });
    named.collect()
}

/// Whether a call puts a number of its own where a field tells none; `named` are numbers that have a name.
fn makes_up_a_number((name, inside): (&str, &str), named: &[&str]) -> bool {
    let first = inside.split([',', '(']).next().unwrap_or_default().trim();
    let wrapped = inside.split_once('(').is_some_and(|(ty, value)| {
        let number = value.trim_start_matches('-').starts_with(|c: char| c.is_ascii_digit());
        ty.starts_with(|c: char| c.is_ascii_uppercase()) && ty.chars().all(char::is_alphanumeric) && number
    });
    match name {
        "unwrap_or_default" => true,
        "unwrap_or" | "map_or" => is_a_number(first) || wrapped || named.contains(&first),
        _ => false,
    }
}

/// Defaults stand in kinds, in the declarations of sections and in tables with their source: who reads a field says
/// nothing where it says nothing. What a build counts is none where it cannot be read.
#[test]
fn no_reader_of_a_field_has_a_number_of_its_own() {
    let mut read = 0;
    for path in all_sources() {
        let room = room(&path);
        if !["build", "compute", "checks", "drawings", "documents"].contains(&room.as_str()) {
            continue;
        }
        let text = std::fs::read_to_string(&path).expect("source");
        let code = text.split("#[cfg(test)]").next().unwrap_or("");
        let named = numbers_by_name(code);
        for chain in chains(code) {
            read += 1;
            let none = |name: &str| room == "build" && name == "unwrap_or_default";
            let made_up = chain.iter().find(|call| makes_up_a_number(**call, &named) && !none(call.0));
            assert!(made_up.is_none(), "{}: a field … {made_up:?}", path.display());
        }
    }
    assert!(read > 400, "only {read} reads were found");
    let planted = "a.tilt().get().map_or(0.0, |a| a.0); b.get().filter(|x| f(x)).unwrap_or(Volts(12.8)); c.get()?.0; \
                   d.get().unwrap_or_default(); e.get().map_or(usual, g); f.get().unwrap_or(-1); h.get().map_or(HELD, i)";
    let found = |code: &str| {
        let named = numbers_by_name(code);
        chains(code).into_iter().filter(|chain| chain.iter().any(|call| makes_up_a_number(*call, &named))).count()
    };
    assert_eq!(found(planted), 5);
    assert_eq!(found("let usual = Ratio(if lithium { 0.8 } else { 0.5 }); let u = x.get().unwrap_or(usual);"), 1);
    assert_eq!(found("let usual = if agm { EFFICIENCY } else { OTHER }; x.get().map_or(usual, |r| r.0);"), 1);
    assert_eq!(found("let usual = table(x)?; let u = x.get().unwrap_or(usual.share); x.get().unwrap_or(usual)"), 0);
    assert_eq!(found("record.count(&end.field(\"bundle\")).and_then(|b| f(b)).unwrap_or(2).max(1)"), 1);
    assert_eq!(found("let n = component.record.count(\"count\").unwrap_or(1);"), 1);
}
