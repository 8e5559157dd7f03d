//! Real PDFs, when `typst` is there: every construct passes PDF/A-2a and PDF/UA-1, and the bytes do not change.
//! Without it the test is skipped; `REQUIRE_TYPST=1` makes that a failure.

use std::env;
use std::fs;
use std::path::{Path, PathBuf};
use std::time::Duration;

use rigbinder::typeset::{self, Paper};
use rigbinder::typst_cli::{self, Compiled, Job, Settings, Typst, TypstError};

use super::{golden, pictures, setup};

fn typst() -> Option<Typst> {
    let explicit = env::var_os("RIGBINDER_TYPST").map(PathBuf::from);
    let found = Typst::find(explicit.as_deref(), None, env::var_os("PATH").as_deref(), &|| false);
    match found {
        Ok(typst) => Some(typst),
        Err(error) => {
            assert!(env::var_os("REQUIRE_TYPST").is_none(), "{error}");
            eprintln!("skipped: {error}");
            None
        }
    }
}

fn work(name: &str) -> (PathBuf, Settings) {
    let root = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = fs::remove_dir_all(&root);
    let fonts = root.join("fonts");
    typst_cli::write_fonts(&fonts).expect("fonts");
    fs::write(root.join(typeset::STYLE_NAME), typeset::STYLE).expect("style");
    (root, Settings { limit: Duration::from_mins(1), at_once: None })
}

fn job(root: &Path, name: &str, typst: &str) -> Job {
    let source = root.join(format!("{name}.typ"));
    fs::write(&source, typst).expect("writes");
    Job {
        name: name.to_owned(),
        source,
        output: root.join(format!("{name}.pdf")),
        root: root.to_owned(),
        fonts: root.join("fonts"),
        timestamp: 1_810_000_000,
        holds_files: false,
    }
}

#[test]
fn every_construct_makes_an_accessible_pdf() {
    let Some(typst) = typst() else { return };
    let (root, settings) = work("pdf-constructs");
    let mut jobs = Vec::new();
    for (folder, names) in [("cases", golden::names()), ("samples", samples())] {
        for name in names {
            let path = golden::folder().with_file_name(folder).join(format!("{name}.md"));
            let document = typeset::parse(&fs::read_to_string(path).expect("case")).expect("parses");
            for (paper, draft) in [(Paper::A4, false), (Paper::UsLetter, true)] {
                let mut setup = setup(paper);
                setup.draft = draft;
                let text = typeset::to_typst(&document, &setup, &pictures()).expect("writes").text;
                jobs.push(job(&root, &format!("{folder}-{name}-{}", paper.typst_name()), &text));
            }
        }
    }
    fs::write(root.join("spec.toml"), "[build]\n").expect("writes");
    let mut binder = job(&root, "binder", &super::binder::whole());
    binder.holds_files = true;
    jobs.push(binder);
    let first = run(&typst, &jobs, &settings);
    let again = run(&typst, &jobs, &settings);
    for ((job, one), two) in jobs.iter().zip(&first).zip(&again) {
        assert!(one.starts_with(b"%PDF-1.7"), "{}", job.name);
        assert!(one == two, "{}: two runs give different bytes", job.name);
        for mark in ["/StructTreeRoot", "pdfuaid:part", "pdfaid:part", "/Lang"] {
            assert!(contains(one, mark), "{}: no {mark}", job.name);
        }
    }
}

fn samples() -> Vec<String> {
    ["manual", "packet", "schedule"].map(str::to_owned).to_vec()
}

fn run(typst: &Typst, jobs: &[Job], settings: &Settings) -> Vec<Vec<u8>> {
    typst_cli::compile(typst, jobs, settings, &|_| {}, &|| false)
        .into_iter()
        .map(|result| {
            let Compiled { output, warnings } = result.unwrap_or_else(|e| panic!("{e}"));
            assert_eq!(warnings, "", "{}", output.display());
            fs::read(output).expect("reads")
        })
        .collect()
}

fn contains(bytes: &[u8], mark: &str) -> bool {
    bytes.windows(mark.len()).any(|w| w == mark.as_bytes())
}

#[test]
fn a_refused_document_names_the_kept_file() {
    let Some(typst) = typst() else { return };
    let (root, settings) = work("pdf-refused");
    let jobs = [job(&root, "bad", "#nosuch()\n")];
    let results = typst_cli::compile(&typst, &jobs, &settings, &|_| {}, &|| false);
    let Err(error @ TypstError::Failed { .. }) = &results[0] else {
        panic!("{results:?}");
    };
    let text = error.to_string();
    assert!(text.contains("bad.typ") && text.contains("nosuch"), "{text}");
    assert!(jobs[0].source.is_file());
}

#[test]
fn an_endless_document_is_ended() {
    let Some(typst) = typst() else { return };
    let (root, mut settings) = work("pdf-endless");
    settings.limit = Duration::from_millis(300);
    let jobs =
        [job(&root, "endless", "#{ let i = 0; for a in range(99999999) { for b in range(99999999) { i += 1 } } }\n")];
    let results = typst_cli::compile(&typst, &jobs, &settings, &|_| {}, &|| false);
    assert!(matches!(results[0], Err(TypstError::TimedOut { .. })), "{results:?}");
}
