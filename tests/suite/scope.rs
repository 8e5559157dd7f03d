//! What was there before: it feeds every computation, drawing and the manual, and no packet, list or gate asks for it.
//! Over the demo specs here, over builds drawn at random in `random`.

use crate::harness::{demo_specs, house, root, stem};
use rigbinder::catalogue::Catalogue;
use rigbinder::compute::handover::Group;
use rigbinder::compute::network::DeviceAt;
use rigbinder::compute::time::DueKind;
use rigbinder::diag::Severity;
use rigbinder::documents::schedule::purchase::purchase;
use rigbinder::pipeline::{self, Loaded, Only, Sheet, Worked};
use serde_json::Value as Json;
use std::collections::{BTreeMap, BTreeSet};
use toml::{Table, Value};

fn load(spec: &Table) -> Loaded {
    load_by(house(), spec)
}

fn load_by(house: &Catalogue, spec: &Table) -> Loaded {
    let text = toml::to_string(spec).expect("TOML");
    pipeline::load(house, "scope.toml", text.as_bytes()).expect("kinds")
}

fn spec_of(path: &std::path::Path) -> Table {
    std::fs::read_to_string(path).expect("spec").parse().expect("TOML")
}

/// The table of a component.
fn component<'t>(spec: &'t mut Table, id: &str) -> &'t mut Table {
    spec["component"][id].as_table_mut().expect("a component")
}

/// The figures of a build as JSON, without what is told of what they rest on, without ends of lives, and without tests,
/// which are work.
fn figures(worked: &Worked<'_>) -> Json {
    fn forget(value: &mut Json) {
        match value {
            Json::Object(fields) => {
                fields.remove("open");
                fields.remove("age_unknown");
                if let Some(dues) = fields.get_mut("dated").and_then(Json::as_array_mut) {
                    dues.retain(|due| due["kind"] != "replace");
                }
                fields.values_mut().for_each(forget);
            }
            Json::Array(list) => list.iter_mut().for_each(forget),
            _ => {}
        }
    }
    let mut all = serde_json::to_value(worked).expect("JSON");
    let fields = all.as_object_mut().expect("an object");
    for work in ["build", "schedule", "missing", "findings", "readings"] {
        fields.remove(work);
    }
    assert!(fields.len() >= 8, "only {:?} is compared", fields.keys().collect::<Vec<_>>());
    forget(&mut all);
    all
}

/// Makes a refit of a spec, of which the bare vehicle was weighed.
fn refit(spec: &mut Table) {
    spec["build"].as_table_mut().expect("[build]").insert("job".into(), "refit".into());
    if let Some(vehicle) = spec.get_mut("vehicle").and_then(Value::as_table_mut) {
        vehicle.insert("weighed_as".into(), "bare".into());
    }
}

/// The spec with every second component existing, beginning with the first or the second, and one in eight altered; what
/// nobody tells of their circuits is said to be assumed.
fn half(spec: &Table, worked: &Worked<'_>, first: usize) -> Table {
    let mut half = spec.clone();
    refit(&mut half);
    for (at, id) in worked.build.parts.keys().enumerate().skip(first).step_by(2) {
        let scope = if at % 8 == first { "altered" } else { "existing" };
        component(&mut half, id).insert("scope".into(), scope.into());
        if scope == "altered" {
            continue;
        }
        let own = worked.build.circuits.values().filter(|c| c.owner == *id);
        let wired = own.filter_map(|c| Some((c, worked.electrical.circuits.get(&c.id)?)));
        let mut known = Table::new();
        for (circuit, figures) in wired.filter(|(_, f)| f.device.at != DeviceAt::Vehicle) {
            let asked = ["conductor"].into_iter().chain(figures.device.is_own().then_some("protection"));
            // A guess that is given is reckoned with at its worse side; what nobody gives is what it would be today.
            let gave = |field: &str| worked.build.parts[id].record.gave(field);
            let how = |field: &str| Value::from(if gave(field) { "read" } else { "assumed" });
            known.extend(asked.map(|name| circuit.end.field(name)).map(|field| (field.clone(), how(&field))));
        }
        if !known.is_empty() {
            component(&mut half, id).insert("known".into(), known.into());
        }
    }
    half
}

