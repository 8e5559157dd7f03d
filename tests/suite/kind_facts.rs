//! What the kinds say of the wiring is what the wiring is: laws over the texts of all kinds and over the demo specs.

use crate::harness::{demo_specs, files, house, load, root, sheets, stem};
use rigbinder::build::{Conductor, Part};
use rigbinder::compute::geometry::board::boards;
use rigbinder::compute::network::reach_of_tail;
use rigbinder::kinds::{Carries, Kind, Library, Network, Role, Stage};
use rigbinder::pipeline::{self, Sheet, Worked};
use std::path::Path;

/// Values that are no texts: what a field may be, and what people call a thing.
const NO_TEXTS: [&str; 6] = ["default", "min", "max", "choices", "also", "made_for"];

/// Every text of a table, with the keys that lead to it.
fn texts(value: &toml::Value, path: &str, put: &mut impl FnMut(&str, &str)) {
    match value {
        toml::Value::String(text) => put(path, text),
        toml::Value::Array(all) => all.iter().for_each(|v| texts(v, path, put)),
        toml::Value::Table(table) => {
            for (key, value) in table.iter().filter(|(key, _)| !NO_TEXTS.contains(&key.as_str())) {
                texts(value, &format!("{path}.{key}"), put);
            }
        }
        _ => {}
    }
}

/// All texts of all kinds: the file, the keys, the text.
fn all_texts() -> Vec<(String, String, String)> {
    let mut all = Vec::new();
    for path in files("templates/kinds", "toml") {
        let text = std::fs::read_to_string(&path).expect("kind");
        let table: toml::Table = text.parse().expect("TOML");
        texts(&toml::Value::Table(table), "", &mut |keys, text| {
            all.push((stem(&path).to_owned(), keys.to_owned(), text.to_owned()));
        });
    }
    assert!(all.len() > 3000, "{} texts", all.len());
    all
}

/// A kind serves vans of 12 V, 24 V and 48 V: its texts name the voltage by a field or a fact.
#[test]
fn a_kind_names_a_nominal_voltage_by_a_fact() {
    let nominal = |text: &str| {
        let words: Vec<&str> = text.split(|c: char| c.is_whitespace() || "(),;:\"".contains(c)).collect();
        words.windows(2).any(|pair| ["12", "24", "48"].contains(&pair[0]) && pair[1].trim_end_matches('.') == "V")
    };
    assert!(nominal("A 12 V socket.") && nominal("built for 48 V.") && !nominal("12 VA") && !nominal("112 V"));
    let named: Vec<_> = all_texts().into_iter().filter(|(_, _, text)| nominal(text)).collect();
    assert!(named.is_empty(), "{named:#?}");
}

/// Words for a paper.
const PAPERS: [&str; 7] = ["sheet", "sheets", "drawing", "card", "record", "leaf", "binder"];

/// Whose paper it may be, or what a sheet is of, beside those that rigbinder makes.
const OF_OTHERS: [&str; 24] = [
    "a",
    "the",
    "its",
    "this",
    "that",
    "each",
    "on",
    "of",
    "signed",
    "paper",
    "data",
    "codes",
    "SIM",
    "Mind",
    "Cut",
    "cut",
    "thin",
    "bare",
    "body",
    "damping",
    "insulating",
    "Unreinforced",
    "or",
    "to",
];

/// Papers that rigbinder makes, and what only they bear: the name of a file, a place, or the words under a drawing.
const MADE: [(&str, &str); 8] = [
    ("calculation sheet", "calculation-sheet"),
    ("test record", "test-record"),
    ("service file", "service-file"),
    ("handover binder", "handover-binder"),
    ("height card", "card-height.svg"),
    ("weight card", "card-weight.svg"),
    ("pressure card", "card-tyres.svg"),
    ("private leaf", "{#private-leaf}"),
];

