//! PDFs of the demo, read by an independent library (pikepdf). Skipped without `typst` unless `REQUIRE_TYPST=1`.

use crate::harness::{errors, folder, rigbinder, root, typst};
use serde_json::Value;
use std::path::{Path, PathBuf};
use std::process::Command;

fn required() -> bool {
    std::env::var_os("REQUIRE_TYPST").is_some()
}

fn python() -> Option<PathBuf> {
    std::env::var_os("RIGBINDER_TEST_PYTHON").map(PathBuf::from)
}

/// Compiles a spec, one of `specs/` or another by its whole path without the ending, and reports each PDF.
fn reports(test: &str, spec: &str) -> Option<Vec<Value>> {
    let (Some(program), Some(python)) = (typst(), python()) else {
        assert!(!required(), "typst and RIGBINDER_TEST_PYTHON are required here");
        return None;
    };
    let here = folder(test);
    let path = root().join("specs").join(format!("{spec}.toml"));
    let args = ["compile", path.to_str().expect("path"), "--typst", program.to_str().expect("path")];
    let output = rigbinder(&here, &args);
    assert_eq!(output.status.code(), Some(0), "{}", errors(&output));
    let made = here.join("docs-out").join(path.file_stem().expect("name"));
    let mut pdfs: Vec<_> = std::fs::read_dir(&made).expect("output").map(|e| e.expect("entry").path()).collect();
    let known = |p: &PathBuf| p.is_file() || p.ends_with("data") || p.ends_with("drawings");
    assert!(pdfs.iter().all(known), "only files, data and drawings in the output: {pdfs:?}");
    let markdown = pdfs.iter().filter(|p| p.extension().is_some_and(|e| e == "md")).count();
    pdfs.retain(|p| p.extension().is_some_and(|e| e == "pdf"));
    assert_eq!(pdfs.len(), markdown, "a PDF for every Markdown file");
    Some(judged(&python, &pdfs))
}

/// What `tests/outside/check_pdf.py` tells about files.
fn judged(python: &Path, pdfs: &[PathBuf]) -> Vec<Value> {
    let script = root().join("tests/outside/check_pdf.py");
    let answer =
        Command::new(python).arg(script).args(pdfs).env("PYTHONDONTWRITEBYTECODE", "1").output().expect("python");
    assert!(answer.status.success(), "{}", String::from_utf8_lossy(&answer.stderr));
    let told = String::from_utf8(answer.stdout).expect("text");
    told.lines().map(|l| serde_json::from_str(l).expect("json")).collect()
}

/// A document in which all is poor that the typesetter lets pass; the checks must say so.
#[test]
fn poor_pdfs_are_found_out() {
    let (Some(program), Some(python)) = (typst(), python()) else { return assert!(!required()) };
    let here = folder("pdf-poor");
    let text = "#set document(title: \"Poor\", date: datetime(year: 2027, month: 5, day: 14))\n\
                #set page(margin: (x: 17mm, top: 24mm, bottom: 20mm))\n= First\n#table(columns: 2, [a], [b])\n\
                #block(inset: 3pt)[loose words]\n#box(width: 10pt)[overlong]#box[words]\n\
                #place(dx: -16mm)[margin words]\n#v(1fr)\n= Last\n#pagebreak()\n#pagebreak()\nEnd.\n";
    std::fs::write(here.join("poor.typ"), text).expect("written");
    let pdf = here.join("poor.pdf");
    let made = Command::new(program)
        .args(["compile", "--pdf-standard", "a-2a,ua-1", "--ignore-system-fonts"])
        .args([here.join("poor.typ"), pdf.clone()])
        .output()
        .expect("typst");
    assert!(made.status.success(), "{}", String::from_utf8_lossy(&made.stderr));
    let faults = judged(&python, std::slice::from_ref(&pdf)).remove(0)["faults"].to_string();
    for fault in [
        "a table without a row of headers",
        "stands in /TD",
        "page 1 ends with a heading",
        "page 2 is empty",
        "page 3 is nearly empty",
        "stands in the margin",
        "runs into",
    ] {
        assert!(faults.contains(fault), "{fault} is not found: {faults}");
    }
    // A stream whose length is wrong by one is a fault for the validator and in the bytes.
    let mut bytes = std::fs::read(&pdf).expect("pdf");
    let mark = b"/Length ";
    let at = bytes.windows(mark.len()).position(|w| w == mark).expect("a stream") + mark.len();
    let digit = bytes[at..].iter().position(|b| !b.is_ascii_digit()).expect("end") + at - 1;
    bytes[digit] = if bytes[digit] == b'9' { b'8' } else { bytes[digit] + 1 };
    std::fs::write(&pdf, bytes).expect("written");
    let faults = judged(&python, &[pdf]).remove(0)["faults"].to_string();
    assert!(faults.contains("STREAM-LENGTH"), "{faults}");
}

