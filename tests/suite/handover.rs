//! The gate: heron can be handed over, and not without any single thing that was recorded of it.

use crate::harness::{errors, folder, load, rigbinder, root};
use rigbinder::compute::handover::Group;
use rigbinder::pipeline::{self, Loaded, Only};
use std::collections::BTreeSet;

fn heron() -> String {
    std::fs::read_to_string(root().join("specs/heron.toml")).expect("demo")
}

fn read(text: &str) -> Loaded {
    pipeline::load(crate::harness::house(), "test.toml", text.as_bytes()).expect("kinds")
}

/// Id and group of what is missing, and whether the sheets say DRAFT.
fn gate(text: &str) -> (Vec<(Group, String)>, bool) {
    let loaded = read(text);
    let worked = pipeline::work_out(&loaded).expect("profile");
    let missing = worked.missing.iter().map(|m| (m.group, m.id.clone())).collect();
    (missing, pipeline::page_setup(&worked).draft)
}

/// Lines with a key in a section of heron.
fn lines<'t>(text: &'t str, section: &str) -> Vec<&'t str> {
    let after = text.split(&format!("\n[{section}]\n")).nth(1).expect("section");
    let own = after.split("\n[").next().expect("text");
    own.lines().filter(|l| l.contains(" = ")).collect()
}

#[test]
fn heron_is_ready_and_turnstone_is_under_way() {
    assert_eq!(gate(&heron()), (Vec::new(), false));
    let loaded = load(&root().join("specs/turnstone.toml"));
    let worked = pipeline::work_out(&loaded).expect("profile");
    let groups: BTreeSet<Group> = worked.missing.iter().map(|m| m.group).collect();
    let all = [Group::Warnings, Group::Stages, Group::Holds, Group::Readings, Group::Circuits, Group::Serials];
    assert!(all.iter().all(|g| groups.contains(g)) && groups.contains(&Group::Weights), "{groups:?}");
    assert!(pipeline::page_setup(&worked).draft);
    // What is recorded is not asked for.
    assert!(worked.missing.iter().all(|m| m.id != "intake" && m.id != "van.intake-front-axle"));
}

#[test]
fn without_one_record_exactly_that_is_missing() {
    let text = heron();
    let sections = [
        ("recorded.serials", Group::Serials, 7),
        ("recorded.readings", Group::Readings, 31),
        ("recorded.circuits", Group::Circuits, 13),
        ("recorded.signed", Group::Holds, 13),
        ("recorded.weights", Group::Weights, 1),
    ];
    for (section, group, step) in sections {
        for line in lines(&text, section).into_iter().step_by(step) {
            let key = line.split(" = ").next().expect("key").trim().trim_matches('"').to_owned();
            let axle = key.ends_with("_axle");
            if group == Group::Weights && !axle {
                continue;
            }
            let group = if section == "recorded.signed" && !key.contains('.') { Group::Stages } else { group };
            let without = text.replacen(&format!("\n{line}\n"), "\n", 1);
            assert_ne!(without, text, "{line}");
            let (mut missing, draft) = gate(&without);
            // What a signature stands on is missed at the signature as well.
            let unproved = (Group::Warnings, "signed-without-proof".to_owned());
            missing.retain(|m| *m != unproved);
            assert_eq!((missing, draft), (vec![(group, key)], true), "{section}: {line}");
        }
    }
}

#[test]
fn a_test_of_a_circuit_is_missed_by_its_name() {
    let text = heron();
    let row = lines(&text, "recorded.circuits").into_iter().find(|l| l.starts_with("water-pump ")).expect("pump");
    let (_, rest) = row.split_once("continuity = ").expect("continuity");
    let short = row.replace(&format!("continuity = {}, ", rest.split(", ").next().expect("value")), "");
    let loaded = read(&text.replace(row, &short));
    let worked = pipeline::work_out(&loaded).expect("profile");
    let circuits = worked.missing.iter().filter(|m| m.group == Group::Circuits);
    let writes: Vec<_> = circuits.map(|m| m.write.as_str()).collect();
    assert_eq!(writes, ["water-pump = { continuity = \"…\" }"]);
}