#[test]
fn no_paper_is_named_that_nobody_has() {
    let mut unknown = Vec::new();
    for (kind, keys, text) in all_texts() {
        let words: Vec<&str> = text.split(|c: char| !c.is_alphanumeric() && !"'’-_".contains(c)).collect();
        for pair in words.windows(2).filter(|pair| PAPERS.contains(&pair[1])) {
            let [of, paper] = pair else { continue };
            let made = MADE.iter().any(|(name, _)| *name == format!("{} {paper}", of.to_lowercase()));
            let others = of.is_empty() || of.ends_with("'s") || of.ends_with('\'') || OF_OTHERS.contains(of);
            if !made && !others {
                unknown.push(format!("{kind}{keys}: {of} {paper} in “{text}”"));
            }
        }
    }
    assert!(unknown.is_empty(), "{unknown:#?}");
    // What is called made is made; a private leaf where a part is hidden, which heron has none of.
    let binder = std::fs::read_to_string(root().join("templates/documents/handover_binder.md")).expect("template");
    let heron = sheets(&load(Path::new("specs/heron.toml")));
    for (name, words) in MADE {
        assert!(
            binder.contains(words) || heron.iter().any(|s| s.stem == words || s.markdown.contains(words)),
            "no {name}: {words}"
        );
    }
}

/// A number with nothing behind it is no step.
#[test]
fn no_step_is_empty() {
    let is_empty = |line: &str| {
        let rest = line.trim_start_matches(|c: char| c.is_ascii_digit());
        rest.len() < line.len() && matches!(rest.trim_end(), "." | ". [ ]" | ". [x]")
    };
    assert!(is_empty("5. [ ] ") && is_empty("12. ") && !is_empty("5. [ ] Cut it.") && !is_empty("5.5 V"));
    for path in demo_specs() {
        for sheet in sheets(&load(&path)) {
            let empty: Vec<_> = sheet.markdown.lines().enumerate().filter(|(_, line)| is_empty(line)).collect();
            assert!(empty.is_empty(), "{} {}: {empty:?}", path.display(), sheet.stem);
        }
    }
}

