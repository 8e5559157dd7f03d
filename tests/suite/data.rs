//! Data files and labels: right by independent readers, complete, and silent about what is hidden.

use crate::harness::{demo_specs, errors, folder, load, rigbinder, root, stem, typst};
use crate::outside;
use rigbinder::build::Purpose;
use rigbinder::compute::network::DeviceAt;
use rigbinder::drawings::labels;
use rigbinder::pipeline::{self, DataFile, Only};
use rigbinder::spreadsheet::{self, About, Cell, Column, DataTable};
use serde_json::{Value, json};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

fn data(path: &Path) -> Vec<DataFile> {
    let loaded = load(path);
    pipeline::data(&pipeline::work_out(&loaded).expect("profile")).expect("data")
}

fn text_of(files: &[DataFile], name: &str) -> String {
    let file = files.iter().find(|f| f.name == format!("data/{name}")).unwrap_or_else(|| panic!("no {name}"));
    String::from_utf8(file.bytes.clone()).expect("UTF-8")
}

fn json_of(files: &[DataFile]) -> Value {
    serde_json::from_str(&text_of(files, "build.json")).expect("JSON")
}

/// Writes the data files into a folder of their own, which it gives.
fn written(test: &str, files: &[DataFile]) -> PathBuf {
    let here = folder(test);
    for file in files {
        let path = here.join(file.name.trim_start_matches("data/"));
        fs::write(path, &file.bytes).expect("written");
    }
    here
}

#[test]
fn the_resolved_build_fits_its_schema() {
    let schema = pipeline::build_schema();
    let validator = jsonschema::validator_for(&schema).expect("schema");
    for path in demo_specs() {
        let files = data(&path);
        let build = json_of(&files);
        let faults: Vec<_> = validator.iter_errors(&build).map(|e| e.to_string()).take(3).collect();
        assert!(faults.is_empty(), "{}: {faults:?}", path.display());
        let shown: Value = serde_json::from_str(&text_of(&files, "build.schema.json")).expect("JSON");
        assert_eq!(shown, schema);
        // The schema holds: a field too many, one missing or of another type is refused, at every level.
        let broken = [("/version", json!("1")), ("/circuits/x", json!({})), ("/findings/0", json!({ "name": "x" }))];
        for (at, value) in broken {
            let mut other = build.clone();
            let (above, key) = at.rsplit_once('/').expect("pointer");
            match other.pointer_mut(above).expect("there") {
                Value::Object(map) => drop(map.insert(key.to_owned(), value)),
                Value::Array(list) => list.push(value),
                _ => panic!("{at}"),
            }
            assert!(!validator.is_valid(&other), "{at}");
        }
        let mut more = build.clone();
        more["components"][build["components"].as_object().expect("map").keys().next().expect("one")]["colour"] =
            json!("red");
        assert!(!validator.is_valid(&more));
    }
}

/// Every figure of the ledger is in the JSON file with all its digits, and every circuit's current in all three files.
#[test]
fn numbers_are_those_of_the_ledger() {
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        let files = pipeline::data(&worked).expect("data");
        let build = json_of(&files);
        let figures = build["figures"].as_array().expect("figures");
        assert_eq!(figures.len(), worked.ledger.len());
        for (id, circuit) in &worked.electrical.circuits {
            assert_eq!(build["circuits"][id]["design_a"].as_f64(), Some(circuit.design.0), "{id}");
            let figure = figures.iter().find(|f| f["id"] == format!("{id}.design-current"));
            assert!(figure.is_none_or(|f| f["value"]["value"].as_f64() == Some(circuit.design.0)), "{id}");
        }
        let table = text_of(&files, "circuits.csv");
        let mut reader = csv::Reader::from_reader(table.as_bytes());
        let column = reader.headers().expect("head").iter().position(|h| h == "Design current (A)").expect("column");
        let mut rows = 0;
        for row in reader.records() {
            let row = row.expect("row");
            let exact = worked.electrical.circuits[&row[0]].design.0;
            let shown: f64 = row[column].parse().expect("a number");
            assert!((shown - exact).abs() <= exact.abs() * 5e-6, "{}: {shown} for {exact}", &row[0]);
            rows += 1;
        }
        let wired = worked.electrical.circuits.values().filter(|f| f.device.at != DeviceAt::Vehicle).count();
        assert_eq!(rows, wired);
    }
}

/// Files of two runs are the same, the workbook too.
#[test]
fn data_files_are_the_same_every_time() {
    let spec = root().join("specs/heron.toml");
    assert_eq!(data(&spec), data(&spec));
}