fn sheet<'s>(sheets: &'s [Sheet], stem: &str) -> &'s str {
    sheets.iter().find(|s| s.stem == stem).map_or("", |s| s.markdown.as_str())
}

/// Holds a build to the law of scopes, with either half of its components existing. Returns how many were.
pub(crate) fn existing_parts_are_left_alone(house: &Catalogue, spec: &Table) -> usize {
    // A warranty that counts from the handover is that of what is fitted; on a day it ends whatever is done.
    let mut spec = spec.clone();
    let day: toml::value::Datetime = "2031-05-14".parse().expect("a date");
    for (_, component) in spec.get_mut("component").and_then(Value::as_table_mut).into_iter().flatten() {
        component.as_table_mut().expect("a component").insert("warranty_until".into(), day.into());
    }
    let spec = &spec;
    let plain = load_by(house, spec);
    let plain = pipeline::work_out(&plain).expect("profile");
    let is_sound = plain.counts().0 == 0;
    let plain_sheets =
        if is_sound { pipeline::sheets(&plain, &Only::default()).expect("documents") } else { Vec::new() };
    let plain_figures = figures(&plain);
    let asked: BTreeSet<(Group, &str)> = plain.missing.iter().map(|m| (m.group, m.id.as_str())).collect();
    let mut held = 0;
    for first in [0, 1] {
        let loaded = load_by(house, &half(spec, &plain, first));
        let worked = pipeline::work_out(&loaded).expect("profile");
        let build = &worked.build;
        let existing: BTreeSet<&str> =
            build.parts.values().filter(|p| !p.is_worked_on()).map(|p| p.id.as_str()).collect();
        held += existing.len();
        assert!(figures(&worked) == plain_figures, "the figures differ");
        let left: BTreeSet<&str> = build
            .circuits
            .values()
            .filter(|c| existing.contains(c.owner.as_str()) && !build.is_joined(c))
            .map(|c| c.id.as_str())
            .collect();
        for task in build.tasks.values() {
            // Some of what stays is made safe before the work and proved after it.
            let theirs = task.part.as_ref().is_some_and(|p| existing.contains(p.as_str()));
            assert!(!theirs || task.template.is_some_and(|t| t.there.is_some()), "{} is work", task.id);
        }
        let proved: BTreeSet<&str> = build.tasks.values().filter_map(|task| task.part.as_deref()).collect();
        for test in &worked.readings.circuits {
            assert!(!left.contains(test.circuit.as_str()), "{} is tested", test.circuit);
        }
        for missing in &worked.missing {
            let part = missing.id.split('.').next().unwrap_or_default();
            // What stays and is joined to new work is tested with it.
            let joined =
                missing.group == Group::Circuits && build.circuits.get(&missing.id).is_some_and(|c| build.is_joined(c));
            // A stage may bear the name of a part.
            let theirs = existing.contains(part)
                && Group::Build < missing.group
                && missing.group != Group::Stages
                && !joined
                && !proved.contains(part);
            assert!(!theirs && !left.contains(missing.id.as_str()), "handover asks for {}", missing.id);
            // Where one circuit's test proves that of others, another leads when that one is not worked on.
            let tested = || plain.readings.circuits.iter().any(|t| t.circuit == missing.id);
            // What stays is made safe and proved by tasks of its own: they and their readings are asked for.
            let anew = build.tasks.values().filter(|task| task.template.is_some_and(|t| t.there.is_some()));
            let mut anew = anew.flat_map(|task| {
                let part = task.part.as_deref().unwrap_or_default();
                let readings = task.template.into_iter().flat_map(|t| &t.readings);
                [task.id.clone()].into_iter().chain(readings.map(move |r| format!("{part}.{}", r.id)))
            });
            let known = asked.contains(&(missing.group, missing.id.as_str()))
                || missing.group == Group::Circuits && tested()
                || anew.any(|id| missing.id == id)
                // The signatures of the spec stay where the readings that prove them are no longer taken.
                || missing.id == "signed-without-proof";
            assert!(known, "handover asks for {} of a part that was there: {}", missing.id, missing.what);
        }
        let bought = purchase(build);
        let rows = bought.suppliers.iter().flat_map(|s| &s.rows).chain(&bought.open);
        for row in rows {
            assert!(!existing.contains(row.id.as_str()), "{} is bought", row.id);
        }
        if is_sound {
            assert_eq!(worked.counts().0, 0, "{:?}", worked.findings.iter().map(|f| &f.headline).collect::<Vec<_>>());
            let sheets = pipeline::sheets(&worked, &Only::default()).expect("documents");
            let joined: BTreeSet<&str> =
                build.circuits.values().filter(|c| build.is_joined(c)).map(|c| c.id.as_str()).collect();
            let alone = existing.iter().copied().filter(|id| !joined.contains(id) && !proved.contains(id)).collect();
            papers_leave_them_alone(&worked, &sheets, &alone, &left);
            for stem in ["owners-manual", "maintenance-calendar"] {
                // Signatures without their readings make a draft of it.
                let text = |of: &[_]| {
                    without_lives(sheet(of, stem)).replace("as planned for the handover on", "as handed over on")
                };
                let (now, before) = (text(&sheets), text(&plain_sheets));
                let other = now.lines().zip(before.lines()).find(|(now, before)| now != before);
                assert!(now == before, "{stem} differs: {other:?}");
            }
            assert!(lives_began_before(&worked) == 0 || sheet(&sheets, "maintenance-calendar").contains(UNKNOWN));
        }
    }
    held
}