fn every_demo(mut with: impl FnMut(&Path, &Worked<'_>)) {
    for path in demo_specs() {
        let loaded = load(&path);
        with(&path, &pipeline::work_out(&loaded).expect("profile"));
    }
}

/// From one post of a charger goes one negative, which carries the larger of both currents: a second one would lead from
/// the bar to the body beside the bond. Common practice, no source.
#[test]
fn one_post_of_a_charger_has_one_negative_of_the_larger_size() {
    let mut both_sides = 0;
    every_demo(|path, worked| {
        let (build, all) = (&worked.build, &worked.electrical);
        for part in build.parts.values().filter(|p| p.role() == Some(Role::Charger)) {
            for post in part.kind.posts.iter().filter(|post| post.takes == Carries::Negative) {
                let there = |c: &&Conductor| c.ends().iter().any(|end| end.part == part.id && end.post == post.id);
                let negatives: Vec<&Conductor> = build.wiring.conductors.values().filter(there).collect();
                let ids: Vec<&str> = negatives.iter().map(|c| c.id.as_str()).collect();
                assert!(negatives.len() <= 1, "{}: {ids:?} leave one post of {}", path.display(), part.id);
                let Some(one) = negatives.first() else { continue };
                let Some(also) = &one.also else { continue };
                both_sides += 1;
                let size = all.conductors[&one.id].size.expect("a size").area().0;
                for circuit in one.circuit.iter().chain([also]) {
                    let positive = all.circuits[circuit].conductor().expect("sized").size.area().0;
                    assert!(size >= positive, "{}: {} is thinner than {circuit}", path.display(), one.id);
                }
            }
        }
    });
    assert!(both_sides >= 3, "{both_sides} chargers between vehicle and house");
}

/// What a step asks for beside parts and tools is in what its kind takes along, and so on a list.
#[test]
fn small_parts_of_steps_are_on_a_list() {
    let mut listed = 0;
    for path in files("templates/kinds", "toml") {
        let kind: toml::Table = std::fs::read_to_string(&path).expect("kind").parse().expect("TOML");
        let Some(tasks) = kind.get("task").and_then(toml::Value::as_array) else { continue };
        let text =
            |key: &str| tasks.iter().filter_map(|task| task.get(key)).map(ToString::to_string).collect::<String>();
        let (steps, takes) = (text("steps") + &text("cautions"), text("takes"));
        for (said, what) in [
            ("insulating boot", "insulating boot"),
            ("boots on every stud", "insulating boot"),
            ("diode across", "diode across"),
            ("pre-charge resistor", "pre-charge resistor"),
        ] {
            if steps.contains(said) {
                assert!(takes.contains(what), "{}: {said} is on no list", stem(&path));
                listed += 1;
            }
        }
    }
    assert!(listed >= 6, "{listed}");
}

/// A lead that is tapped off the vehicle has a step of its kind that says where it is found.
#[test]
fn a_lead_from_the_vehicle_is_tapped_by_a_task() {
    let mut taps = 0;
    for path in files("templates/kinds", "toml") {
        let kind: toml::Table = std::fs::read_to_string(&path).expect("kind").parse().expect("TOML");
        let list = |table: &toml::Table, key: &str| {
            table.get(key).and_then(toml::Value::as_array).cloned().unwrap_or_default()
        };
        let steps: Vec<String> = list(&kind, "task")
            .iter()
            .filter_map(toml::Value::as_table)
            .flat_map(|task| list(task, "steps"))
            .filter_map(|step| step.as_str().map(str::to_owned))
            .collect();
        for lead in list(&kind, "leads") {
            let Some(signal) = lead["from"].as_str().and_then(|from| from.strip_prefix("vehicle.")) else { continue };
            assert!(steps.iter().any(|step| step.contains(signal)), "{}: nothing taps the {signal}", stem(&path));
            taps += 1;
        }
    }
    assert!(taps >= 4, "{taps}");
}

/// What the tasks say of air and of bars, the boards keep: those of the specs, and those laid out by rule.
#[test]
fn boards_keep_what_the_kinds_ask() {
    let mut asked = 0;
    every_demo(|path, worked| {
        for board in boards(&worked.build) {
            let laid = board.laid();
            for (nth, (one, face)) in laid.faces.iter().enumerate() {
                for (other, there) in &laid.faces[..nth] {
                    let (a, b) = (&board.devices[*one], &board.devices[*other]);
                    for gap in a.asked(b) {
                        asked += 1;
                        assert!(!face.nearer(there, gap), "{}: {} and {}, {gap:?}", path.display(), a.part, b.part);
                    }
                }
            }
        }
    });
    assert!(asked > 10, "{asked}");
}

/// The protective earth of a circuit is a core of its cable: loose beside it, on another way, a fault loop is wide and
/// the earth can be torn off unseen (IEC 60364-5-54, 543.8, from memory: in the same wiring system as the lines).
#[test]
fn an_earth_is_a_core_of_its_cable() {
    let mut earths = 0;
    every_demo(|path, worked| {
        let build = &worked.build;
        for earth in build.wiring.conductors.values().filter(|c| c.carries == Carries::Earth) {
            let Some(circuit) = earth.circuit.as_ref().and_then(|id| build.circuits.get(id)) else { continue };
            earths += 1;
            let mut lines = build.conductors_of(circuit).filter(|c| c.carries == Carries::Line);
            assert!(lines.any(|line| line.cable == earth.cable), "{}: {} lies alone", path.display(), earth.id);
        }
    });
    assert!(earths > 20, "{earths}");
}

/// A main breaker with a pole for the neutral has the neutral of the feed on it.
#[test]
fn a_two_pole_main_breaker_has_the_neutral_on_it() {
    let mut mains = 0;
    every_demo(|path, worked| {
        let build = &worked.build;
        let two_poles = |p: &&Part<'_>| p.role() == Some(Role::AcPanel) && p.roles.main_poles().get() == Some(2);
        for panel in build.parts.values().filter(two_poles) {
            for feed in build.arriving(&panel.id).filter(|c| c.network == Network::Ac) {
                let cores: Vec<&Conductor> = build.conductors_of(feed).collect();
                let lines = cores.iter().filter(|c| matches!(c.carries, Carries::Line | Carries::LineTwo)).count();
                let neutral = cores.iter().find(|c| c.carries == Carries::Neutral).expect("a neutral");
                let post = panel.post(&neutral.from).expect("a post");
                mains += 1;
                assert_eq!(post.id == "feed-neutral", lines == 1, "{}: {}", path.display(), panel.id);
            }
        }
    });
    assert!(mains >= 4, "{mains}");
}

/// 33 CFR 183.455(b): the piece of cable before a fuse is no longer than 7 in, 40 in in a sheath (72 in from a battery);
/// what is cut for it is what lies there.
#[test]
fn the_piece_before_a_fuse_is_cut_to_fit() {
    let mut tails = 0;
    every_demo(|path, worked| {
        let (build, all) = (&worked.build, &worked.electrical);
        for circuit in build.circuits.values() {
            let Some(reach) = reach_of_tail(build, all, circuit) else { continue };
            for conductor in build.conductors_of(circuit).filter(|c| !c.is_back()) {
                let Some(cut) = all.conductors.get(&conductor.id).and_then(|f| f.cut) else { continue };
                tails += 1;
                assert!(cut.0 <= reach.0 + 1e-9, "{}: {} of {:?}", path.display(), conductor.id, cut);
            }
        }
    });
    assert!(tails >= 5, "{tails}");
}

/// Lines of a packet that put the fuses of the batteries in.
fn put_in(sheet: &Sheet) -> usize {
    sheet.markdown.lines().filter(|line| line.contains("fuse of each battery in, one after the other")).count()
}

/// Until commissioning the bank feeds nothing: the fuses of its batteries go in with the main fuse, and once.
#[test]
fn fuses_of_batteries_go_in_at_commissioning() {
    let mut fused = 0;
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        let has_fuses = |p: &Part<'_>| p.roles.bank.as_deref().is_some_and(|b| b.battery_fuse.get().is_some());
        let wanted = usize::from(worked.build.parts.values().any(has_fuses));
        fused += wanted;
        for sheet in sheets(&loaded).iter().filter(|s| s.stem.starts_with("packet-")) {
            let here = if sheet.stem.ends_with("commissioning") { wanted } else { 0 };
            assert_eq!(put_in(sheet), here, "{} {}", path.display(), sheet.stem);
        }
    }
    assert!(fused >= 2, "{fused}");
}

