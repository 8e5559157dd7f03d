//! The table of `make bench`: what was measured, the goal, and whether it is met. Ratios are measured side by side.

#![expect(clippy::expect_used, reason = "a benchmark that cannot run says why and stops")]
#![allow(
    clippy::disallowed_methods,
    clippy::print_stderr,
    clippy::print_stdout,
    reason = "a benchmark takes times and prints them"
)]

mod support;

use rigbinder::pipeline::{self, Only, Sheet};
use rigbinder::typeset;
use std::fmt::Write;
use std::fs;
use std::hint::black_box;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};
use support::typst::{Bare, typst};
use support::{demo, load, synthetic, work_out};

/// Times a measurement is repeated; the shortest counts, since other work can only make it longer.
const RUNS: usize = 3;

/// Sizes of the synthetic builds, in components.
const SIZES: [usize; 3] = [100, 1_000, 10_000];

/// The run of heron's fridge, as it stands and as it is changed to.
const RUN: [&str; 2] = ["run      = \"3.4 m\"", "run      = \"11.5 m\""];

fn main() {
    let mut table = Table::default();
    in_process(&mut table);
    growth(&mut table);
    memory(&mut table);
    against_pandoc(&mut table);
    match typst() {
        Some(typst) => end_to_end(&mut table, &typst),
        None => table.row("PDFs of heron", "typst not found: set RIGBINDER_TYPST", None),
    }
    print!("{}", table.text());
}

/// The shortest of several runs.
fn shortest(mut work: impl FnMut()) -> Duration {
    (0..RUNS).map(|_| timed(&mut work)).min().unwrap_or_default()
}

fn timed(work: impl FnOnce()) -> Duration {
    let start = Instant::now();
    work();
    start.elapsed()
}

/// Whatever the sheets of a spec cost, from its text on.
fn sheets(text: &str) -> Vec<Sheet> {
    let loaded = load(text);
    pipeline::sheets(&work_out(&loaded), &Only::default()).expect("sheets")
}

fn in_process(table: &mut Table) {
    let heron = demo("heron");
    table.row("check of heron", &ms(shortest(|| drop(black_box(work_out(&load(&heron)))))), None);
    table.row("full Markdown, HTML and Typst text of heron", &ms(shortest(|| drop(black_box(sheets(&heron))))), None);
}

/// Both of a spec of `n` components: check, and all its sheets.
fn growth(table: &mut Table) {
    let measured = SIZES.map(|n| {
        let text = synthetic::spec(n);
        let check = shortest(|| drop(black_box(work_out(&load(&text)))));
        [check, shortest(|| drop(black_box(sheets(&text))))]
    });
    for (what, which) in [("check", 0), ("full Markdown", 1)] {
        for (n, times) in SIZES.iter().zip(&measured) {
            table.row(&format!("{what} of {n} components"), &ms(times[which]), None);
        }
        for at in 1..SIZES.len() {
            #[expect(clippy::cast_precision_loss, reason = "small counts")]
            let steps = (SIZES[at] as f64 / SIZES[at - 1] as f64).ln();
            let exponent = (measured[at][which].as_secs_f64() / measured[at - 1][which].as_secs_f64()).ln() / steps;
            let name = format!("growth of {what}, {} to {} components: n^x", SIZES[at - 1], SIZES[at]);
            table.row(&name, &format!("x = {exponent:.2}"), Some((exponent, 1.1)));
        }
    }
}

/// Largest memory of a compile without typst, MB.
fn memory(table: &mut Table) {
    let folder = Folder::new("memory");
    let mut child = compile(&folder, &["--no-pdf"]).spawn().expect("starts");
    let status = format!("/proc/{}/status", child.id());
    let mut peak = None;
    // The kernel keeps the high-water mark, so the last look before the end has it.
    let ended = loop {
        if let Some(ended) = child.try_wait().expect("is ours") {
            break ended;
        }
        let text = fs::read_to_string(&status).unwrap_or_default();
        let line = text.lines().find_map(|l| l.strip_prefix("VmHWM:"));
        peak = line.and_then(|l| l.split_whitespace().next()?.parse::<f64>().ok()).or(peak);
        std::thread::sleep(Duration::from_micros(200));
    };
    assert!(ended.success(), "compile failed");
    let name = "peak memory of compile --no-pdf of heron";
    match peak.map(|kib| kib * 1024.0 / 1e6) {
        Some(mb) => table.row(name, &format!("{mb:.1} MB"), Some((mb, 60.0))),
        None => table.row(name, "not told by this system", None),
    }
}

