//! Change notices: what a changed spec brings with it, and nothing else.

use crate::harness::{errors, folder, rigbinder, root};
use rigbinder::documents::change_notice::changes::{Changes, Difference};
use rigbinder::documents::snapshot::Snapshot;
use rigbinder::pipeline;

fn heron() -> String {
    std::fs::read_to_string(root().join("specs/heron.toml")).expect("spec")
}

fn loaded(name: &str, text: &str) -> pipeline::Loaded {
    pipeline::load(crate::harness::house(), name, text.as_bytes()).expect("loaded")
}

fn snapshot_of(text: &str) -> Snapshot {
    let loaded = loaded("spec.toml", text);
    let worked = pipeline::work_out(&loaded).expect("worked out");
    pipeline::whole_snapshot(&worked).expect("snapshot")
}

/// What leads from one spec to another, the ways of the first kept.
fn changes(old: &str, new: &str) -> (Changes, String) {
    let before = snapshot_of(old);
    let loaded = loaded("new.toml", new);
    let worked = pipeline::work_out_after(&loaded, Some(&before)).expect("worked out");
    assert_eq!(worked.counts().0, 0, "the changed spec has errors");
    let after = pipeline::whole_snapshot(&worked).expect("snapshot");
    let (notice, changes) = pipeline::change_notice(&worked, &before, &after).expect("notice");
    (changes, notice.markdown)
}

fn table<'t>(text: &'t str, id: &str) -> &'t str {
    let start = text.find(&format!("[component.{id}]")).expect("component");
    let end = text[start + 1..].find("\n[").map_or(text.len(), |e| start + 1 + e);
    &text[start..end]
}

/// The spec with a component under another id, wherever it is named.
fn renamed(spec: &str, was: &str, is: &str) -> String {
    let in_word = |c: char| c.is_ascii_alphanumeric() || c == '-' || c == '_';
    let line = |line: &str| {
        // Kinds and prose may hold the same word.
        let names = line.starts_with("[component.") || line.starts_with("fed_from") || line.starts_with(was);
        let Some((before, after)) = line.split_once(was).filter(|_| names) else { return line.to_owned() };
        if before.ends_with(in_word) || after.starts_with(in_word) {
            return line.to_owned();
        }
        format!("{before}{is}{after}")
    };
    spec.lines().map(line).collect::<Vec<_>>().join("\n")
}

fn ids(difference: &Difference) -> Vec<&str> {
    difference.changed.iter().map(|c| c.id.as_str()).collect()
}

#[test]
fn a_longer_run_changes_its_circuit_alone() {
    let old = heron();
    let fridge = table(&old, "fridge");
    let new = old.replace(fridge, &fridge.replace("run      = \"3.4 m\"", "run      = \"11.5 m\""));
    assert_ne!(old, new, "the run of the fridge stands otherwise in the spec");
    let (changes, notice) = changes(&old, &new);
    assert_eq!(ids(&changes.components), ["fridge"]);
    assert_eq!(ids(&changes.circuits), ["fridge"]);
    let conductor = changes.circuits.changed[0].values.iter().find(|v| v.name == "conductor").expect("thicker");
    assert_eq!((conductor.was.as_str(), conductor.is.as_str()), ("16 AWG", "12 AWG"));
    // The panel's way has an M4 screw; what the fridge itself takes, its maker says.
    let lug = changes.circuits.changed[0].values.iter().find(|v| v.name == "lug at the start").expect("another lug");
    assert_eq!(
        (lug.was.as_str(), lug.is.as_str()),
        ("ring 16 AWG × M4, to the maker's figure", "ring 12 AWG × M4, to the maker's figure")
    );
    assert!(
        notice.contains("ring 16 AWG × M4, to the maker's figure → ring 12 AWG × M4, to the maker's figure"),
        "{notice}"
    );
    assert!(
        notice.contains("| lug at the end | 16 AWG, to the maker's figure | 12 AWG, to the maker's figure |"),
        "{notice}"
    );
    assert!(changes.figures.changed.iter().all(|f| f.id.starts_with("fridge.")), "{:?}", ids(&changes.figures));
    for list in [&changes.components, &changes.circuits, &changes.tasks, &changes.figures, &changes.upkeep] {
        assert!(list.added.is_empty() && list.removed.is_empty());
    }
    assert!(changes.tasks.changed.iter().all(|t| t.id.starts_with("fridge.")));
    assert!(changes.renamed.is_empty() && changes.settings.is_empty() && changes.upkeep.is_empty());
    let sheets = ids(&changes.sheets);
    for sheet in ["packet-04-electrical-rough-in", "packet-08-electrical-fit-off", "schedule"] {
        assert!(sheets.contains(&sheet), "{sheets:?}");
    }
    // The first packet tells the hours of all.
    for sheet in ["packet-05-plumbing-rough-in", "maintenance-calendar", "packet-02-openings"] {
        assert!(!sheets.contains(&sheet), "{sheets:?}");
    }
    assert!(notice.contains("16 AWG → 12 AWG") && notice.contains("pull again"), "{notice}");
}