/// What the calendar says in the place of a day that nobody knows.
const UNKNOWN: &str = "its age is not known";

/// A text without the days on which lives end: of a part that was there, nobody knows when its life began.
fn without_lives(text: &str) -> String {
    let (before, section) = text.split_once("\n## Replace by ").unwrap_or((text, ""));
    let after = section.find("\n## ").map_or("", |end| &section[end..]);
    let day = |line: &str| match line.split_once(" First due: ") {
        Some((life, rest)) if life.contains("Replace after ") => {
            format!("{life}{}\n", rest.split_once('.').map_or("", |(_, rest)| rest))
        }
        _ => format!("{line}\n"),
    };
    format!("{before}{after}").lines().map(day).collect()
}

/// Holds that no life of a part that was there ends so long after this handover; gives how many end nobody knows when.
fn lives_began_before(worked: &Worked<'_>) -> usize {
    let Some(plan) = worked.due_dates() else { return 0 };
    let part = |id: &str| &worked.build.parts[id];
    let is_dated = |id: &str| {
        let roles = &part(id).roles;
        roles.made().get().is_some() || roles.replace_by().get().is_some()
    };
    for due in plan.dated.iter().filter(|due| due.kind == DueKind::Replace) {
        let counted = worked.build.parts.contains_key(&due.component) && part(&due.component).was_there();
        assert!(!counted || is_dated(&due.component), "{} counts from this handover", due.id);
    }
    for item in &plan.age_unknown {
        let id = &item.component;
        assert!(part(id).was_there() && !is_dated(id), "{id}.{} has an age", item.upkeep);
    }
    plan.age_unknown.len()
}