/// How far from its source a fuse may sit is told once: in the steps as in the rows.
#[test]
fn steps_and_rows_tell_one_distance_to_a_fuse() {
    let heron = sheets(&load(Path::new("specs/heron.toml")));
    let packet = heron.iter().find(|s| s.stem == "packet-08-electrical-fit-off").expect("packet");
    let row = packet.markdown.lines().find(|l| l.contains("in line, within") && l.contains("Starter battery"));
    let distance = |text: &str, until: &str| {
        let (_, rest) = text.split_once("within ")?;
        Some(rest.split_once(until)?.0.to_owned())
    };
    let step = packet.markdown.lines().find(|l| l.contains("Fit the fuse holder within")).expect("step");
    let told = [distance(row.expect("row"), " of "), distance(step, " of ")];
    assert!(told[0].is_some() && told[0] == told[1], "{told:?}");
    // Whoever fits the bar fixes the holders at it, each at the stud of its row.
    let step = packet.markdown.lines().find(|l| l.contains("Fix the holders of the fuses in line")).expect("step");
    let mut seen = 0;
    for row in packet.markdown.lines().filter(|l| l.contains("in line, within") && l.contains(" of stud ")) {
        let label = row.split('`').nth(1).expect("a label");
        let stud = row.split(" of stud ").nth(1).and_then(|rest| rest.split(' ').next()).expect("a number");
        assert!(step.contains(&format!("({label}) at stud {stud}")), "{label} at stud {stud}: {step}");
        seen += 1;
    }
    assert!(seen > 5, "{seen}");
}

/// Who terminates waits for what is not there yet: a kind with posts that is fitted after the electrical fit-off says by
/// which task.
#[test]
fn what_is_fitted_late_says_when_it_is_there() {
    let library = Library::load(house()).expect("the kinds hold together");
    let fits = |stage: Stage| [Stage::PlumbingFitOff, Stage::Exterior].contains(&stage);
    let late = library.iter().filter(|k| !k.posts.is_empty() && k.tasks.iter().any(|t| fits(t.stage)));
    let is_told = |k: &&Kind| k.tasks.iter().any(|t| t.brings.iter().any(|state| state.ends_with("mounted")));
    let (told, untold): (Vec<&Kind>, Vec<&Kind>) = late.partition(is_told);
    let untold: Vec<&str> = untold.iter().map(|k| k.id.as_str()).collect();
    assert!(untold.is_empty() && told.len() > 5, "{untold:?}, {}", told.len());
}
