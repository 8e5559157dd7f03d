//! What an electrician who has only the packets can do, prove and write down: laws over the kinds, the demo specs and the refit.

use crate::harness::{demo_specs, files, load, refit_sheets, refit_worked, root, stem};
use rigbinder::build::{Circuit, Part, Purpose};
use rigbinder::compute::network::{LEAST_LOAD, earth_most, is_worked_on, load_behind, waits_for_its_test};
use rigbinder::kinds::{FIGURES, Network, Role, Stage};
use rigbinder::pipeline::{self, Only, Worked};
use rigbinder::units::{Amps, Dimension};
use std::path::PathBuf;

/// Every demo spec and the refit, worked out.
fn each(mut with: impl FnMut(&str, &Worked<'_>)) {
    for path in demo_specs() {
        let loaded = load(&path);
        with(stem(&path), &pipeline::work_out(&loaded).expect("profile"));
    }
    with("refit", refit_worked());
}

/// Tasks of kinds, and those by which parts come out: where, and the table.
fn tasks() -> Vec<(String, toml::Table)> {
    let read = |path: &PathBuf| -> toml::Table { std::fs::read_to_string(path).expect("file").parse().expect("TOML") };
    let list = |table: &toml::Table, key: &str| {
        let all = table.get(key).and_then(toml::Value::as_array).cloned().unwrap_or_default();
        all.into_iter().filter_map(|row| row.as_table().cloned()).collect::<Vec<_>>()
    };
    let mut all = Vec::new();
    for path in files("templates/kinds", "toml") {
        let own = list(&read(&path), "task");
        all.extend(own.into_iter().map(|task| (format!("{} {}", stem(&path), task["id"]), task)));
    }
    for removal in list(&read(&root().join("templates/removal.toml")), "removal") {
        let task = removal["task"].as_table().expect("a task").clone();
        all.push((format!("removal {}", task["id"]), task));
    }
    all
}

/// Texts of a list of a table.
fn texts<'t>(table: &'t toml::Table, key: &str) -> Vec<&'t str> {
    let all = table.get(key).and_then(toml::Value::as_array);
    all.into_iter().flatten().filter_map(toml::Value::as_str).collect()
}

/// What reads a figure of a type. A plate, a label and a sheet are read with the eyes.
const READ_WITH: [(&str, &[&str]); 14] = [
    ("voltage", &["multimeter", "voltage tester", "socket tester", "load tester", "diagnostic tool", "battery tester"]),
    ("current", &["clamp meter", "multimeter", "load tester"]),
    ("resistance", &["ohm meter", "multimeter", "insulation tester"]),
    ("temperature", &["thermometer", "refractometer"]),
    ("temperature difference", &["thermometer"]),
    ("pressure", &["gauge", "manometer"]),
    ("force", &["gauge", "balance", "scale", "weights"]),
    ("mass", &["scale", "weighbridge", "balance", "weights"]),
    ("length", &["tape measure", "gauge", "straight edge", "ruler", "level", "rule"]),
    ("duration", &["stopwatch", "watch", "tester"]),
    ("gas share", &["CO meter"]),
    ("flow", &["jug", "meter", "bucket"]),
    ("power", &["meter", "tester"]),
    ("angle", &["inclinometer", "level"]),
];

/// Instruments that a step names are taken along.
const NAMED: [&str; 12] = [
    "clamp meter",
    "thermometer",
    "socket tester",
    "force gauge",
    "spring balance",
    "smoke match",
    "insulation tester",
    "CO meter",
    "spirit level",
    "test lamp",
    "test strip",
    "ice pack",
];

/// Whoever takes the tools of a task along can take its readings. Common practice, no source.
#[test]
fn what_a_task_reads_with_is_among_its_tools() {
    let (mut read, mut missing) = (0, Vec::new());
    for (at, task) in tasks() {
        let tools = texts(&task, "tools").join("; ");
        let readings = task.get("readings").and_then(toml::Value::as_array).cloned().unwrap_or_default();
        for reading in readings.iter().filter_map(toml::Value::as_table) {
            let text = |key: &str| reading.get(key).map(ToString::to_string).unwrap_or_default();
            let what = text("what");
            let Some((_, with)) = READ_WITH.iter().find(|(ty, _)| text("type") == format!("\"{ty}\"")) else {
                continue;
            };
            read += 1;
            if !what.contains("on its plate") && !with.iter().any(|tool| tools.contains(tool)) {
                missing.push(format!("{at}: nothing to read {what} with"));
            }
            // A clamp for the loads of a van shows nothing of a few milliamperes.
            let thousandths = ["at_most", "above", "is", "at_least"].iter().any(|key| text(key).contains(" mA"));
            if thousandths && !tools.contains("mA range") {
                missing.push(format!("{at}: {what} needs a clamp for milliamperes"));
            }
            if what.contains("500 V") && !tools.contains("insulation tester") {
                missing.push(format!("{at}: {what} needs an insulation tester"));
            }
        }
        for step in texts(&task, "steps") {
            for tool in NAMED.iter().filter(|tool| step.contains(*tool) && !tools.contains(*tool)) {
                // Either cools a thermostat.
                if *tool != "ice pack" || !tools.contains("cold spray") {
                    missing.push(format!("{at}: no {tool} for: {step}"));
                }
            }
        }
    }
    assert!(missing.is_empty(), "{}", missing.join("\n"));
    assert!(read > 250, "{read} readings");
}