/// No packet and no label is about what is left alone.
fn papers_leave_them_alone(worked: &Worked<'_>, sheets: &[Sheet], parts: &BTreeSet<&str>, circuits: &BTreeSet<&str>) {
    // A reading may be called like a part: "alternator" of the vehicle.
    let readings: BTreeSet<&str> = worked.readings.tests.iter().filter_map(|t| t.id.rsplit('.').next()).collect();
    let ids = parts.iter().chain(circuits).filter(|id| !readings.contains(**id));
    let ids: BTreeSet<String> = ids.map(|id| format!("`{id}`")).collect();
    for packet in sheets.iter().filter(|s| s.stem.starts_with("packet-")) {
        for line in packet.markdown.lines() {
            let named = line.split_inclusive(' ').flat_map(|word| word.split('|')).map(|word| word.trim().to_owned());
            let named: Vec<String> = named.filter(|word| ids.contains(word)).collect();
            assert!(named.is_empty(), "{}: {named:?} in: {line}", packet.stem);
        }
    }
    let data = pipeline::data(worked).expect("data");
    let labels = data.iter().find(|f| f.name.ends_with("wire-labels.csv"));
    let labels = labels.map_or_else(String::new, |f| String::from_utf8(f.bytes.clone()).expect("text"));
    for label in labels.lines().skip(1).filter_map(|line| line.split(',').next()) {
        assert!(!circuits.contains(label), "{label} gets a label");
    }
    // All that is left alone still stands in the schedule.
    let schedule = sheet(sheets, "schedule");
    assert!(parts.iter().all(|id| schedule.contains(&format!("| `{id}` |"))), "the schedule lacks one");
}

#[test]
fn what_was_there_is_left_alone_in_the_demo_specs() {
    for path in demo_specs() {
        let held = existing_parts_are_left_alone(house(), &spec_of(&path));
        assert!(held >= 16, "{}: only {held}", stem(&path));
    }
}

/// Beside each component one that comes out, in all its fields the same: nothing that is computed, drawn or told differs,
/// but for the list of what comes out, and the work of taking it out: in the first packet, the record of tests and what
/// handover asks for.
#[test]
fn what_comes_out_is_in_one_list_and_the_first_packet_alone() {
    for path in demo_specs() {
        let spec = spec_of(&path);
        let plain = load(&spec);
        let plain = pipeline::work_out(&plain).expect("profile");
        let mut more = spec.clone();
        refit(&mut more);
        for id in plain.build.parts.keys() {
            let mut gone = component(&mut more, id).clone();
            gone.insert("scope".into(), "removed".into());
            more["component"].as_table_mut().expect("components").insert(format!("zz-{id}"), gone.into());
        }
        let loaded = load(&more);
        let worked = pipeline::work_out(&loaded).expect("profile");
        assert_eq!(worked.build.removed.len(), plain.build.parts.len(), "{}", stem(&path));
        assert!(figures(&worked) == figures(&plain), "{}: the figures differ", stem(&path));
        let out = |id: &str| id.starts_with("zz-");
        let (more, same): (Vec<_>, Vec<_>) = worked.missing.iter().partition(|m| out(&m.id));
        assert_eq!(same, plain.missing.iter().collect::<Vec<_>>(), "{}", stem(&path));
        assert!(more.iter().all(|m| matches!(m.group, Group::Readings | Group::Holds)), "{more:?}");
        for part in worked.build.removed.values().filter(|p| p.kind.bought) {
            let taken = format!("{}.take-out", part.id);
            assert_eq!(worked.build.tasks.get(&taken).map(|t| t.stage.id()), Some("intake"), "{taken}");
        }
        let waits = |id: &str| worked.build.tasks[id].after.ids().any(out);
        assert!(plain.build.tasks.keys().all(|id| !waits(id)), "{}: other work waits by name", stem(&path));
        let [was, is] = [&plain, &worked].map(|w| pipeline::sheets(w, &Only::default()).expect("documents"));
        for (was, is) in was.iter().zip(&is) {
            assert_eq!(was.stem, is.stem);
            if was.stem == "schedule" {
                let out = is.markdown.split("## What comes out").nth(1).expect("a list").split("\n## ").next();
                let rows = out.expect("a list").lines().filter(|line| line.contains("| `zz-")).count();
                assert_eq!(rows, worked.build.removed.len(), "{}", stem(&path));
            } else if ["packet-01-intake", "test-record", "handover-binder"].contains(&was.stem.as_str()) {
                assert!(was.stem != "packet-01-intake" || is.markdown.contains("zz-"), "{}", stem(&path));
            } else {
                // What is not on the scales any more is said where the van is weighed.
                let scales = is.markdown.split_once("## Old and new on the scales").map_or("", |(_, rest)| rest);
                let scales = scales.split("\n## ").next().unwrap_or_default();
                let same = is.markdown.replacen(&format!("## Old and new on the scales{scales}\n"), "", 1);
                // A van that is not handed over yet says so.
                let same = same.replace("as planned for the handover on", "as handed over on");
                // Work goes on at the place where the stage before ended, so tasks may stand in another order.
                let lines = |text: &str| {
                    let plain = |line: &str| line.replace(|c: char| c.is_ascii_digit() || "–, ".contains(c), "");
                    let mut lines: Vec<String> = text.lines().map(plain).collect();
                    if was.stem.starts_with("packet-") {
                        // And which of two tasks alike comes first tells the steps of both.
                        lines.retain(|l| {
                            !l.is_empty()
                                && !l.starts_with(".[]")
                                && !l.starts_with("-[]Step")
                                && !l.starts_with("-[]Thesteps")
                        });
                        lines.sort_unstable();
                    }
                    lines
                };
                let was_told = was.markdown.replace("as planned for the handover on", "as handed over on");
                let (before, after) = (lines(&was_told), lines(&same));
                let gone = before.iter().find(|line| !after.contains(line));
                let come = after.iter().find(|line| !before.contains(line));
                let other = (gone, come, before.len(), after.len());
                assert!(before == after, "{}: {} differs: {other:?}", stem(&path), was.stem);
            }
        }
        let drawn =
            |w: &Worked<'_>| pipeline::drawings(w).into_iter().map(|d| (d.stem, d.svg)).collect::<BTreeMap<_, _>>();
        assert!(drawn(&plain) == drawn(&worked), "{}: a drawing differs", stem(&path));
    }
}

