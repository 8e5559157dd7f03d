//! Bonds, mains and feeds of the vehicle as a technician joins them: each end in one task, when both sides hang, and dead.

use crate::harness::{demo_specs, files, findings, house, load, refit_worked, root, stem};
use crate::orders::{Placed, placed};
use rigbinder::build::{Part, Purpose};
use rigbinder::kinds::{Library, Role, Stage};
use rigbinder::pipeline::{self, Worked};
use std::collections::BTreeMap;

/// Every demo spec and the refit, with its order of work.
fn each(mut with: impl FnMut(&str, &Worked<'_>, &[Placed<'_>])) {
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        with(stem(&path), &worked, &placed(&worked));
    }
    with("refit", refit_worked(), &placed(refit_worked()));
}

/// A case is bonded when what it belongs to hangs, and the makers' sheets of all chargers, converters and controllers are
/// read for an earth screw when these are there to look at.
#[test]
fn cases_are_bonded_when_all_that_has_one_hangs() {
    let (mut bonded, mut faults) = (0, Vec::new());
    each(|spec, worked, order| {
        let build = &worked.build;
        let at = |id: &str| order.iter().position(|t| t.id == id);
        let hangs: BTreeMap<&str, usize> = order
            .iter()
            .enumerate()
            .filter(|(_, t)| t.brings("mounted") && t.stage <= Stage::ElectricalFitOff)
            .filter_map(|(at, t)| Some((t.part?, at)))
            .collect();
        for bond in build.parts.values().filter(|p| p.roles.chassis_bond.is_some() && p.is_worked_on()) {
            let Some(cases) = at(&format!("{}.cases", bond.id)) else { continue };
            let has_case = |id: &str| {
                let row = build.wiring.conductors.get(&format!("{id}.bond"));
                let charges = [Role::Charger, Role::Converter, Role::Inverter, Role::InverterCharger];
                row.is_some_and(|c| c.purpose == Purpose::EquipmentBond)
                    || build.parts.get(id).and_then(Part::role).is_some_and(|role| charges.contains(&role))
            };
            for (part, at) in hangs.iter().filter(|(part, _)| has_case(part)) {
                bonded += 1;
                if *at > cases {
                    faults.push(format!("{spec}: {part} hangs after {}.cases", bond.id));
                }
            }
            let bar = order.iter().position(|t| t.brings("attached") && t.part == Some(bond.id.as_str()));
            for (part, at) in hangs.iter().filter(|(part, _)| build.parts[**part].roles.negative_bar.is_some()) {
                if bar.is_some_and(|bar| bar < *at) {
                    faults.push(format!("{spec}: the bond is made before {part} hangs"));
                }
            }
        }
    });
    assert!(faults.is_empty(), "{}", faults.join("\n"));
    assert!(bonded >= 20, "{bonded}");
}

/// Who fits a case joins the bond there; its end at the chassis is made in one task of the chassis bond. A second task that
/// tells of the whole leaves nobody sure who did it.
#[test]
fn a_bond_is_joined_at_each_end_by_one_task() {
    let library = Library::load(house()).expect("kinds");
    let mut told = 0;
    for kind in library.iter().filter(|k| !k.roles.contains(&"chassis-bond")) {
        for task in kind.tasks.iter().filter(|t| t.stage == Stage::ElectricalFitOff) {
            let joins = |s: &str| s.starts_with("Connect") && (s.contains("the bond to") || s.contains("chassis bond"));
            for step in task.steps.iter().filter(|s| joins(s)) {
                let far = step.contains("ts other end");
                assert!(far, "{}: who makes the other end? {step}", kind.id);
                told += 1;
            }
            let double = task.steps.iter().find(|s| s.contains("to the chassis bond") || s.contains("case to earth"));
            assert!(double.is_none(), "{}: {double:?}", kind.id);
        }
    }
    assert!(told >= 4, "{told}");
}

/// A row that names a stud of the point where cases are bonded names one that a task makes and numbers.
#[test]
fn studs_of_the_bond_are_numbered_before_a_row_names_one() {
    let mut several = 0;
    each(|spec, worked, _| {
        let build = &worked.build;
        for bond in build.parts.values().filter(|p| p.roles.chassis_bond.is_some() && p.is_worked_on()) {
            let named = build.wiring.conductors.values().filter_map(|c| {
                let to = c.to.part == bond.id;
                worked.electrical.conductors.get(&c.id)?.ends[usize::from(to)].stud.filter(|_| to)
            });
            let Some(most) = named.max() else { continue };
            let point = bond.kind.tasks.iter().find(|t| t.id == "point").expect("a task makes the point");
            assert!(point.steps.iter().any(|s| s.contains("{{ studs }} points")), "{spec}");
            assert!(point.steps.iter().any(|s| s.contains("Paint their numbers")), "{spec}");
            assert_eq!(bond.studs().map(|n| most <= n), Some(true), "{spec}: stud {most}");
            several += usize::from(most > 1);
        }
    });
    assert!(several >= 3, "{several}");
}