#[test]
fn a_reading_out_of_tolerance_stops_the_handover_until_it_is_accepted() {
    let text = heron();
    let line =
        lines(&text, "recorded.readings").into_iter().find(|l| l.starts_with("fridge.amps-running")).expect("fridge");
    // The packet expects 5 A ± 20 %.
    let off = text.replace(line, "fridge.amps-running = \"6.1 A\"");
    assert_eq!(gate(&off), (vec![(Group::Warnings, "reading-out-of-tolerance".to_owned())], true));
    let edge = text.replace(line, "fridge.amps-running = \"6 A\"");
    assert_eq!(gate(&edge), (Vec::new(), false));
    let accepted = format!(
        "{off}\n[[accepted]]\nfinding = \"reading-out-of-tolerance\"\nabout = \"fridge\"\nreason = \"Hot day.\"\nby = \"J. P.\"\n"
    );
    assert_eq!(gate(&accepted), (Vec::new(), false));
}

#[test]
fn the_command_lists_what_is_missing_and_says_so_by_its_exit_code() {
    let here = folder("gate");
    let spec = |name: &str| root().join("specs").join(name).display().to_string();
    let ready = rigbinder(&here, &["check", &spec("heron.toml"), "--for", "handover", "--message-format", "json"]);
    assert_eq!(ready.status.code(), Some(0), "{}", errors(&ready));
    let json: serde_json::Value = serde_json::from_slice(&ready.stdout).expect("JSON");
    assert_eq!(json, serde_json::json!({ "ready": true, "missing": [] }));
    let draft = rigbinder(&here, &["check", &spec("turnstone.toml"), "--for", "handover"]);
    assert_eq!(draft.status.code(), Some(1));
    let text = String::from_utf8(draft.stdout).expect("UTF-8");
    for part in ["[recorded.signed]\n", "[recorded.readings]\n", "handover = { by = \"…\", date = … }", "; expect "]
    {
        assert!(text.contains(part), "{part}");
    }
}

/// The lines under each section are TOML as they stand, once the blanks are filled.
#[test]
fn what_the_list_says_to_write_is_read_back() {
    let loaded = load(&root().join("specs/turnstone.toml"));
    let worked = pipeline::work_out(&loaded).expect("profile");
    for m in worked.missing.iter().filter(|m| !matches!(m.group, Group::Errors | Group::Warnings)) {
        let filled = m.write.replace("date = …", "date = 2027-06-01").replace("= …", "= 2027-06-01");
        assert!(filled.parse::<toml::Table>().is_ok(), "{}", m.write);
    }
}

/// Where one insulation test proves several circuits, the record names it in place of a blank and the packet says how.
#[test]
fn what_one_test_proves_is_not_left_blank() {
    let loaded = crate::harness::load(&root().join("specs/weekend.toml"));
    let worked = rigbinder::pipeline::work_out(&loaded).expect("profile");
    let set = worked.build.handover_set();
    let spared: Vec<_> = worked.readings.circuits.iter().filter(|t| t.proved_with(set).is_some()).collect();
    assert!(spared.len() >= 5 && spared.len() < worked.readings.circuits.len(), "{}", spared.len());
    let only = rigbinder::pipeline::Only {
        documents: vec!["test-record".to_owned(), "packet".to_owned()],
        stages: vec![rigbinder::kinds::Stage::ElectricalRoughIn],
    };
    let made = rigbinder::pipeline::sheets(&worked, &only).expect("documents");
    let text = |stem: &str| made.iter().find(|s| s.stem.starts_with(stem)).map(|s| s.markdown.as_str()).expect(stem);
    let record = text("test-record");
    for test in spared {
        let row = record.lines().find(|l| l.starts_with(&format!("| `{}` |", test.circuit))).expect("a row");
        assert!(row.contains(&format!("| with {} |", test.proved_at)), "{row}");
    }
    assert!(text("packet-04").contains("is proved by one reading"));
}

/// Who pastes the lines and fills none of them is told of blanks and of nothing else, and no mend makes a text of a day.
#[test]
fn lines_that_nobody_filled_are_told_as_blanks() {
    let text = std::fs::read_to_string(root().join("templates/spec/starter.toml")).expect("starter");
    let here = folder("gate-blanks");
    std::fs::write(here.join("starter.toml"), &text).expect("spec");
    let output = rigbinder(&here, &["check", "starter.toml", "--for", "handover"]);
    let lines = String::from_utf8(output.stdout).expect("UTF-8");
    let before = crate::harness::findings(&text).len();
    assert_eq!(before, 0, "the starter is clean");
    let pasted = crate::harness::findings(&format!("{text}{lines}"));
    assert!(pasted.len() >= 10, "{}", pasted.len());
    for finding in &pasted {
        assert!(finding.headline.contains("is not filled in"), "{}", finding.headline);
        assert!(finding.fix.is_none(), "{}: {:?}", finding.headline, finding.fix);
    }
    // The days known, the rest is still blank.
    let dated = crate::harness::findings(&format!("{text}{}", lines.replace("date = …", "date = 2027-06-01")));
    let blank =
        |f: &rigbinder::diag::Finding| f.name == "record-is-placeholder" || f.headline.contains("is not filled in");
    assert!(dated.len() > 50, "{}", dated.len());
    let others: Vec<_> = dated.iter().filter(|f| !blank(f)).map(|f| format!("{}: {}", f.name, f.headline)).collect();
    assert!(others.is_empty(), "{others:?}");
}