/// A small van: one part of each scope.
const SMALL: &str = r#"
spec = 2
build = { title = "Small van", handover = 2027-04-09, job = "refit" }
vehicle = { gross_mass = "3000 kg", identification = "XYZ9TESTVAN00017Q", plate = "QX 4711", odometer = "84123 km" }
contact.shop = { role = "the shop that built the van" }
place.bench = { about = "Box under the bench" }

[component]
bank   = { kind = "battery-bank", capacity = "100 Ah", max_discharge = "100 A", max_charge = "50 A", place = "bench" }
fuse   = { kind = "main-fuse", fed_from = "bank", run = "15 cm", place = "bench" }
switch = { kind = "battery-disconnect", fed_from = "fuse", run = "20 cm", place = "bench" }
busbar = { kind = "busbar", fed_from = "switch", run = "20 cm", place = "bench" }
fridge = { kind = "fridge", scope = "existing", fed_from = "busbar", run = "2 m", place = "bench", conductor = "10 AWG", mass = "19 kg", known = { conductor = "assumed", protection = "read", mass = "measured" }, protection = "15 A" }
fan    = { kind = "roof-fan", scope = "altered", fed_from = "busbar", run = "3 m", place = "bench" }
heater = { kind = "air-heater", scope = "removed", place = "bench", note = "The wall behind it is scorched." }
"#;

fn small() -> Loaded {
    pipeline::load(house(), "small.toml", SMALL.as_bytes()).expect("kinds")
}