#[test]
fn a_clamp_tells_its_ferrule_and_its_torque_by_conductor() {
    let old = heron();
    let outlets = table(&old, "galley-outlets");
    let new = old.replace(outlets, &outlets.replace("fed_from", "conductor = \"8 AWG\"\nfed_from"));
    let (changes, _) = changes(&old, &new);
    let circuit = changes.circuits.changed.iter().find(|c| c.id == "galley-outlets").expect("circuit");
    let lug = circuit.values.iter().find(|v| v.name == "lug at the start").expect("another ferrule");
    // UL 486A-486B, NEC Table I.1: 20 lbf in to 10 AWG, 25 lbf in for 8 AWG.
    assert!(lug.was.ends_with("AWG, 20 in lb") && lug.was.starts_with("ferrule 1"), "{lug:?}");
    assert_eq!(lug.is, "ferrule 8 AWG, 25 in lb");
    assert!(
        changes.figures.changed.iter().any(|f| f.id == "galley-outlets.lug-at-start"),
        "{:?}",
        ids(&changes.figures)
    );
}

#[test]
fn a_record_from_before_lugs_were_reckoned_differs_in_none() {
    let now = snapshot_of(&heron());
    let mut then = now.clone();
    for circuit in then.circuits.values_mut() {
        circuit.values.retain(|name, _| !name.starts_with("lug at"));
    }
    then.figures.retain(|id, _| !id.contains(".lug-at-"));
    assert_ne!(then, now);
    assert!(Changes::between(&then, &now).is_empty() && Changes::between(&now, &then).is_empty());
}

#[test]
fn a_new_id_is_a_new_name_and_nothing_else() {
    let old = heron();
    let new = renamed(&renamed(&old, "battery-disconnect", "red-switch"), "fridge", "cold-box");
    let (changes, notice) = changes(&old, &new);
    let pair = |was: &str, is: &str| (was.to_owned(), is.to_owned());
    assert_eq!(changes.renamed, [pair("battery-disconnect", "red-switch"), pair("fridge", "cold-box")]);
    for list in [&changes.components, &changes.circuits, &changes.tasks, &changes.figures, &changes.upkeep] {
        assert!(list.is_empty(), "{list:?}");
    }
    assert!(notice.contains("## Labels") && notice.contains("`cold-box`"), "{notice}");
}

#[test]
fn a_new_id_moves_no_entry_of_the_calendar() {
    let old = heron();
    // Several of one kind share entries: the first of them by id shall be the last.
    let all = old.lines().filter_map(|l| l.strip_prefix("[component.")?.strip_suffix(']'));
    let alike: Vec<&str> = all.filter(|id| table(&old, id).contains("= \"array-1")).collect();
    let first = alike.iter().min().expect("several alike");
    let new = old.replace(first, "zz-last");
    let (changes, notice) = changes(&old, &new);
    assert_eq!(changes.renamed, [((*first).to_owned(), "zz-last".to_owned())]);
    assert!(changes.calendar.is_empty() && changes.upkeep.is_empty(), "{:?}", changes.calendar);
    assert!(!ids(&changes.sheets).contains(&"maintenance-calendar"), "{:?}", changes.sheets);
    assert!(notice.contains("under a new id"), "{notice}");
}

#[test]
fn untouched_circuits_keep_their_ways_when_one_goes() {
    let old = heron();
    let before = snapshot_of(&old);
    let ways = before.ways();
    // The first circuit of the fuse panel that nothing else names.
    let gone = ways.iter().find(|(id, (_, way))| {
        *way == 1 && old.contains(&format!("[component.{id}]")) && !old.contains(&format!("\"{id}\""))
    });
    let (gone, (panel, _)) = gone.expect("a circuit on way 1");
    let new = old.replace(table(&old, gone), "");
    let loaded = loaded("new.toml", &new);
    let worked = pipeline::work_out_after(&loaded, Some(&before)).expect("worked out");
    for circuit in worked.build.circuits.values().filter(|c| c.way.is_some()) {
        let earlier = ways.get(&circuit.id).expect("was there");
        assert_eq!((&circuit.from, circuit.way), (&earlier.0, Some(earlier.1)), "{} moved", circuit.id);
    }
    // Without the earlier ways the others of the panel move up, unless the spec gives them.
    let free = worked.build.circuits.values().filter(|c| &c.from == panel).all(|c| c.way != Some(1));
    assert!(free, "way 1 of {panel} is free now");
}