#[test]
fn openpyxl_reads_the_workbook_as_it_was_meant() {
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        let files = pipeline::data(&worked).expect("data");
        let here = written(&format!("tables-{}", stem(&path)), &files);
        let (year, month, day) = pipeline::page_setup(&worked).date;
        let mut pairs = json!({});
        for (sheet, file) in [
            ("Components", "components.csv"),
            ("Circuits", "circuits.csv"),
            ("Panel directories", "panel-stickers.csv"),
            ("Wire labels", "wire-labels.csv"),
        ] {
            pairs[sheet] = json!(file);
        }
        let Some(printed) =
            check_tables(&here, &json!({ "date": format!("{year:04}-{month:02}-{day:02}"), "sheets": pairs }))
        else {
            return;
        };
        let report: Value = serde_json::from_str(&printed).unwrap_or_else(|_| panic!("{}: {printed}", path.display()));
        assert!(report["numbers"].as_u64() > Some(50), "{printed}");
        for wanted in ["Cable cut list", "Purchase list", "Tasks", "Upkeep", "Figures"] {
            assert!(report["sheets"].as_array().expect("list").contains(&json!(wanted)), "{wanted}: {printed}");
        }
    }
}

/// What `tests/outside/check_tables.py` prints; `None` where these tests are left out.
fn check_tables(here: &Path, expected: &Value) -> Option<String> {
    let file = here.join("expected.json");
    fs::write(&file, expected.to_string()).expect("written");
    outside::run("check_tables.py", &[here, &file]).map(|(_, printed)| printed)
}

/// What a stranger might write so that a spreadsheet program does something.
const HOSTILE: &[&str] = &[
    "=cmd|' /C calc'!A0",
    "@SUM(1+1)*cmd",
    "+1+1",
    "-2+3+cmd|' /C calc'!A0",
    "\t=1+1",
    "\r=1+1",
    "\n=1+1",
    "＝1+1",
    "\"=1+1\"",
    "a,b;c\"d\"",
    "line\r\nline",
    "👩‍🔧 \u{202e}txet\u{202c} é",
    "{=1+1}",
    "https://example.org",
    "file:///etc/passwd",
    "00123",
    "1e9",
    "2027-05-14",
    "_x0041_",
    "'",
];

#[test]
fn hostile_text_stays_text_in_workbook_and_csv() {
    let column = |name, unit: &str| Column { name, unit: unit.to_owned() };
    let rows = HOSTILE.iter().map(|t| vec![Cell::Text((*t).to_owned()), Cell::Number(-1.5)]).collect();
    let table = DataTable { id: "hostile", name: "Hostile", columns: vec![column("Text", ""), column("N", "A")], rows };
    let about = About {
        title: "=1+1".into(),
        subject: "&A @x".into(),
        company: "<script>".into(),
        date: jiff::civil::date(2027, 5, 14),
        letter: true,
    };
    let book = spreadsheet::workbook(std::slice::from_ref(&table), &about).expect("workbook");
    let csv = spreadsheet::csv(&table).expect("csv");
    let file = |name: &str, bytes: Vec<u8>| DataFile { name: format!("data/{name}"), bytes };
    let here = written("tables-hostile", &[file("schedules.xlsx", book), file("hostile.csv", csv)]);
    let expected = json!({ "date": "2027-05-14", "sheets": { "Hostile": "hostile.csv" } });
    let Some(printed) = check_tables(&here, &expected) else { return };
    let report: Value = serde_json::from_str(&printed).unwrap_or_else(|_| panic!("{printed}"));
    assert_eq!(report["numbers"], HOSTILE.len());
}

/// The same through a spec: what the reader lets pass is guarded, and still read as it was written.
#[test]
fn hostile_text_of_a_spec_stays_text() {
    let demo = fs::read_to_string(root().join("specs/weekend.toml")).expect("demo");
    for (i, text) in HOSTILE.iter().enumerate() {
        let quoted = serde_json::to_string(text).expect("quoted");
        let spec = format!(
            "{demo}\n[component.nasty]\nkind = \"fridge\"\nname = {quoted}\nfed_from = \"panel\"\nrun = \"1 m\"\n\
             place = \"galley\"\nsupplier = {quoted}\npart = {quoted}\n"
        );
        let loaded = pipeline::load(crate::harness::house(), "nasty.toml", spec.as_bytes()).expect("kinds");
        let worked = pipeline::work_out(&loaded).expect("profile");
        let refused = worked.build.parts["nasty"].name != *text;
        let files = pipeline::data(&worked).expect("data");
        let components = text_of(&files, "components.csv");
        let mut reader = csv::Reader::from_reader(components.as_bytes());
        let row = reader.records().filter_map(Result::ok).find(|r| &r[0] == "nasty").expect("the component");
        assert!(refused || row[1] == *spreadsheet::guarded(text), "{i}: {:?}", &row[1]);
        assert!(!row[1].starts_with(['=', '+', '-', '@', '\t', '\r', '\n', '＝']), "{i}: {:?}", &row[1]);
        assert!(refused || json_of(&files)["components"]["nasty"]["name"] == *text, "{i}");
    }
}