/// All that the command prints is a piece of a spec, once the blanks are filled, and a spec that takes it asks for it no
/// more.
#[test]
fn what_the_list_prints_can_be_pasted_as_a_whole() {
    let here = folder("gate-paste");
    let small = "[build]\ntitle = \"T\"\n[component.fridge]\nkind = \"fridge\"\n";
    std::fs::write(here.join("small.toml"), small).expect("spec");
    assert_eq!(rigbinder(&here, &["new", "starter.toml"]).status.code(), Some(0));
    let specs = ["turnstone", "weekend", "purfling", "basalt"]
        .map(|n| root().join(format!("specs/{n}.toml")).display().to_string());
    for spec in specs.iter().map(String::as_str).chain(["small.toml", "starter.toml"]) {
        let output = rigbinder(&here, &["check", spec, "--for", "handover"]);
        let text = String::from_utf8(output.stdout).expect("UTF-8");
        let filled = text.replace("date = …", "date = 2027-06-01").replace("handover = …", "handover = 2027-06-01");
        let table: toml::Table = toml::from_str(&filled).unwrap_or_else(|e| panic!("{spec}: {e}\n{filled}"));
        assert!(table["recorded"]["signed"].as_table().is_some_and(|t| !t.is_empty()), "{spec}");
        for header in text.lines().filter(|l| l.starts_with('[')) {
            assert_eq!(text.lines().filter(|l| *l == header).count(), 1, "{spec}: {header}");
        }
    }
    let text = std::fs::read_to_string(here.join("starter.toml")).expect("starter");
    let output = rigbinder(&here, &["check", "starter.toml", "--for", "handover"]);
    let lines = String::from_utf8(output.stdout).expect("UTF-8").replace("date = …", "date = 2027-06-01");
    // A blank that nobody filled is no signature.
    let lines = lines.replace("by = \"…\"", "by = \"A. P.\"");
    std::fs::write(here.join("pasted.toml"), text + &lines).expect("spec");
    let output = rigbinder(&here, &["check", "pasted.toml", "--for", "handover", "--message-format", "json"]);
    let value: serde_json::Value = serde_json::from_slice(&output.stdout).expect("JSON");
    let groups: BTreeSet<&str> =
        value["missing"].as_array().expect("list").iter().filter_map(|m| m["group"].as_str()).collect();
    assert!(!groups.contains("stages") && !groups.contains("holds"), "{groups:?}");
}

/// Cells of the table rows of a Markdown text.
fn rows(markdown: &str) -> Vec<Vec<&str>> {
    let row = |l: &'_ str| l.starts_with("| ") && !l.contains("---");
    markdown.lines().filter(|l| row(l)).map(|l| l.trim_matches('|').split(" | ").map(str::trim).collect()).collect()
}