#[test]
fn a_build_against_itself_changes_nothing_and_the_way_back_is_the_reverse() {
    let read = |name: &str| std::fs::read_to_string(root().join(format!("specs/{name}.toml"))).expect("spec");
    let all: Vec<Snapshot> =
        ["heron", "turnstone", "purfling", "basalt", "weekend"].map(|n| snapshot_of(&read(n))).into();
    for a in &all {
        assert!(Changes::between(a, a).is_empty());
        let json = serde_json::to_string(a).expect("written");
        let back: Snapshot = serde_json::from_str(&json).expect("read");
        assert_eq!(&back, a, "a snapshot reads back as it was");
        for b in &all {
            assert_eq!(Changes::between(a, b), Changes::between(b, a).reversed());
        }
    }
}

#[test]
fn texts_of_one_revision_bear_marks_that_tell_them_apart() {
    let read = |name: &str| std::fs::read_to_string(root().join(format!("specs/{name}.toml"))).expect("spec");
    let marks = |text: &str| {
        let loaded = loaded("spec.toml", text);
        let worked = pipeline::work_out(&loaded).expect("worked out");
        let sheets = pipeline::sheets(&worked, &pipeline::Only::default()).expect("documents");
        let mark = |s: &pipeline::Sheet| {
            let at = s.typst.find("\n  mark: \"").expect("mark");
            let mark = s.typst[at + 10..].split('"').next().expect("mark").to_owned();
            assert!(mark.len() == 6 && s.html.contains(&format!("text {mark}")), "{}: {mark}", s.stem);
            assert!(!s.html.contains("revision A") && !s.markdown.contains("revision A"), "{}: made up", s.stem);
            (s.stem.clone(), mark)
        };
        sheets.iter().map(mark).collect::<std::collections::BTreeMap<_, _>>()
    };
    let spec = read("weekend");
    assert!(!spec.contains("revision"), "the spec gives none");
    let was = marks(&spec);
    let is = marks(&spec.replacen("run = \"2.6 m\", draw", "run = \"7.9 m\", draw", 1));
    let moved: Vec<&str> = was.keys().filter(|stem| was[*stem] != is[*stem]).map(String::as_str).collect();
    assert!(moved.contains(&"schedule") && moved.contains(&"service-file"), "{moved:?}");
    assert!(!moved.contains(&"packet-05-plumbing-rough-in") && !moved.contains(&"maintenance-calendar"), "{moved:?}");
    // Another letter alone is no other text.
    let lettered = |letter: &str| marks(&spec.replacen("[build]", &format!("[build]\nrevision = \"{letter}\""), 1));
    assert_eq!(lettered("B"), lettered("C"));
}

#[test]
fn a_compile_after_a_record_writes_the_notice_and_asks_for_a_new_revision() {
    let here = folder("changes-record");
    let spec = std::fs::read_to_string(root().join("specs/weekend.toml")).expect("spec");
    let spec = spec.replacen("[build]\n", "[build]\nrevision = \"A\"\n", 1);
    let run = |args: &[&str]| {
        let output = rigbinder(&here, args);
        assert_eq!(output.status.code(), Some(0), "{}", errors(&output));
        output
    };
    std::fs::write(here.join("van.toml"), &spec).expect("spec");
    run(&["compile", "van.toml", "--no-pdf"]);
    let out = here.join("docs-out/van");
    std::fs::copy(out.join("record.json"), here.join("issued.json")).expect("record");
    let record = std::fs::read_to_string(here.join("issued.json")).expect("record");
    let record: serde_json::Value = serde_json::from_str(&record).expect("JSON");
    assert_eq!(record["revision"], "A");
    assert!(record["build"]["components"].as_object().is_some_and(|c| c.len() > 10));
    assert!(!out.join("change-notice.md").exists());

    // The same again: no notice is needed and no new revision.
    let after = ["compile", "van.toml", "--no-pdf", "--revision-from", "issued.json"];
    let told = errors(&run(&after));
    assert!(!told.contains("revision-not-raised"), "{told}");
    let notice = std::fs::read_to_string(out.join("change-notice.md")).expect("notice");
    assert!(notice.contains("Nothing changed."), "{notice}");

    let line = "run = \"4.5 m\"";
    assert!(spec.contains(line), "the charger's run stands otherwise in the spec");
    std::fs::write(here.join("van.toml"), spec.replacen(line, "run = \"5.7 m\"", 1)).expect("spec");
    let told = errors(&run(&after));
    assert!(told.contains("revision-not-raised"), "{told}");
    let notice = std::fs::read_to_string(out.join("change-notice.md")).expect("notice");
    assert!(notice.contains("5.7 m") && notice.contains("## Wires"), "{notice}");
    let compared = run(&["compare", "issued.json", "van.toml"]);
    let compared = String::from_utf8(compared.stdout).expect("text");
    assert!(compared.contains("5.7 m"), "{compared}");

    // A new revision of it is quiet, and without the record the notice goes.
    let raised = spec.replacen(line, "run = \"5.7 m\"", 1).replacen("revision = \"A\"", "revision = \"B\"", 1);
    std::fs::write(here.join("van.toml"), raised).expect("spec");
    let told = errors(&run(&after));
    assert!(!told.contains("revision-not-raised"), "{told}");
    run(&["compile", "van.toml", "--no-pdf"]);
    assert!(!out.join("change-notice.md").exists());
}