/// Work at the vehicle's battery, or on what can start the engine, waits until its negative is off and locked.
#[test]
fn work_at_the_starter_battery_waits_until_it_is_off() {
    const OFF: [&str; 3] =
        ["isconnect the starter battery", "tarter battery's negative is off", "negative clamp is off"];
    let mut waits = 0;
    for path in files("templates/kinds", "toml") {
        let text = std::fs::read_to_string(&path).expect("kind");
        let kind: toml::Table = text.parse().expect("TOML");
        for task in kind.get("task").and_then(toml::Value::as_array).into_iter().flatten() {
            let words = format!("{:?}{:?}", task.get("steps"), task.get("cautions"));
            let list = |key: &str| task.get(key).map(ToString::to_string).unwrap_or_default();
            // Welding clamps its earth at the weld, in the shop's own time.
            let welds = words.contains("weld");
            if welds || list("brings").contains("vehicle-dead") || !OFF.iter().any(|off| words.contains(off)) {
                continue;
            }
            waits += 1;
            assert!(list("needs").contains("vehicle-dead"), "{} {}", stem(&path), task["id"]);
        }
    }
    assert!(waits >= 8, "{waits}");
    // What runs the engine waits until the vehicle is live again.
    let library = Library::load(house()).expect("kinds");
    let mut runs = 0;
    for kind in library.iter() {
        for task in kind.tasks.iter().filter(|t| t.stage == Stage::Commissioning) {
            if task.steps.iter().any(|s| s.starts_with("Start the engine") || s.starts_with("Run the engine")) {
                assert!(task.needs.iter().any(|n| n == "vehicle-live"), "{}.{}", kind.id, task.id);
                runs += 1;
            }
        }
    }
    assert!(runs >= 4, "{runs}");
}

const MAINS: &str = r#"
[component]
bank     = { kind = "battery-bank", capacity = "200 Ah", max_discharge = "200 A", max_charge = "100 A" }
fuse     = { kind = "main-fuse", fed_from = "bank", run = "15 cm" }
switch   = { kind = "battery-disconnect", fed_from = "fuse", run = "20 cm" }
inverter = { kind = "inverter", name = "Inverter", power = "1000 W", fed_from = "switch", run = "1 m", feeds = "OUT", output_run = "1 m" }
outlet   = { kind = "ac-outlet", fed_from = "FROM", run = "2 m" }
"#;

/// Whether something else can meet an inverter's output follows from the circuits: nothing without other mains, what there is
/// by its name, and the transfer where both come to one.
#[test]
fn other_mains_is_measured_against_where_the_circuits_have_some() {
    let told = |text: &str| {
        let loaded = pipeline::load(house(), "test.toml", text.as_bytes()).expect("kinds");
        let worked = pipeline::work_out(&loaded).expect("profile");
        let of = |id: &str| worked.readings.tests.iter().find(|t| t.id == id).map(|t| t.what.clone());
        of("inverter.out-shore")
    };
    let alone = MAINS.replace(", feeds = \"OUT\", output_run = \"1 m\"", "").replace("FROM", "inverter");
    assert_eq!(told(&alone), None);
    let inlet = "shore = { kind = \"shore-inlet\", name = \"Shore inlet\", rating = \"16 A\", side = \"left\" }\n";
    let apart = told(&format!("{alone}{inlet}")).expect("an inlet stands beside it");
    assert!(apart.contains("from Shore inlet") && !apart.contains("position"), "{apart}");
    let transfer = "transfer = { kind = \"transfer-switch\", name = \"Transfer\", fed_from = [\"shore\"], run = \"1 m\", rating = \"16 A\" }\n";
    let joined = MAINS.replace("OUT", "transfer").replace("FROM", "transfer");
    let joined = told(&format!("{joined}{inlet}{transfer}")).expect("both come to the transfer");
    assert!(joined.contains("from Shore inlet, in every position of Transfer"), "{joined}");
}

/// What a drop is told to mend is what loses the most, not the last piece.
#[test]
fn a_drop_names_the_piece_that_loses_most() {
    let text = r#"
[component]
bank   = { kind = "battery-bank", capacity = "200 Ah", max_discharge = "200 A", max_charge = "100 A" }
fuse   = { kind = "main-fuse", fed_from = "bank", run = "15 cm" }
switch = { kind = "battery-disconnect", fed_from = "fuse", run = "20 cm" }
house  = { kind = "fuse-panel", fed_from = "switch", run = "FEED", conductor = "8 AWG" }
fridge = { kind = "fridge", fed_from = "house", run = "LAST", conductor = "14 AWG" }
lamp   = { kind = "light-zone", fed_from = "house", run = "1 m", draw = "150 W" }
"#;
    let help = |feed: &str, last: &str| {
        let found = findings(&text.replace("FEED", feed).replace("LAST", last));
        let drop = found
            .into_iter()
            .find(|f| f.name == "voltage-drop-over-limit" && f.subject.as_deref() == Some("fridge"))
            .expect("too much is lost");
        drop.help.join(" ")
    };
    let feeder = help("12 m", "0.5 m");
    assert!(feeder.contains("`house`") && feeder.contains("8 AWG"), "{feeder}");
    let own = help("0.5 m", "12 m");
    assert!(own.starts_with("a larger conductor or a shorter route") && !own.contains('`'), "{own}");
}

/// The new file of the starter has every packet that the gate asks a signature of.
#[test]
fn a_stage_that_is_signed_has_its_packet() {
    let text = std::fs::read_to_string(root().join("templates/spec/starter.toml")).expect("the starter");
    let loaded = pipeline::load(house(), "mine.toml", text.as_bytes()).expect("kinds");
    let worked = pipeline::work_out(&loaded).expect("profile");
    let made = pipeline::sheets(&worked, &pipeline::Only { documents: vec!["packet".to_owned()], stages: Vec::new() });
    let stems: Vec<String> = made.expect("packets").into_iter().map(|s| s.stem).collect();
    let mut signed = 0;
    for stage in Stage::ALL.iter().filter(|stage| worked.missing.iter().any(|m| m.id == stage.id())) {
        signed += 1;
        assert!(stems.iter().any(|s| s.ends_with(stage.id())), "{}: {stems:?}", stage.id());
    }
    assert!(signed >= 8, "{signed}");
}