#[test]
fn each_fact_is_told_with_how_it_is_known() {
    let loaded = small();
    let worked = pipeline::work_out(&loaded).expect("profile");
    assert_eq!(worked.counts().0, 0, "{:?}", worked.findings);
    let sheets = pipeline::sheets(&worked, &Only::default()).expect("documents");
    let schedule = sheet(&sheets, "schedule");
    let row = |id: &str| {
        let rows: Vec<&str> = schedule.lines().filter(|l| l.contains(&format!("| `{id}` |"))).collect();
        rows.join("\n")
    };
    for told in [
        "Compressor fridge (existing)",
        "19 kg (measured)",
        "12 AWG (assumed)",
        "15 A class T fuse, in line (read, family assumed)",
    ] {
        assert!(row("fridge").contains(told), "{told}: {}", row("fridge"));
    }
    assert!(row("fan").contains("(altered)") && !row("fan").contains("assumed"), "{}", row("fan"));
    let out = schedule.split("## What comes out").nth(1).expect("a list");
    assert!(out.contains("| `heater` |") && out.contains("The wall behind it is scorched"));
    // No verdict on what nobody has looked at is "kept" alone.
    let reckoned = sheet(&sheets, "calculation-sheet");
    let of_fridge = reckoned.lines().filter(|l| l.contains("</a>`fridge` |") && l.contains("kept"));
    let mut judged = 0;
    for line in of_fridge.filter(|l| {
        ["ampacity", "protection", "voltage-drop"].iter().any(|f| l.contains(&format!("\"fig-fridge.{f}\"")))
    }) {
        assert!(line.contains("assumed"), "{line}");
        judged += 1;
    }
    assert_eq!(judged, 3);
    let fan = reckoned.lines().filter(|l| l.contains("</a>`fan` |"));
    assert!(fan.clone().count() > 2 && fan.clone().all(|l| !l.contains("assumed")), "{:?}", fan.collect::<Vec<_>>());
}

/// Identification number, plate and odometer stand on packets and on the private leaf, and in nothing else.
#[test]
fn the_papers_of_the_vehicle_stay_in_the_shop() {
    // The odometer in kilometres and in miles, as a word: digits stand in digests too.
    let (words, numbers) = (["xyz9testvan00017q", "qx 4711"], ["84123", "52271", "52272"]);
    let heron = std::fs::read_to_string(root().join("specs/heron.toml")).expect("demo");
    let papers = "[vehicle]\nidentification = \"XYZ9TESTVAN00017Q\"\nplate = \"QX 4711\"\nodometer = \"84123 km\"\n";
    let heron = heron.replacen("[vehicle]\n", papers, 1);
    for text in [SMALL.to_owned(), heron] {
        let loaded = pipeline::load(house(), "papers.toml", text.as_bytes()).expect("kinds");
        let worked = pipeline::work_out(&loaded).expect("profile");
        let sheets = pipeline::sheets(&worked, &Only::default()).expect("documents");
        let tells = |text: &str| {
            let text = text.to_lowercase().replace([',', '\u{a0}'], " ");
            let is_number = |word: &str| numbers.contains(&word);
            words.iter().any(|word| text.contains(word)) || text.split(|c: char| !c.is_alphanumeric()).any(is_number)
        };
        let mut told = 0;
        for sheet in &sheets {
            let may = sheet.stem.starts_with("packet-") || sheet.stem == "handover-binder";
            assert_eq!(tells(&sheet.markdown), may, "{}", sheet.stem);
            told += usize::from(may);
            for (name, text) in &sheet.beside {
                assert!(!tells(text), "{name}");
            }
            let binder = sheet.stem == "handover-binder";
            let (front, leaf) = sheet.markdown.split_once("## Private leaf").unwrap_or((&sheet.markdown, ""));
            assert!(
                !binder || !tells(front) && tells(leaf) && !tells(leaf.split_once("<!-- page -->").expect("a page").1)
            );
        }
        assert!(told > 3);
        for file in pipeline::data(&worked).expect("data") {
            let text = String::from_utf8_lossy(&file.bytes);
            assert!(!tells(&text), "{}", file.name);
        }
        let snapshot = pipeline::snapshot(&worked, &sheets).expect("a snapshot");
        assert!(!tells(&serde_json::to_string(&snapshot).expect("JSON")), "record.json");
        let attached = worked.attached.as_ref().expect("a spec to attach");
        assert!(!tells(attached) && attached.len() + 150 > text.len());
        assert!(sheets.iter().any(|s| s.holds_spec));
    }
}