#[test]
fn every_pdf_of_the_demo_is_whole_and_accessible() {
    let Some(reports) = reports("pdf-heron", "heron") else { return };
    let spec = std::fs::read_to_string(root().join("specs/heron.toml")).expect("spec");
    assert!(reports.len() >= 10, "a packet per stage, schedule, calculations, calendar, manual");
    for report in &reports {
        let name = &report["file"];
        assert_eq!(report["tagged"], true, "{name}");
        assert_eq!(report["ua"], "1", "{name} is PDF/UA-1");
        let file = name.as_str().is_some_and(|n| n.ends_with("service-file.pdf"));
        let (archive, held) = if file { ("3A", vec![("specification.toml", spec.as_str())]) } else { ("2A", vec![]) };
        assert_eq!(report["pdfa"], archive, "{name} is PDF/A");
        // Beside the spec the service file holds what was used of the shop's folder.
        let mut attached = report["attached"].clone();
        if let Some(files) = attached.as_object_mut().filter(|_| file) {
            let before = files.len();
            files.retain(|name, _| name == "specification.toml");
            assert!(before > 1, "{name} holds the stock items");
        }
        let held: serde_json::Map<_, _> = held.into_iter().map(|(n, t)| (n.to_owned(), t.into())).collect();
        assert_eq!(attached, Value::Object(held), "{name} holds the spec if it is the service file, and nothing else");
        assert_eq!(report["faults"], serde_json::json!([]), "{name}");
        assert_eq!(report["lang"], "en-US", "{name}");
        assert!(report["title"].as_str().is_some_and(|t| t.contains("Heron")), "{name}: {}", report["title"]);
        assert_eq!(report["empty_pages"], serde_json::json!([]), "{name}");
        assert_eq!(report["fonts_missing"], serde_json::json!([]), "{name}");
        assert!(report["outline"].as_u64().is_some_and(|n| n > 0), "{name} has an outline");
        for size in report["sizes"].as_array().expect("sizes") {
            let known = [serde_json::json!([612, 792]), serde_json::json!([792, 612])];
            assert!(known.contains(size), "{name} is not US Letter: {size}");
        }
    }
}

/// The other builds: small ones and large ones break their pages elsewhere.
#[test]
fn no_demo_build_has_a_poor_page() {
    for spec in ["weekend", "purfling", "turnstone", "basalt"] {
        let Some(reports) = reports(&format!("pdf-pages-{spec}"), spec) else { return };
        for report in &reports {
            assert_eq!(report["faults"], serde_json::json!([]), "{spec}: {}", report["file"]);
            assert_eq!(report["empty_pages"], serde_json::json!([]), "{spec}: {}", report["file"]);
        }
    }
}

