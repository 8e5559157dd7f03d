//! `compile`: from a spec to its folder of documents.

use super::args::{Compile, Document, Emit};
use super::check::{load, summary};
use super::print::Print;
use super::progress::Bar;
use super::{CLEAN, COULD_NOT_RUN, STOPPED};
use crate::kinds::Stage;
use crate::pipeline::{self, Only, Sheet, Worked};
use crate::publish::Staging;
use crate::typeset;
use crate::typst_cli::{self, Job, Settings, Typst, TypstError};
use std::path::Path;
use std::time::Duration;

/// Longest time for one document.
const LIMIT: Duration = Duration::from_mins(2);

/// Folder below the staging folder where Typst works; it does not stay.
const WORK: &str = ".typst";

pub(super) fn run(print: &Print, args: &Compile) -> Result<u8, String> {
    let only = only(args)?;
    let loaded = load(&args.spec)?;
    let worked = pipeline::work_out(&loaded).map_err(|e| e.to_string())?;
    if let Some(emit) = args.emit {
        return emit_json(print, &worked, emit);
    }
    print.findings(&worked.findings, &loaded.file);
    print.note(&summary(&worked));
    if worked.counts().0 > 0 {
        print.note("nothing was written");
        return Ok(STOPPED);
    }
    let sheets = pipeline::sheets(&worked, &only).map_err(|e| e.to_string())?;
    if sheets.is_empty() && !args.only.contains(&Document::Data) {
        return Err("this build has no such document: the stage asked for has no work in it".to_owned());
    }
    let name = folder_name(&args.spec);
    let staging = Staging::begin(&args.out, &name).map_err(|e| e.to_string())?;
    write_texts(&staging, &sheets)?;
    for file in pipeline::data(&worked).map_err(|e| e.to_string())? {
        staging.write(&file.name, &file.bytes).map_err(|e| e.to_string())?;
    }
    let no_typst = if args.no_pdf || sheets.is_empty() {
        None
    } else {
        typeset_all(print, args, &loaded.file.text, &worked, &sheets, &staging)?
    };
    let whole = args.only.is_empty() && args.stage.is_empty();
    // A part of the documents was asked for: the others stay as they are.
    let stems: Vec<&str> = sheets.iter().map(|s| s.stem.as_str()).collect();
    let is_made = |name: &str| stems.iter().any(|s| name.strip_prefix(s).is_some_and(|rest| rest.starts_with('.')));
    if !whole {
        staging.keep(|name| !is_made(name)).map_err(|e| e.to_string())?;
    }
    let folder =
        staging.swap_in(|name| name == pipeline::DATA || pipeline::is_document(name)).map_err(|e| e.to_string())?;
    let documents = if sheets.is_empty() { String::new() } else { format!("{} documents and ", sheets.len()) };
    print.note(&format!("{documents}the data files in {}", folder.display()));
    if let Some(error) = no_typst {
        print.fault(&format!("no PDFs were made: {error}; `--no-pdf` asks for none"));
        return Ok(COULD_NOT_RUN);
    }
    Ok(CLEAN)
}

fn only(args: &Compile) -> Result<Only, String> {
    let documents = args.only.iter().map(|d| match d {
        Document::Packet => "packet",
        Document::Schedule => "schedule",
        Document::Calculations => "calculations",
        Document::Calendar => "calendar",
        Document::Drawings => "drawings",
        Document::Manual => "manual",
        Document::TestRecord => "test-record",
        Document::Binder => "binder",
        Document::Labels => "labels",
        Document::Data => "data",
    });
    let stage = |id: &String| {
        let ids: Vec<_> = Stage::ALL.iter().map(|s| s.id()).collect();
        Stage::from_id(id).ok_or_else(|| format!("there is no stage `{id}`; stages are {}", ids.join(", ")))
    };
    let stages = args.stage.iter().map(stage).collect::<Result<_, _>>()?;
    Ok(Only { documents: documents.map(str::to_owned).collect(), stages })
}