/// Markdown → Typst beside pandoc, on the largest document of heron.
fn against_pandoc(table: &mut Table) {
    let loaded = load(&demo("heron"));
    let worked = work_out(&loaded);
    let setup = pipeline::page_setup(&worked);
    let drawings = pipeline::drawings(&worked).into_iter();
    let pictures = drawings.map(|d| (format!("{}/{}.svg", pipeline::DRAWINGS, d.stem), d.svg.into())).collect();
    let sheets = pipeline::sheets(&worked, &Only::default()).expect("sheets");
    let bound = |s: &&Sheet| s.binds.is_empty();
    let sheet = sheets.iter().filter(bound).max_by_key(|s| s.markdown.len()).expect("documents");
    #[expect(clippy::cast_precision_loss, reason = "a document is small")]
    let rate = |took: Duration| format!("{:.1} MB/s", sheet.markdown.len() as f64 / 1e6 / took.as_secs_f64());
    let own = shortest(|| {
        let document = typeset::parse(&sheet.markdown).expect("parsed");
        drop(black_box(typeset::to_typst(&document, &setup, &pictures)));
    });
    let what = format!("Markdown to Typst, {}.md", sheet.stem);
    table.row(&format!("{what}: rigbinder"), &rate(own), None);
    let folder = Folder::new("pandoc");
    let file = folder.0.join("document.md");
    fs::write(&file, &sheet.markdown).expect("written");
    let pandoc = |args: &[&str]| {
        let out = folder.0.join("document.typ");
        let mut command = Command::new("pandoc");
        command.args(args).arg("-o").arg(out).stderr(Stdio::null());
        command.status().is_ok_and(|s| s.success())
    };
    let convert = ["-f", "markdown", "-t", "typst", file.to_str().unwrap_or_default()];
    if !pandoc(&convert) {
        table.row(&format!("{what}: pandoc"), "pandoc not found", None);
        return;
    }
    let empty = folder.0.join("empty.md");
    fs::write(&empty, "").expect("written");
    let start = shortest(|| assert!(pandoc(&["-f", "markdown", "-t", "typst", empty.to_str().unwrap_or_default()])));
    let whole = shortest(|| assert!(pandoc(&convert)));
    // Its start is not counted against it.
    table.row(&format!("{what}: pandoc, without its start"), &rate(whole.saturating_sub(start)), None);
}

/// The program with PDFs against the bare typesetter, and what a change costs.
fn end_to_end(table: &mut Table, typst: &Path) {
    let folder = Folder::new("full");
    let spec = folder.spec();
    let original = demo("heron");
    assert!(original.contains(RUN[0]), "the run of the fridge stands otherwise in the spec");
    let bare = Bare::of(typst, &folder.0.join("bare"), &sheets(&original), &original);
    let order = bare.longest_first();
    let run = || {
        let status = compile(&folder, &["--typst", typst.to_str().unwrap_or_default()]).status();
        assert!(status.is_ok_and(|s| s.success()), "compile failed");
    };
    let (mut least, mut full, mut changed, mut same) = (Duration::MAX, Duration::MAX, Duration::MAX, Duration::MAX);
    for _ in 0..RUNS {
        least = least.min(timed(|| bare.two_at_once(&order)));
        let _ = fs::remove_dir_all(folder.0.join("out"));
        fs::write(&spec, &original).expect("written");
        full = full.min(timed(run));
        same = same.min(timed(run));
        fs::write(&spec, original.replacen(RUN[0], RUN[1], 1)).expect("written");
        changed = changed.min(timed(run));
    }
    let ratio = |a: Duration, b: Duration| a.as_secs_f64() / b.as_secs_f64();
    table.row("bare typst on the sources of heron, two at once", &ms(least), None);
    table.row("full compile of heron with PDFs", &ms(full), None);
    let mut against = |what: &str, (a, b): (Duration, Duration), goal: f64| {
        table.row(what, &format!("{:.3} ({})", ratio(a, b), ms(a)), Some((ratio(a, b), goal)));
    };
    against("full compile ÷ bare typst", (full, least), 1.10);
    against("compile after one changed run ÷ full compile", (changed, full), 0.35);
    against("compile without a change ÷ full compile", (same, full), 0.02);
}

/// The program on the spec in a folder.
fn compile(folder: &Folder, args: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_rigbinder"));
    command.arg("compile").arg(folder.spec()).arg("--out").arg(folder.0.join("out")).args(args);
    command.stdout(Stdio::null()).stderr(Stdio::null());
    command
}

/// A folder of its own with heron in it, which goes with it.
struct Folder(PathBuf);

impl Folder {
    fn new(name: &str) -> Self {
        let path = std::env::temp_dir().join(format!("rigbinder-bench-{}-{name}", std::process::id()));
        fs::create_dir_all(&path).expect("folder");
        fs::write(path.join("heron.toml"), demo("heron")).expect("written");
        Self(path)
    }

    fn spec(&self) -> PathBuf {
        self.0.join("heron.toml")
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}

fn ms(time: Duration) -> String {
    format!("{:.1} ms", time.as_secs_f64() * 1000.0)
}

/// Rows of text: what, measured, goal, met or not.
#[derive(Default)]
struct Table {
    rows: Vec<[String; 4]>,
}

impl Table {
    /// A row; a goal is what was measured and the most that it may be.
    fn row(&mut self, what: &str, measured: &str, goal: Option<(f64, f64)>) {
        let met = goal.map_or("", |(value, most)| if value <= most { "met" } else { "NOT MET" });
        let goal = goal.map_or_else(String::new, |(_, most)| format!("≤ {most}"));
        eprintln!("{what}: {measured} {met}");
        self.rows.push([what.to_owned(), measured.to_owned(), goal, met.to_owned()]);
    }

    fn text(&self) -> String {
        let head = ["what", "measured", "goal", ""].map(str::to_owned);
        let wide = |column: usize| {
            self.rows.iter().chain([&head]).map(|row| row[column].chars().count()).max().unwrap_or_default()
        };
        let widths = [wide(0), wide(1), wide(2)];
        let mut text = String::new();
        for [what, measured, goal, met] in [&head].into_iter().chain(&self.rows) {
            let [a, b, c] = widths;
            let _ = writeln!(text, "{}", format!("{what:a$}  {measured:>b$}  {goal:c$}  {met}").trim_end());
        }
        text
    }
}