/// No meter of the trade tells what a bank stands at while it is tested: a reading under load is a drop, read at both ends at one
/// moment. The figures that a voltage is expected at are those of the source itself.
#[test]
fn a_load_is_judged_by_the_drop_before_it() {
    let of_sources = ["ac_volts", "rest_full", "rest_low", "loaded_volts", "volts_nominal"];
    let limits = ["drop_most", "test_drop", "rest_within", "loaded_within"];
    let others: Vec<&str> = FIGURES
        .iter()
        .filter(|(name, dimension)| *dimension == Dimension::Voltage && !limits.contains(name))
        .map(|(name, _)| *name)
        .filter(|name| !of_sources.contains(name))
        .collect();
    assert!(others.is_empty(), "{others:?} are voltages of something else than a source");
    let mut drops = 0;
    each(|spec, worked| {
        for test in worked.readings.tests.iter().filter(|t| t.what.starts_with("Drop from")) {
            assert!(test.what.contains(", both read at one moment"), "{spec}: {}", test.what);
            assert!(test.expect.starts_with("≤ "), "{spec}: {} expects {}", test.id, test.expect);
            drops += 1;
        }
    });
    assert!(drops > 25, "{drops} drops");
}

/// What compares several is not asked of one.
#[test]
fn a_single_battery_is_not_compared_with_others() {
    let mut compared = 0;
    each(|spec, worked| {
        for part in worked.build.parts.values().filter(|p| p.role() == Some(Role::Bank)) {
            let several = part.roles.parallel().get().is_some_and(|n| n > 1);
            for id in ["spread", "share"] {
                let asked = worked.readings.tests.iter().any(|t| t.id == format!("{}.{id}", part.id));
                assert_eq!(asked, several, "{spec}: {}.{id}", part.id);
                compared += usize::from(asked);
            }
        }
    });
    assert!(compared >= 2, "{compared}");
}

/// A test of a mains circuit takes no more from its source than this gives, in watts.
#[test]
fn no_test_asks_more_of_an_inverter_than_it_gives() {
    let mut on_inverters = 0;
    each(|spec, worked| {
        let build = &worked.build;
        for test in worked.readings.circuits.iter().filter(|t| t.network == Network::Ac && t.live) {
            let sources: Vec<&Part<'_>> = build
                .upstream(&test.circuit)
                .along(|c| c.network == Network::Ac)
                .parts()
                .filter(|p| p.role().is_some_and(Role::gives_ac))
                .collect();
            if sources.is_empty() || sources.iter().any(|p| p.role() != Some(Role::Inverter)) {
                continue;
            }
            on_inverters += 1;
            let watts: f64 = sources.iter().filter_map(|p| p.roles.power().get()).map(|w| w.0).fold(0.0, f64::max);
            let asked = test.amps_most.0 * worked.electrical.profile.ac.volts.0;
            assert!(asked <= watts * 1.001, "{spec}: {} asks for {asked} W of {watts} W", test.circuit);
        }
    });
    assert!(on_inverters >= 1, "{on_inverters}");
}

/// From the bar of a panel to an earth pin the current passes every cable between them: the limit is that of all of them.
#[test]
fn the_earth_of_a_panel_counts_every_cable_on_its_way() {
    let mut longer = 0;
    each(|spec, worked| {
        let (build, all) = (&worked.build, &worked.electrical);
        for panel in build.parts.values().filter(|p| p.role() == Some(Role::AcPanel)) {
            let Some(most) = earth_most(build, all, panel) else { continue };
            for circuit in build.downstream(&panel.id).along(|c| c.network == Network::Ac) {
                let Some(part) = build.parts.get(&circuit.to).filter(|p| p.role() != Some(Role::AcPanel)) else {
                    continue;
                };
                let Some(own) = earth_most(build, all, part) else { continue };
                let passed = circuit.from != panel.id;
                assert!(most.0 >= own.0, "{spec}: {} below {}", panel.id, part.id);
                assert!(!passed || most.0 > own.0, "{spec}: {} counts the last cable to {} alone", panel.id, part.id);
                longer += usize::from(passed);
            }
        }
    });
    assert!(longer >= 1, "{longer} ways over more than one cable");
}

