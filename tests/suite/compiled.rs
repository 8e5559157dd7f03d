//! What the demo specs compile to: complete, consistent, without traces of the program, and as committed.

use crate::harness::{demo_specs, load, names_below, root, sheets, stem};
use rigbinder::compute::network::DeviceAt;
use rigbinder::pipeline::{self, Sheet};
use std::fs;

fn markdown<'a>(sheets: &'a [Sheet], stem: &str) -> &'a str {
    &sheets.iter().find(|s| s.stem == stem).unwrap_or_else(|| panic!("no {stem}")).markdown
}

/// Words that only a fault of the program puts into a document.
const TRACES: &[&str] = &["NaN", "{{", "{%", "Some(", "None", " inf ", "****", "Turn  off"];

#[test]
fn documents_hold_no_traces_of_the_program() {
    for path in demo_specs() {
        for sheet in sheets(&load(&path)) {
            for trace in TRACES {
                let at = sheet.markdown.find(trace);
                let around = at.map(|i| sheet.markdown[i.saturating_sub(60)..].chars().take(140).collect::<String>());
                assert!(at.is_none(), "{} {} holds {trace}: {around:?}", path.display(), sheet.stem);
            }
        }
    }
}

#[test]
fn every_component_and_circuit_stands_in_the_schedule() {
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        let sheets = sheets(&loaded);
        let schedule = markdown(&sheets, "schedule");
        for id in worked.build.parts.keys() {
            assert!(schedule.contains(&format!("`{id}`")), "{}: {id} is not in the schedule", path.display());
        }
        for (id, figures) in worked.electrical.circuits.iter().filter(|(_, f)| f.device.at != DeviceAt::Vehicle) {
            let conductor = figures.conductor().map(|s| s.size.to_string());
            assert!(conductor.is_some_and(|c| schedule.contains(&c)), "{}: {id} has no conductor", path.display());
        }
    }
}

/// Every circuit with a way stands in exactly one directory, under its number.
#[test]
fn every_way_stands_in_one_panel_directory() {
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        let sheets = sheets(&loaded);
        let schedule = markdown(&sheets, "schedule");
        for panel in worked.build.parts.values().filter(|p| p.role().is_some_and(rigbinder::kinds::Role::has_ways)) {
            let mut ways: Vec<u32> = worked.build.leaving(&panel.id).filter_map(|c| c.way).collect();
            ways.sort_unstable();
            assert!(ways.windows(2).all(|w| w[0] != w[1]), "{}: {} has a way twice", path.display(), panel.id);
            let heading = format!("Directory: {}", panel.name);
            assert!(ways.is_empty() || schedule.contains(&heading), "{}: no {heading}", path.display());
        }
    }
}

/// Every task is in exactly one packet; every upkeep in the calendar, and dated ones in the .ics.
#[test]
fn tasks_and_upkeep_reach_their_documents() {
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        let sheets = sheets(&loaded);
        for (id, task) in &worked.build.tasks {
            let packets = sheets.iter().filter(|s| s.stem.ends_with(&format!("-{}", task.stage.id())));
            let holding: Vec<_> = packets.filter(|s| s.markdown.contains(&format!("`{id}`"))).collect();
            assert_eq!(holding.len(), 1, "{}: task {id}", path.display());
        }
        let calendar = sheets.iter().find(|s| s.stem == "maintenance-calendar").expect("calendar");
        let ics = &calendar.beside[0].1;
        let plan = worked.due_dates().expect("handover date");
        assert!(ics.matches("BEGIN:VEVENT").count() > 0 && !plan.dated.is_empty());
        let unfolded = ics.replace("\r\n ", "");
        let mut uids: Vec<_> =
            unfolded.lines().filter(|l| l.starts_with("UID:") && !l.starts_with("UID:alarm")).collect();
        let all = uids.len();
        uids.sort_unstable();
        uids.dedup();
        assert_eq!(uids.len(), all, "{}: two entries share a UID", path.display());
    }
}

/// The manual has every system of the build, and says nothing of the place of a hidden master switch.
#[test]
fn the_manual_covers_every_system() {
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        let sheets = sheets(&loaded);
        let manual = markdown(&sheets, "owners-manual");
        for part in worked.build.parts.values() {
            let title = part.kind.system.title();
            assert!(manual.contains(title), "{}: {title} is missing", path.display());
            assert!(manual.contains(&part.name), "{}: {} is missing", path.display(), part.name);
        }
    }
}

/// A number that two documents print is the same in both: it comes from one figure.
#[test]
fn schedule_and_calculation_sheet_agree() {
    let loaded = load(&root().join("specs/heron.toml"));
    let worked = pipeline::work_out(&loaded).expect("profile");
    let sheets = sheets(&loaded);
    let (schedule, calculations) = (markdown(&sheets, "schedule"), markdown(&sheets, "calculation-sheet"));
    let system = worked.build.prints();
    for (id, figures) in worked.electrical.circuits.iter().filter(|(_, f)| f.device.at != DeviceAt::Vehicle) {
        let design = figures.design.show(system);
        let row = |text: &str| {
            text.lines().filter(|l| l.starts_with('|') && l.contains(id.as_str())).any(|l| l.contains(&design))
        };
        assert!(row(calculations), "{id}: {design} is not on the calculation sheet");
        assert!(row(schedule), "{id}: {design} is not in the schedule");
    }
}

/// The committed documents are what the specs compile to; `make docs` rewrites them.
#[test]
fn committed_documents_are_fresh() {
    for path in demo_specs() {
        let folder = root().join("docs-out").join(stem(&path));
        let mut wanted: Vec<String> = Vec::new();
        let loaded = load(&path);
        let mut keep = |name: String, text: String| {
            let kept = fs::read_to_string(folder.join(&name)).unwrap_or_default();
            assert!(kept == text, "docs-out/{}/{name} is stale: run `make docs`", stem(&path));
            wanted.push(name);
        };
        for sheet in sheets(&loaded) {
            keep(format!("{}.md", sheet.stem), sheet.markdown);
            sheet.beside.into_iter().for_each(|(name, text)| keep(name, text.to_string()));
        }
        let worked = pipeline::work_out(&loaded).expect("profile");
        for file in pipeline::data(&worked).expect("data").into_iter().filter(|f| f.name.ends_with(".csv")) {
            keep(file.name, String::from_utf8(file.bytes).expect("UTF-8"));
        }
        for name in names_below(&folder) {
            let kept = name == rigbinder::publish::RECORD
                || name.starts_with('.')
                || NOT_COMMITTED.iter().any(|e| name.ends_with(e))
                || wanted.contains(&name);
            assert!(kept, "docs-out/{}/{name} belongs to no document", stem(&path));
        }
    }
}

/// Endings of what `.gitignore` leaves out.
const NOT_COMMITTED: [&str; 4] = [".pdf", ".html", ".xlsx", ".json"];