/// Letters that no typeface of the PDFs has stand as code numbers in texts and as boxes in drawings.
#[test]
fn no_letter_of_a_spec_stops_the_pdfs() {
    let spec = folder("pdf-letters-spec").join("letters");
    let text = std::fs::read_to_string(root().join("specs/weekend.toml")).expect("demo");
    let text = text.replace("\"Weekend\"", "\"週末 😀 עברית\"").replace("\"Galley, left\"", "\"厨房 ݨ\"");
    let text = text.replace("\"Whoever built it\"", "\"工房 \u{1f1e9}\u{1f1ea}\", note = \"ᚠ 𝔘 ﷽ ā́ 한글\"");
    std::fs::write(spec.with_extension("toml"), text).expect("written");
    let Some(reports) = reports("pdf-letters", spec.to_str().expect("path")) else { return };
    assert!(reports.len() > 10);
    for report in &reports {
        let name = &report["file"];
        // In a build this small, a section behind a table on its side may be a few lines.
        let faults = report["faults"].as_array().expect("faults").iter();
        let faults: Vec<_> = faults.filter(|f| !f.as_str().is_some_and(|f| f.contains("is nearly empty"))).collect();
        assert!(faults.is_empty(), "{name}: {faults:?}");
        assert_eq!(report["fonts_missing"], serde_json::json!([]), "{name}");
        assert!(report["title"].as_str().is_some_and(|t| t.contains("[U+9031]")), "{name}: {}", report["title"]);
    }
}

#[test]
fn two_runs_in_different_folders_give_the_same_bytes() {
    let Some(_) = reports("pdf-once", "weekend") else { return };
    let Some(_) = reports("pdf-twice", "weekend") else { return };
    let base = PathBuf::from(env!("CARGO_TARGET_TMPDIR"));
    let [once, twice] = ["pdf-once", "pdf-twice"].map(|t| base.join(t).join("docs-out/weekend"));
    let mut files = 0;
    let mut names = vec![PathBuf::new()];
    while let Some(name) = names.pop() {
        if once.join(&name).is_dir() {
            let inside = std::fs::read_dir(once.join(&name)).expect("folder");
            names.extend(inside.map(|e| name.join(e.expect("entry").file_name())));
            continue;
        }
        let [a, b] = [&once, &twice].map(|f| std::fs::read(f.join(&name)).expect("file"));
        assert!(a == b, "{} differs between two runs", name.display());
        files += 1;
    }
    assert!(files > 20, "{files} files");
}

/// A `typst` that fails, hangs or writes rubbish leaves the earlier output as it was.
#[cfg(unix)]
#[test]
fn a_failing_typst_leaves_the_earlier_output() {
    use std::os::unix::fs::PermissionsExt;
    let here = folder("pdf-failing");
    let spec = root().join("specs/weekend.toml");
    let spec = spec.to_str().expect("path");
    assert_eq!(rigbinder(&here, &["compile", spec, "--no-pdf"]).status.code(), Some(0));
    let before = std::fs::read(here.join("docs-out/weekend/schedule.md")).expect("schedule");
    let fake = here.join("typst");
    std::fs::write(&fake, "#!/bin/sh\n[ \"$1\" = --version ] && echo 'typst 0.15.1' && exit 0\necho 'x.typ:1:1: error: broken' >&2\nexit 1\n")
        .expect("fake");
    std::fs::set_permissions(&fake, std::fs::Permissions::from_mode(0o755)).expect("mode");
    let output = rigbinder(&here, &["compile", spec, "--typst", fake.to_str().expect("path")]);
    assert_eq!(output.status.code(), Some(2), "{}", errors(&output));
    assert!(errors(&output).contains("broken") && errors(&output).contains("kept"), "{}", errors(&output));
    assert_eq!(std::fs::read(here.join("docs-out/weekend/schedule.md")).expect("schedule"), before);
}

#[test]
fn without_typst_all_but_the_pdfs_is_written() {
    let here = folder("pdf-none");
    let spec = root().join("specs/weekend.toml");
    let args = ["compile", spec.to_str().expect("path"), "--typst", "/nowhere/typst"];
    let output = rigbinder(&here, &args);
    assert_eq!(output.status.code(), Some(2), "{}", errors(&output));
    assert!(errors(&output).contains("no PDFs were made"), "{}", errors(&output));
    assert!(errors(&output).contains("cargo install"), "{}", errors(&output));
    assert!(here.join("docs-out/weekend/owners-manual.md").is_file());
    assert!(here.join("docs-out/weekend/owners-manual.html").is_file());
    assert!(here.join("docs-out/weekend/maintenance-calendar.ics").is_file());
}