/// Gas pipe, cooker and the bar of the protective earths are bonded by conductors of the list, whether or not the spec names them.
/// IEC 60364-7-721.411.3.1.2, from memory: accessible conductive parts of a caravan are bonded.
#[test]
fn what_has_to_be_bonded_has_a_conductor() {
    let mut of_gas = 0;
    each(|spec, worked| {
        let build = &worked.build;
        let Some(bond) = build.parts.values().find(|p| p.roles.chassis_bond.is_some()) else { return };
        for part in build.parts.values() {
            let gas = ["lpg-regulator", "cooktop-lpg"].contains(&part.kind.id.as_str());
            if !gas && part.role() != Some(Role::AcPanel) {
                continue;
            }
            let own = build.wiring.conductors.get(&format!("{}.bond", part.id));
            let own = own.unwrap_or_else(|| panic!("{spec}: {} is not bonded", part.id));
            assert_eq!((own.purpose, own.to.part.as_str()), (Purpose::EquipmentBond, bond.id.as_str()), "{spec}");
            assert!(!own.from.post.is_empty(), "{spec}: nobody knows where the bond of {} ends", part.id);
            let figures = &worked.electrical.conductors[&own.id];
            let least = worked.electrical.profile.equipment_bond;
            assert!(figures.size.is_some_and(|size| size.area() >= least.area()), "{spec}: {}", own.id);
            assert!(figures.ends.iter().all(|end| end.form.is_some()), "{spec}: {} has an end of no form", own.id);
            assert_eq!(is_worked_on(build, own), bond.is_worked_on() || part.is_worked_on(), "{spec}: {}", own.id);
            of_gas += usize::from(gas);
        }
    });
    assert!(of_gas >= 4, "{of_gas}");
}

/// The text of a packet of the refit.
fn sheet(stem: &str) -> &'static str {
    refit_sheets().iter().find(|s| s.stem == stem).map_or_else(|| panic!("no {stem}"), |s| s.markdown.as_str())
}

/// A way with a fuse that its cable does not bear stays out until somebody mends it: the step that makes the panel live names it,
/// and no test counts with it.
#[test]
fn a_way_with_a_defect_stays_out() {
    let worked = refit_worked();
    let way = worked.build.circuits["awning-light"].way.expect("a way");
    let packet = sheet("packet-11-commissioning");
    let step = packet.lines().find(|line| line.contains("Leave out and tag these")).expect("a step");
    let told = format!(
        "way {way}, {} (awning-light), not with its 30 A blade fuse: a 20 A fuse may go in",
        worked.build.name("awning-light")
    );
    assert!(step.contains(&told), "{step}");
    let before = packet.find(step).zip(packet.find("Put in the fuse of each other way"));
    assert!(before.is_some_and(|(out, live)| out < live), "the fuses go in before it is said which stay out");
    assert!(!worked.electrical.together["panel"].circuits.iter().any(|c| c == "awning-light"));
}

/// A cable that stays and is joined to what is new gets new ends: they are on the list of lugs like all others.
#[test]
fn new_ends_of_old_cables_are_on_the_list() {
    let worked = refit_worked();
    let packet = sheet("packet-08-electrical-fit-off");
    let row = packet.lines().find(|line| line.starts_with("| ☐ | 16 mm² |")).expect("a row of lugs");
    let count = |what: &str| -> usize {
        let all = row.trim_matches('|').split(" | ").last().unwrap_or_default();
        all.split(", ")
            .filter_map(|lug| lug.trim().split_once(' '))
            .filter(|(_, name)| *name == what)
            .filter_map(|(n, _)| n.parse::<usize>().ok())
            .sum()
    };
    // Fuse to disconnect and on to the bar; the old panel's cable at both bars, and at its new fuse holder.
    let size = worked.electrical.conductors["panel.supply"].size.map(|s| s.to_string());
    assert_eq!(size.as_deref(), Some("16 mm²"));
    assert_eq!((count("ring M8"), count("ring")), (2, 2), "{row}");
    assert_eq!(count("lug or ferrule as the device asks"), 2, "{row}");
}

/// A packet that has no elevation of a board sends nobody to look at one.
#[test]
fn what_is_not_drawn_is_not_looked_at() {
    let packet = sheet("packet-08-electrical-fit-off");
    assert!(!packet.contains("drawings/board"), "the refit has an elevation now: take another spec");
    assert!(!packet.contains("elevation"), "{:?}", packet.lines().find(|line| line.contains("elevation")));
    assert!(packet.contains("as near to its stud as it goes"));
}