/// What this job leaves alone is nothing to wait for, and what was recorded of it stays without a word.
#[test]
fn nothing_waits_for_what_is_there() {
    let more = "\n[task.plaque]\nstage = \"handover\"\ntitle = \"Fit the plaque\"\nneeds = [\"fridge.connect\", \"heater.mount\"]\n\
                [recorded.serials]\nfridge = \"F-1187\"\nheater = \"H-2\"\n\
                [recorded.readings]\nfridge.amps-running = \"4.9 A\"\n\
                [recorded.circuits]\nfridge = { continuity = \"9 mohm\" }\n";
    let kinds = |id: &str| {
        let library = rigbinder::kinds::Library::load(crate::harness::built_in()).expect("kinds");
        library.get(id).expect("a kind").tasks.iter().map(|t| t.id.clone()).collect::<Vec<_>>()
    };
    let more = more.replace("fridge.connect", &format!("fridge.{}", kinds("fridge")[0]));
    let more = more.replace("heater.mount", &format!("heater.{}", kinds("air-heater")[0]));
    let loaded = pipeline::load(house(), "small.toml", format!("{SMALL}{more}").as_bytes()).expect("kinds");
    let worked = pipeline::work_out(&loaded).expect("profile");
    assert_eq!(worked.counts().0, 0, "{:?}", worked.findings);
    assert!(worked.build.tasks["plaque"].after.single.is_empty());
    let about = |name: &str| worked.findings.iter().any(|f| f.name == name);
    assert!(!about("recorded-nothing") && !about("unknown-task"), "{:?}", worked.findings);
    assert!(worked.findings.iter().all(|f| f.severity == Severity::Warning));
    let sheets = pipeline::sheets(&worked, &Only::default()).expect("documents");
    assert!(sheet(&sheets, "schedule").contains("F-1187"), "its number is known, and printed");
}

/// The handover begins no warranty of what is left alone.
#[test]
fn a_warranty_counts_from_the_handover_of_what_is_worked_on() {
    let text = SMALL.replace("run = \"2 m\"", "run = \"2 m\", warranty = \"2 years\"");
    let text = text.replace("run = \"3 m\"", "run = \"3 m\", warranty = \"2 years\"");
    let loaded = pipeline::load(house(), "small.toml", text.as_bytes()).expect("kinds");
    let worked = pipeline::work_out(&loaded).expect("profile");
    let dated = &worked.due_dates().expect("a handover").dated;
    let ends: Vec<&str> = dated.iter().filter(|d| d.id.ends_with("..warranty")).map(|d| d.component.as_str()).collect();
    assert_eq!(ends, ["fan"]);
}

/// An alarm that was there before ends its life by the day on it, and without one nobody knows when.
#[test]
fn a_life_does_not_begin_anew_with_this_handover() {
    let ends = |says: &str| {
        let alarm = format!("{SMALL}smoke = {{ kind = \"smoke-alarm\", place = \"bench\"{says} }}\n");
        let loaded = pipeline::load(house(), "small.toml", alarm.as_bytes()).expect("kinds");
        let worked = pipeline::work_out(&loaded).expect("profile");
        let plan = worked.due_dates().expect("a handover");
        let of = |d: &&rigbinder::compute::time::Due| d.component == "smoke" && d.kind == DueKind::Replace;
        let days: Vec<String> = plan.dated.iter().filter(of).map(|d| d.date.to_string()).collect();
        (days, plan.age_unknown.iter().filter(|item| item.component == "smoke").count())
    };
    // Ten years from the handover on 9 April 2027; from the day it was made; the day on it.
    assert_eq!(ends(""), (vec!["2037-04-09".to_owned()], 0));
    for scope in ["existing", "altered"] {
        assert_eq!(ends(&format!(", scope = \"{scope}\"")), (vec![], 1), "{scope}");
        let made = format!(", scope = \"{scope}\", made = 2021-02-03");
        assert_eq!(ends(&made), (vec!["2031-02-03".to_owned()], 0), "{scope}");
        let printed = format!(", scope = \"{scope}\", replace_by = 2029-08-01");
        assert_eq!(ends(&printed), (vec!["2029-08-01".to_owned()], 0), "{scope}");
    }
}