/// Loads have a limit of their own, differences one to either side.
#[test]
fn a_heavier_bank_is_told_by_what_is_left_on_axles_and_sides() {
    let old = heron();
    let new = old.replacen("mass          = \"72 kg\"", "mass          = \"98 kg\"", 1);
    assert_ne!(old, new);
    let (_, notice) = changes(&old, &new);
    assert!(!notice.contains("proven"), "{notice}");
    let figures: Vec<&str> = notice.lines().filter(|l| l.starts_with("| ")).collect();
    let row = |what: &str| {
        let found = figures.iter().find(|l| what.split('|').all(|w| l.contains(w)));
        *found.unwrap_or_else(|| panic!("no row of {what} in\n{notice}"))
    };
    // 26 kg more on a rear axle that carries 5709 lb: what is left falls by what the axle gains.
    assert!(row("rear axle|Carriers").contains("kept, "));
    assert!(row("Difference of the sides").contains("at most 5 %"));
    let side = row("Left side|Weighed less computed");
    let pounds: Vec<f64> =
        side.split(" lb").filter_map(|t| t.rsplit(['±', ' ', ',']).next()?.replace('−', "-").parse().ok()).collect();
    let [_, is, bound, left] = pounds[..] else { panic!("{side}") };
    assert!((bound - is.abs() - left).abs() < 1.0, "what is left to either side: {side}");
}

/// To take the bank out is the most dangerous work there is: the caution stands before it.
#[test]
fn a_replaced_bank_is_opened_with_a_caution() {
    let old = heron();
    let new = old.replacen("capacity      = \"840 Ah\"", "capacity      = \"920 Ah\"", 1);
    assert_ne!(old, new);
    let (_, notice) = changes(&old, &new);
    assert!(notice.contains("Take out House bank, fit another"), "{notice}");
    assert!(notice.contains("can drive about") && notice.contains("take the main fuse out"), "{notice}");
}

/// What goes elsewhere is moved once, in the stage that fits it, however many stages have work on it; and the hole that it
/// leaves in the skin is closed in the stage that had cut it. What comes out is taken out once too.
#[test]
fn a_part_is_moved_once_and_its_old_opening_is_closed() {
    let old = heron();
    let inlet = table(&old, "shore-inlet");
    let moved = old.replace(inlet, &inlet.replace("place   = \"left-skin\"", "place   = \"right-edge\""));
    assert_ne!(old, moved, "the inlet stands otherwise in the spec");
    let stages = |notice: &str, row: &str| -> Vec<String> {
        let sections = notice.split("\n## ").filter(|section| section.contains(row));
        sections.map(|section| section.lines().next().unwrap_or_default().to_owned()).collect()
    };
    let (_, notice) = changes(&old, &moved);
    let at = stages(&notice, "| move | Shore inlet |");
    assert!(matches!(at.as_slice(), [stage] if stage.starts_with("Exterior")), "{at:?}");
    assert_eq!(notice.matches("| move | Shore inlet |").count(), 1, "{notice}");
    let at = stages(&notice, "| close | Opening of Shore inlet at its old place");
    assert!(matches!(at.as_slice(), [stage] if stage.starts_with("Openings")), "{at:?}");

    let camera = |line: &&str| !(line.starts_with("rear-camera ") || line.starts_with("rear-camera."));
    let gone = old.replace(table(&old, "rear-camera"), "");
    let gone = gone.lines().filter(camera).collect::<Vec<_>>().join("\n");
    let (_, notice) = changes(&old, &gone);
    assert_eq!(notice.matches("| take out | Reversing camera |").count(), 1, "{notice}");
    assert_eq!(notice.matches("| close | Opening of Reversing camera at its old place").count(), 1, "{notice}");
}