fn emit_json(print: &Print, worked: &Worked<'_>, emit: Emit) -> Result<u8, String> {
    let text = match emit {
        Emit::Spec => serde_json::to_string_pretty(worked.build.spec),
        Emit::Build => serde_json::to_string_pretty(&worked.build),
        Emit::Figures => serde_json::to_string_pretty(&worked.ledger),
    };
    print.out(&format!("{}\n", text.map_err(|e| e.to_string())?));
    Ok(CLEAN)
}

/// Folder of the output: the stem of the spec file's name, in plain letters.
fn folder_name(spec: &Path) -> String {
    let stem = spec.file_stem().map_or_else(String::new, |s| s.to_string_lossy().to_lowercase());
    let plain: String = stem.chars().map(|c| if c.is_ascii_alphanumeric() { c } else { '-' }).collect();
    let plain = plain.trim_matches('-');
    if plain.is_empty() { "build".to_owned() } else { plain.to_owned() }
}

fn write_texts(staging: &Staging, sheets: &[Sheet]) -> Result<(), String> {
    for sheet in sheets {
        let own = [("md", &sheet.markdown), ("html", &sheet.html)];
        let files = own.iter().map(|(ending, text)| (format!("{}.{ending}", sheet.stem), *text));
        let beside = sheet.beside.iter().map(|(name, text)| (name.clone(), text));
        for (name, text) in files.chain(beside) {
            staging.write(&name, text.as_bytes()).map_err(|e| e.to_string())?;
        }
    }
    Ok(())
}

/// Makes the PDFs. `Some` where there is no `typst` to make them with.
fn typeset_all(
    print: &Print,
    args: &Compile,
    spec: &str,
    worked: &Worked<'_>,
    sheets: &[Sheet],
    staging: &Staging,
) -> Result<Option<TypstError>, String> {
    let path = std::env::var_os("PATH");
    let typst = match Typst::find(args.typst.as_deref(), Some(Path::new(".tools")), path.as_deref()) {
        Ok(typst) => typst,
        Err(error) => return Ok(Some(error)),
    };
    let root = std::path::absolute(staging.folder().join(WORK)).map_err(|e| e.to_string())?;
    let fonts = root.join("fonts");
    typst_cli::write_fonts(&fonts).map_err(|e| e.to_string())?;
    let write = |name: &str, text: &str| {
        let path = root.join(name);
        std::fs::write(&path, text).map(|()| path.clone()).map_err(|e| format!("cannot write {}: {e}", path.display()))
    };
    write(typeset::STYLE_NAME, typeset::STYLE)?;
    if sheets.iter().any(|sheet| sheet.holds_spec) {
        write(pipeline::SPEC.name, spec)?;
    }
    let mut jobs = Vec::new();
    for sheet in sheets {
        let source = write(&format!("{}.typ", sheet.stem), &sheet.typst)?;
        let output =
            std::path::absolute(staging.folder().join(format!("{}.pdf", sheet.stem))).map_err(|e| e.to_string())?;
        jobs.push(Job { name: sheet.stem.clone(), source, output, holds_files: sheet.holds_spec });
    }
    let timestamp = pipeline::timestamp(&pipeline::page_setup(worked));
    let settings = Settings { root: root.clone(), fonts, timestamp, limit: LIMIT, at_once: None };
    let bar = Bar::new(print, jobs.len());
    let results = typst_cli::compile(&typst, &jobs, &settings, &|news| bar.news(&news));
    bar.finish();
    let failed: Vec<_> = results.iter().filter_map(|r| r.as_ref().err()).map(ToString::to_string).collect();
    if !failed.is_empty() {
        let kept = keep_sources(&root, &args.out)?;
        return Err(format!("{}\nthe Typst files are kept in {kept}; nothing else was written", failed.join("\n")));
    }
    std::fs::remove_dir_all(&root).map_err(|e| format!("cannot remove {}: {e}", root.display()))?;
    Ok(None)
}

/// Moves the Typst files of a failed run where they can be looked at.
fn keep_sources(root: &Path, out: &Path) -> Result<String, String> {
    let kept = out.join(".failed-typst");
    if kept.exists() {
        std::fs::remove_dir_all(&kept).map_err(|e| format!("cannot remove {}: {e}", kept.display()))?;
    }
    std::fs::rename(root, &kept).map_err(|e| format!("cannot keep {}: {e}", root.display()))?;
    Ok(kept.display().to_string())
}