#[test]
fn the_test_record_expects_what_the_packets_expect() {
    // What was read is held to the limit at the current that was read; the packets print the one expected.
    let text = heron();
    let (before, recorded) = text.split_once("\n[recorded.circuits]\n").expect("section");
    let (_, after) = recorded.split_once("\n[").expect("another section");
    let loaded = read(&format!("{before}\n[{after}"));
    let worked = pipeline::work_out(&loaded).expect("profile");
    let only = Only { documents: vec!["packet".to_owned(), "test-record".to_owned()], stages: Vec::new() };
    let sheets = pipeline::sheets(&worked, &only).expect("documents");
    let record = sheets.iter().find(|s| s.stem == "test-record").expect("record");
    let expected: BTreeSet<Vec<&str>> =
        rows(&record.markdown).into_iter().filter(|r| r.len() == 6).map(|r| r[1..4].to_vec()).collect();
    let heads: Vec<String> = expected
        .iter()
        .map(|row| match [row[1], row[2]].into_iter().filter(|said| !said.is_empty()).collect::<Vec<_>>().join(", ") {
            good if good.is_empty() => format!("{} (`", row[0]),
            good => format!("{}: **{good}** (`", row[0]),
        })
        .collect();
    let mut compared = 0;
    for packet in sheets.iter().filter(|s| s.stem.starts_with("packet")) {
        let is_reading = |line: &&str| line.starts_with("- ") && !line.starts_with("- [") && line.contains(" (`");
        for line in packet.markdown.lines().filter(is_reading).filter(|line| !line.contains("`):")) {
            assert!(heads.iter().any(|head| line.contains(head.as_str())), "{}: {line}", packet.stem);
            compared += 1;
        }
        let live = packet.markdown.split("## Circuit tests, live").nth(1).unwrap_or("");
        for row in rows(live).into_iter().filter(|r| r.len() == 10 && r[3] == "☐") {
            let (label, most, amps) = (row[0], row[7], row[8]);
            let told = rows(&record.markdown).into_iter().find(|r| r.len() == 10 && r[0] == label).expect("circuit");
            let (limit, at) = told[5].trim_start_matches("≤ ").split_once(" (at ").unwrap_or((told[5], ""));
            assert_eq!((limit, told[7]), (most, amps), "{label}");
            assert!(amps.contains(at.trim_end_matches(')')), "{label}: the limit is at {at}, the current {amps}");
            compared += 1;
        }
    }
    assert!(compared > 150, "{compared}");
}

#[test]
fn the_binder_opens_on_what_is_needed_and_keeps_secrets() {
    // The master of the auxiliary panel is hidden.
    let loaded = read(&heron().replace("guard    = \"keyed\"", "guard    = \"hidden\""));
    let worked = pipeline::work_out(&loaded).expect("profile");
    let only = Only { documents: vec!["binder".to_owned()], stages: Vec::new() };
    let sheets = pipeline::sheets(&worked, &only).expect("documents");
    let text = &sheets.iter().find(|s| s.stem == "handover-binder").expect("binder").markdown;
    let order = [
        "{#fast}",
        "{#call}",
        "{#cards}",
        "{#walk}",
        "{#accepted}",
        "{#replace}",
        "{#keys}",
        "document: owners-manual",
        "{#register}",
        "document: maintenance-calendar",
        "{#tested}",
        "{#index}",
    ];
    let places: Vec<usize> = order.iter().map(|o| text.find(o).unwrap_or_else(|| panic!("{o}"))).collect();
    assert!(places.is_sorted(), "{places:?}");
    let fast = &text[places[0]..places[1]];
    // Way, fuse and page of the pump; the phone; weight, height; alarms; frost.
    let pump = worked.build.circuits.get("water-pump").expect("pump");
    let way = format!("way {}:", pump.way.expect("way"));
    let row = fast.lines().find(|l| l.contains("Water pump: ")).expect("row of the pump");
    assert!(row.contains(&way) && row.contains("A blade fuse"), "{row}");
    for part in [
        "+1 555 555 0142",
        "8038 lb (3646 kg) as weighed",
        "11 ft 7 in (3.53 m)",
        "2 October 2033",
        "season-before-first-frost",
    ] {
        assert!(fast.contains(part) || fast.contains(&part.replace('-', "\\-")), "{part}\n{fast}");
    }
    let walk = &text[places[3]..places[4]];
    let stops = ["the front", "right side", "the rear", "left side", "Under the van", "roof", "Inside"];
    let at: Vec<usize> = stops.into_iter().map(|s| walk.find(s).expect(s)).collect();
    assert!(at.is_sorted(), "{at:?}");
    // What nobody works is not tried: a bar, a pipe, a coat of paint. What is worked is.
    for part in worked.build.parts.values().filter(|p| !p.kind.owner.walk) {
        assert!(!walk.contains(&format!("**{}**", part.name)), "{} is on the walk", part.name);
    }
    let (rows, parts) = (walk.matches("| ☐ |").count(), worked.build.parts.len());
    assert!((60..parts * 2 / 3).contains(&rows), "{rows} rows for {parts} parts");
    for name in ["Water pump", "Shore inlet", "Inverter", "Galley tap", "Awning", "Smoke alarm", "Main disconnect"] {
        assert!(walk.contains(&format!("**{name}")), "{name} is not on the walk");
    }
    let secrets: Vec<_> = worked.build.parts.values().filter(|p| p.confidential).collect();
    assert!(!secrets.is_empty() && secrets.iter().all(|p| !walk.contains(&format!("**{}**", p.name))));
}