/// A spec with a hidden switch in a place that nothing else is in.
fn with_hidden_switch() -> String {
    let demo = fs::read_to_string(root().join("specs/weekend.toml")).expect("demo");
    format!(
        "{demo}\n[place.owl-nook]\nabout = \"Behind the owl\"\nat = [\"1.23 m\", \"0.45 m\", \"0.67 m\"]\n\
         [component.quiet-switch]\nkind = \"master-switch\"\nguard = \"hidden\"\nfed_from = \"panel\"\nrun = \"1 m\"\n\
         through = [\"owl-nook\"]\nplace = \"owl-nook\"\nnote = \"Under the owl's foot\"\nserial_expected = true\n"
    )
}

#[test]
fn nothing_tells_where_a_hidden_switch_is() {
    let loaded =
        pipeline::load(crate::harness::house(), "hidden.toml", with_hidden_switch().as_bytes()).expect("kinds");
    let worked = pipeline::work_out(&loaded).expect("profile");
    assert!(worked.build.parts["quiet-switch"].confidential);
    let files = pipeline::data(&worked).expect("data");
    let build = json_of(&files);
    assert_eq!(build["components"]["quiet-switch"]["secret"], true);
    let text = build.to_string();
    assert!(!text.contains("owl"), "{:?}", text.find("owl").map(|i| &text[i.saturating_sub(200)..i + 40]));
    for name in ["components.csv", "circuits.csv", "wire-labels.csv", "panel-stickers.csv"] {
        let table = text_of(&files, name);
        assert!(table.contains("quiet-switch") || name == "panel-stickers.csv", "{name}");
        assert!(!table.contains("Behind the owl"), "{name}");
    }
    for sheet in pipeline::drawings(&worked).iter().filter(|d| d.about == labels::EQUIPMENT) {
        assert!(sheet.labels.iter().all(|l| l.text != "quiet-switch"), "a label gives the hidden switch away");
    }
}

/// Two flags with two faces each for every conductor that the shop wires, and none for the vehicle's own.
#[test]
fn every_circuit_has_two_labels() {
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        let drawings = pipeline::drawings(&worked);
        let texts: Vec<&str> = drawings
            .iter()
            .filter(|d| d.about == labels::WIRES)
            .flat_map(|d| d.labels.iter().map(|l| l.text.as_str()))
            .collect();
        let wiring = &worked.build.wiring;
        for (id, conductor) in &wiring.conductors {
            let cores = wiring.conductors.values().filter(|c| c.cable == conductor.cable).count();
            let leads = wiring.conductors.values().find(|c| c.cable == conductor.cable);
            let whole = leads.is_some_and(|c| c.purpose == Purpose::Circuit) && cores > 1;
            let several = if whole { conductor.circuit.as_ref() } else { Some(&conductor.cable) };
            let label = several.filter(|_| cores > 1).unwrap_or(id);
            // The flags of what the vehicle brought along are its maker's.
            let wanted = if worked.electrical.conductors.contains_key(id) { 4 } else { 0 };
            // A long one stands on two lines.
            let broken = |at: usize| texts.get(at + 1).is_some_and(|next| format!("{}{next}", texts[at]) == *label);
            let faces = (0..texts.len()).filter(|at| texts[*at] == label || broken(*at)).count();
            assert_eq!(faces, wanted, "{}: {id}, {label}", path.display());
        }
    }
}

/// What a symbol names as a section is a heading of the manual.
#[test]
fn symbols_lead_to_headings_of_the_manual() {
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        let only = Only { documents: vec!["manual".to_owned()], ..Only::default() };
        let sheets = pipeline::sheets(&worked, &only).expect("documents");
        let manual = &sheets.iter().find(|s| s.stem == "owners-manual").expect("manual").markdown;
        for part in worked.build.parts.values() {
            let text = labels::symbol_text(&worked.build, part);
            let (id, section) = text.split_once("\nOwner's manual: ").expect("two lines");
            assert_eq!(id, part.id);
            let found = manual.lines().any(|l| l.starts_with("### ") && l.contains(section));
            assert!(found, "{}: no heading `{section}`", path.display());
        }
    }
}