/// What has a fuse at the starter battery puts it in while that battery's negative is off: afterwards its holder is live.
#[test]
fn fuses_at_the_starter_battery_go_in_dead() {
    let mut looked = 0;
    let all = tasks();
    for (at, task) in all.iter().filter(|(_, task)| task.to_string().contains("starter side")) {
        let kind = at.split(' ').next().unwrap_or_default();
        let closes = |(of, task): &&(String, toml::Table)| {
            of.split(' ').next() == Some(kind) && texts(task, "brings").contains(&"start-fuses-in")
        };
        let close =
            all.iter().find(closes).unwrap_or_else(|| panic!("{at}: no task puts its fuse in: {}", task["title"]));
        assert!(texts(&close.1, "needs").contains(&"vehicle-dead"), "{}", close.0);
        looked += 1;
    }
    assert!(looked >= 2, "{looked}");
}

/// A pump that is tried draws water: what was closed or drained before is opened or filled again.
#[test]
fn no_pump_is_run_dry() {
    let mut runs = 0;
    for (at, task) in tasks() {
        let mut dry = false;
        for step in texts(&task, "steps").iter().map(|step| step.to_lowercase()) {
            let wet = step.contains("open the tank valve") || step.contains("fill it") || step.contains("fill the");
            dry &= !wet;
            if step.contains("run the pump") {
                assert!(!dry, "{at}: the pump runs dry: {step}");
                runs += 1;
            }
            dry |= step.contains("close the tank valve") || step.contains("open the valve") && at.contains("drain");
        }
    }
    assert!(runs >= 4, "{runs}");
}

/// Every heavy conductor is told what makes enough flow in it, and what is told does. The negative of the bank carries what its
/// positive does.
#[test]
fn a_heavy_conductor_is_told_its_load() {
    let mut told = 0;
    each(|spec, worked| {
        let build = &worked.build;
        for test in worked.readings.circuits.iter().filter(|t| t.by_drop()) {
            let circuit = &build.circuits[&test.circuit];
            let least = Amps(test.amps.0 * LEAST_LOAD);
            let behind = load_behind(build, &worked.electrical, circuit, least);
            let is_return = build.parts.get(&circuit.to).and_then(Part::role) == Some(Role::Shunt);
            assert!(!is_return || behind.is_some(), "{spec}: {} has no load", circuit.id);
            let Some((load, amps)) = behind else { continue };
            assert!(build.parts.contains_key(&load.to));
            told += usize::from(amps >= least);
        }
    });
    assert!(told > 20, "{told}");
    let heavy = sheet("packet-11-commissioning").split("## Heavy conductors").nth(1).expect("a section");
    let rows: Vec<Vec<&str>> = heavy
        .lines()
        .take_while(|line| !line.starts_with("## "))
        .filter(|line| line.starts_with("| `"))
        .map(|line| line.trim_matches('|').split(" | ").map(str::trim).collect())
        .collect();
    assert!(rows.len() >= 8 && rows.iter().all(|row| !row[4].is_empty()), "{rows:?}");
}

/// A way that was made live with its panel is only looked at when its load first runs; one that waits for that test gets its
/// fuse in it. No end of a conductor is told without a word.
#[test]
fn fuses_go_in_once_and_lugs_are_told_whole() {
    let mut fitted = 0;
    let only = Only { documents: Vec::new(), stages: vec![Stage::ElectricalFitOff, Stage::Commissioning] };
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        let build = &worked.build;
        let waiting = build.circuits.values().filter(|c| waits_for_its_test(build, c));
        let of_way =
            |c: &Circuit| format!("it the fuse of way {} in {}", c.way.unwrap_or_default(), build.name(&c.from));
        let waiting: Vec<String> = waiting.map(of_way).collect();
        for sheet in pipeline::sheets(&worked, &only).expect("documents") {
            assert!(!sheet.markdown.contains(": , "), "{} {}: a lug without a word", path.display(), sheet.stem);
            for card in sheet.markdown.split("\n### ").filter(|_| sheet.stem.starts_with("packet-11")) {
                // What a step has pulled goes back in.
                if card.contains("it the fuse of way") && !card.contains("ull the fuse of way") {
                    let title = card.lines().next().unwrap_or_default();
                    let waits = waiting.iter().any(|way| card.contains(way));
                    assert!(waits, "{}: a fuse that is in goes in again: {title}", path.display());
                    fitted += 1;
                }
            }
        }
    }
    assert!(fitted > 3, "{fitted}");
}
