//! What the tests share: paths, the program, specs worked out in memory.

use rigbinder::catalogue::Catalogue;
use rigbinder::pipeline::{self, Loaded, Only, Sheet, Worked};
use rigbinder::spec::Language;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use std::sync::{Arc, LazyLock};

/// What is built in.
pub(crate) fn built_in() -> &'static Catalogue {
    static BUILT_IN: LazyLock<Catalogue> = LazyLock::new(Catalogue::built_in);
    &BUILT_IN
}

/// What is built in, with the shop's folder of the demo specs.
pub(crate) fn house() -> &'static Catalogue {
    static HOUSE: LazyLock<Catalogue> =
        LazyLock::new(|| built_in().with(rigbinder::shop::read(&root().join("specs/shop"))));
    &HOUSE
}

/// The spec language beside the kinds.
pub(crate) fn language() -> &'static Language {
    static LANGUAGE: LazyLock<Arc<Language>> =
        LazyLock::new(|| Language::of(built_in()).expect("the declarations read"));
    &LANGUAGE
}

/// The folder of the project.
pub(crate) fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// A fresh, empty folder for one test.
pub(crate) fn folder(test: &str) -> PathBuf {
    let path = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(test);
    if path.exists() {
        std::fs::remove_dir_all(&path).expect("old test folder goes");
    }
    std::fs::create_dir_all(&path).expect("test folder");
    path
}

/// Runs the program in `folder`.
pub(crate) fn rigbinder(folder: &Path, args: &[&str]) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_rigbinder"));
    command.args(args).current_dir(folder).env_remove("RIGBINDER_TYPST").env("NO_COLOR", "1");
    command.output().expect("the program starts")
}

/// Standard error as text.
pub(crate) fn errors(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

/// Files with `ending` in a folder of the project, sorted.
pub(crate) fn files(folder: &str, ending: &str) -> Vec<PathBuf> {
    let entries = std::fs::read_dir(root().join(folder)).expect(folder);
    let mut files: Vec<_> =
        entries.map(|e| e.expect("entry").path()).filter(|p| p.extension().is_some_and(|e| e == ending)).collect();
    files.sort();
    files
}

/// Stem of a file's name.
pub(crate) fn stem(path: &Path) -> &str {
    path.file_stem().and_then(|s| s.to_str()).expect("plain file name")
}

/// Reads a spec of the project.
pub(crate) fn load(path: &Path) -> Loaded {
    let bytes = std::fs::read(path).expect("spec");
    let name = path.display().to_string();
    let mut loaded = pipeline::load(house(), &name, &bytes).expect("the library of kinds holds together");
    loaded.read_papers(path.parent().expect("a folder"));
    loaded
}

/// Findings of a spec text, as `name severity subject` lines.
pub(crate) fn findings(text: &str) -> Vec<rigbinder::diag::Finding> {
    let loaded = pipeline::load(house(), "test.toml", text.as_bytes()).expect("kinds");
    pipeline::work_out(&loaded).expect("profile").findings
}

/// All documents of a spec.
pub(crate) fn sheets(loaded: &Loaded) -> Vec<Sheet> {
    let worked = pipeline::work_out(loaded).expect("profile");
    pipeline::sheets(&worked, &Only::default()).expect("documents")
}

/// The demo specs of vans built anew, that must compile.
pub(crate) fn demo_specs() -> Vec<PathBuf> {
    files("specs", "toml").into_iter().filter(|path| stem(path) != REFIT).collect()
}

/// A demo spec, worked out, and its documents.
pub(crate) struct Demo {
    pub(crate) path: PathBuf,
    pub(crate) worked: Worked<'static>,
    pub(crate) sheets: Vec<Sheet>,
}

impl Demo {
    /// The Markdown of one of its documents.
    pub(crate) fn markdown(&self, stem: &str) -> &str {
        &self.sheets.iter().find(|sheet| sheet.stem == stem).expect("a document").markdown
    }

    /// The same with plain spaces.
    pub(crate) fn spaced(&self, stem: &str) -> String {
        self.markdown(stem).replace('\u{a0}', " ")
    }
}

/// The demo specs, compiled once for all tests that only look.
pub(crate) fn demos() -> &'static [Demo] {
    static LOADED: LazyLock<Vec<(PathBuf, Loaded)>> =
        LazyLock::new(|| demo_specs().into_iter().map(|path| (path.clone(), load(&path))).collect());
    static DEMOS: LazyLock<Vec<Demo>> = LazyLock::new(|| {
        let demo = |(path, loaded): &'static (PathBuf, Loaded)| {
            let worked = pipeline::work_out(loaded).expect("profile");
            let sheets = pipeline::sheets(&worked, &Only::default()).expect("documents");
            Demo { path: path.clone(), worked, sheets }
        };
        LOADED.iter().map(demo).collect()
    });
    &DEMOS
}

