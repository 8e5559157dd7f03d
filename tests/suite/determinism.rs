//! The same spec gives the same bytes, whatever the machine, the user and the day.

use crate::harness::{demo_specs, errors, folder, stem, typst};
use crate::publishing::{contents, spec};
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::{Duration, SystemTime};

/// What may differ between two machines.
#[derive(Clone, Copy, Default)]
struct Machine {
    /// Variables that are set; "" takes one away.
    env: &'static [(&'static str, &'static str)],
    /// Shell command before the program.
    before: &'static str,
    /// Runs elsewhere than beside the spec, which is named by its whole path.
    elsewhere: bool,
    /// Name of the output folder.
    out: &'static str,
    /// The spec was saved that long ago, in days.
    saved: u64,
}

const PLAIN: Machine = Machine { env: &[], before: "", elsewhere: false, out: "docs-out", saved: 0 };

/// Far away in time, place, language; variables that a typesetter may listen to.
const ABROAD: Machine = Machine {
    env: &[
        ("TZ", "Pacific/Kiritimati"),
        ("LC_ALL", "tr_TR.UTF-8"),
        ("LANG", "de_DE.UTF-8"),
        ("SOURCE_DATE_EPOCH", "86400"),
        ("TYPST_FONT_PATHS", "/usr/share/fonts"),
        ("TYPST_ROOT", "/nowhere"),
        ("TYPST_PACKAGE_PATH", "/nowhere"),
        ("TYPST_PACKAGE_CACHE_PATH", "/nowhere"),
        ("TYPST_CERT", "/nowhere/cert.pem"),
        ("TYPST_FEATURES", "html"),
        ("TYPST_IGNORE_SYSTEM_FONTS", "false"),
        ("TYPST_IGNORE_EMBEDDED_FONTS", "true"),
        ("RUST_LOG", "trace"),
        ("TMPDIR", "/nowhere"),
        ("COLUMNS", "20"),
    ],
    saved: 9000,
    ..PLAIN
};

/// Another user with one core, from another folder.
const STRICT: Machine = Machine {
    env: &[("HOME", ""), ("XDG_CONFIG_HOME", ""), ("USER", ""), ("TZ", "America/St_Johns"), ("LC_ALL", "de_DE.UTF-8")],
    before: "umask 077; if command -v taskset > /dev/null; then exec taskset -c 0 \"$@\"; fi;",
    elsewhere: true,
    out: "quite/another folder",
    saved: 1,
};

/// Compiles a spec on a machine; the files it gives, `record.json` included.
fn made(test: &str, name: &str, content: &str, machine: Machine, more: &[&str]) -> BTreeMap<String, Vec<u8>> {
    let here = folder(test);
    let path = here.join(format!("{name}.toml"));
    fs::write(&path, content).expect("spec");
    let saved = SystemTime::now() - Duration::from_secs(machine.saved * 86_400);
    fs::File::options().write(true).open(&path).and_then(|f| f.set_modified(saved)).expect("date of the spec");
    let cwd = if machine.elsewhere { here.join("else/where") } else { here.clone() };
    fs::create_dir_all(&cwd).expect("folder");
    let spec = if machine.elsewhere { path } else { PathBuf::from(format!("{name}.toml")) };
    let mut command = Command::new("sh");
    command.args(["-c", &format!("{} exec \"$@\"", machine.before), "sh", env!("CARGO_BIN_EXE_rigbinder")]);
    command.arg("compile").arg(spec).args(["--out", machine.out]).args(more).current_dir(&cwd);
    command.env("RIGBINDER_SHOP", crate::harness::root().join("specs/shop"));
    command.env_remove("RIGBINDER_TYPST").env("TZ", "UTC").env("LC_ALL", "C");
    for (variable, value) in machine.env {
        match *value {
            "" => command.env_remove(variable),
            value => command.env(variable, value),
        };
    }
    let output = command.output().expect("the program starts");
    assert_eq!(output.status.code(), Some(0), "{test}: {}", errors(&output));
    contents(&cwd.join(machine.out).join(name))
}

/// The same names with the same bytes.
fn same(what: &str, first: &BTreeMap<String, Vec<u8>>, other: &BTreeMap<String, Vec<u8>>) {
    let names = |files: &BTreeMap<String, Vec<u8>>| files.keys().cloned().collect::<Vec<_>>();
    assert!(first.contains_key("record.json") && first.len() > 20, "{what}: {:?}", names(first));
    assert_eq!(names(first), names(other), "{what}");
    let differ: Vec<_> = first.iter().filter(|(name, bytes)| other[*name] != **bytes).map(|(n, _)| n).collect();
    assert!(differ.is_empty(), "{what}: {differ:?} differ");
}

/// Abroad for one, strict for the next: each machine sees a full demo and a small one.
#[test]
fn the_demos_are_the_same_on_every_machine() {
    for (n, path) in demo_specs().iter().enumerate() {
        let (name, text) = (stem(path), fs::read_to_string(path).expect("demo"));
        let on = |which: &str, machine| made(&format!("same-{name}-{which}"), name, &text, machine, &["--no-pdf"]);
        let (which, machine) = if n % 2 == 0 { ("abroad", ABROAD) } else { ("strict", STRICT) };
        same(&format!("{name} {which}"), &on("plain", PLAIN), &on(which, machine));
    }
}

#[test]
fn pdfs_are_the_same_on_every_machine() {
    let Some(typst) = typst() else {
        assert!(std::env::var_os("REQUIRE_TYPST").is_none(), "typst is required here");
        return;
    };
    let typst = typst.to_str().expect("path");
    // A sign that the typeface lacks would be looked for in the fonts of the system.
    let text = spec("Größe ½ – same", "3 m");
    let on = |which: &str, machine| made(&format!("same-pdf-{which}"), "mine", &text, machine, &["--typst", typst]);
    let first = on("plain", PLAIN);
    assert!(first.keys().filter(|n| n.ends_with(".pdf")).count() > 10, "{:?}", first.keys());
    same("again", &first, &on("again", PLAIN));
    same("abroad", &first, &on("abroad", ABROAD));
    same("strict", &first, &on("strict", STRICT));
}

/// A folder with outputs of an earlier run, made in another order, holds the same in the end.
#[test]
fn what_was_there_before_leaves_no_trace() {
    let here = folder("same-traces");
    let [one, other] = [spec("First", "3 m"), spec("Second", "9 m")];
    let compile = |text: &str, out: &str| {
        fs::write(here.join("mine.toml"), text).expect("spec");
        let output = crate::harness::rigbinder(&here, &["compile", "mine.toml", "--no-pdf", "--out", out]);
        assert_eq!(output.status.code(), Some(0), "{}", errors(&output));
    };
    compile(&other, "fresh");
    compile(&one, "used");
    compile(&other, "used");
    let at = |out: &str| contents(&Path::new(&here).join(out).join("mine"));
    same("after another", &at("fresh"), &at("used"));
}