/// Every label sheet fits a page; on the equipment sheets, drawn as for print at 150 dots per inch, an independent reader
/// finds the symbol of every label.
#[test]
fn every_symbol_of_the_label_sheets_reads_back() {
    let Some(typst) = typst() else {
        assert!(std::env::var_os("REQUIRE_TYPST").is_none(), "there is no typst");
        return;
    };
    let here = folder("label-pages");
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        let (mut pictures, mut wanted): (Vec<PathBuf>, Vec<String>) = (Vec::new(), Vec::new());
        let drawings = pipeline::drawings(&worked);
        let sticker = |d: &rigbinder::drawings::Drawing| d.subject == rigbinder::drawings::Subject::FuseSticker;
        let equipment: Vec<_> = drawings.iter().filter(|d| d.about == labels::EQUIPMENT || sticker(d)).collect();
        for sheet in &equipment {
            let (w, h) = sheet.size;
            let (most_w, most_h) = rigbinder::drawings::PAGE;
            assert!(w <= most_w && h <= most_h && sheet.true_size, "{} is {w} × {h} mm", sheet.stem);
            let name = format!("{}-{}", stem(&path), sheet.stem);
            let page =
                format!("#set page(width: {w}mm, height: {h}mm, margin: 0mm)\n#image(\"{name}.svg\", width: {w}mm)");
            fs::write(here.join(format!("{name}.svg")), &sheet.svg).expect("written");
            fs::write(here.join(format!("{name}.typ")), page).expect("written");
            let png = here.join(format!("{name}.png"));
            let run = Command::new(&typst)
                .args(["compile", "--ppi", "150"])
                .args([&here.join(format!("{name}.typ")), &png])
                .output()
                .expect("typst runs");
            assert!(run.status.success(), "{}", String::from_utf8_lossy(&run.stderr));
            pictures.push(png);
            let on_sheet =
                |id: &str| if sticker(sheet) { sheet.about == id } else { sheet.labels.iter().any(|l| l.text == id) };
            let parts = worked.build.parts.values().filter(|p| on_sheet(&p.id));
            wanted.extend(parts.map(|p| labels::symbol_text(&worked.build, p)));
        }
        let names: Vec<&Path> = pictures.iter().map(PathBuf::as_path).collect();
        let Some((_, printed)) = outside::run("check_qr.py", &names) else { return };
        let found: Vec<Vec<String>> = serde_json::from_str(&printed).unwrap_or_else(|_| panic!("{printed}"));
        let mut found: Vec<String> = found.into_iter().flatten().collect();
        found.sort();
        wanted.sort();
        assert!(!wanted.is_empty(), "{}: nothing is labelled", path.display());
        assert_eq!(found, wanted, "{}", path.display());
    }
}

/// A part of the output is made anew; the drawings and documents of the others stay.
#[test]
fn data_alone_leaves_the_documents_as_they_were() {
    let here = folder("only-data");
    fs::copy(root().join("specs/weekend.toml"), here.join("weekend.toml")).expect("spec");
    let compile = |only: &str| {
        let output = rigbinder(&here, &["compile", "weekend.toml", "--no-pdf", "--only", only]);
        assert_eq!(output.status.code(), Some(0), "{}", errors(&output));
    };
    compile("labels");
    let out = here.join("docs-out/weekend");
    let drawing = out.join("drawings/labels-wires-1.svg");
    let first = fs::read(out.join("data/schedules.xlsx")).expect("every compile writes the data files");
    assert!(drawing.is_file() && out.join("labels.md").is_file());
    fs::write(out.join("data/old.csv"), "x").expect("written");
    fs::write(out.join("drawings/other.svg"), "x").expect("written");
    compile("data");
    assert!(drawing.is_file() && out.join("labels.md").is_file());
    assert!(out.join("data/old.csv").is_file(), "a file of somebody else stays");
    assert_eq!(first, fs::read(out.join("data/schedules.xlsx")).expect("again"));
    compile("labels");
    assert!(out.join("drawings/other.svg").is_file(), "a drawing of another document went");
    let schema = rigbinder(&here, &["schema", "--of", "build"]);
    assert_eq!(serde_json::from_slice::<Value>(&schema.stdout).expect("JSON"), pipeline::build_schema());
}