/// The demo spec of a van that others fitted out before: `refit` compiles it once for all tests.
const REFIT: &str = "refit";

/// That spec.
pub(crate) fn refit() -> &'static Loaded {
    static LOADED: LazyLock<Loaded> = LazyLock::new(|| load(&root().join("specs/refit.toml")));
    &LOADED
}

/// That spec, worked out.
pub(crate) fn refit_worked() -> &'static Worked<'static> {
    static WORKED: LazyLock<Worked<'static>> = LazyLock::new(|| pipeline::work_out(refit()).expect("profile"));
    &WORKED
}

/// Its documents.
pub(crate) fn refit_sheets() -> &'static [Sheet] {
    static SHEETS: LazyLock<Vec<Sheet>> =
        LazyLock::new(|| pipeline::sheets(refit_worked(), &Only::default()).expect("documents"));
    &SHEETS
}

/// `typst`, where the environment, the tool folder or the path has one.
pub(crate) fn typst() -> Option<PathBuf> {
    let named = std::env::var_os("RIGBINDER_TYPST").map(PathBuf::from);
    let tool = Some(root().join(".tools/bin/typst"));
    let on_path = std::env::var_os("PATH").into_iter().flat_map(|p| std::env::split_paths(&p).collect::<Vec<_>>());
    named.into_iter().chain(tool).chain(on_path.map(|f| f.join("typst"))).find(|p| p.is_file())
}

/// Names of the files in a folder and in the folders below it, sorted.
pub(crate) fn names_below(folder: &Path) -> Vec<String> {
    let mut names = Vec::new();
    let mut open = vec![String::new()];
    while let Some(below) = open.pop() {
        for entry in std::fs::read_dir(folder.join(&below)).expect("folder") {
            let path = entry.expect("entry").path();
            let name = format!("{below}{}", path.file_name().expect("name").to_string_lossy());
            if path.is_dir() {
                open.push(format!("{name}/"));
            } else {
                names.push(name);
            }
        }
    }
    names.sort();
    names
}

/// A winter for specs whose account of energy is looked at.
pub(crate) const WINTER: &str = r#"
[climate.winter]
month = 1
low = "-5 °C"
high = "5 °C"
record_low = "-15 °C"
latitude = "45 °"
irradiation = "1.2 kWh/m2"
"#;

/// Lines of the owner's documents that hold what a spec is written in: the owner has none.
pub(crate) fn spec_syntax(sheets: &[Sheet]) -> Vec<String> {
    const OWNERS: [&str; 3] = ["owners-manual", "maintenance-calendar", "handover-binder"];
    const SYNTAX: [&str; 6] = ["[[", "\\[\\[", "[recorded", "= {", "specification", "handover_set"];
    let own = sheets.iter().filter(|s| OWNERS.contains(&s.stem.as_str()));
    let lines = own.flat_map(|s| s.markdown.lines().map(move |line| (s, line)));
    let told = lines.filter(|(_, line)| SYNTAX.iter().any(|syntax| line.contains(syntax)));
    told.map(|(s, line)| format!("{}: {line}", s.stem)).collect()
}
