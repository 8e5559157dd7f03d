//! AC: curves and poles of breakers, split-phase supplies, generators, loops of line and earth, tests before it is used.

use crate::harness::{findings, house};
use rigbinder::build::Lines;
use rigbinder::compute::network::{Device, Electrical};
use rigbinder::diag::Severity::{Error, Warning};
use rigbinder::kinds::Carries;
use rigbinder::pipeline::{self, Loaded, Only};

const EU: &str = r#"
[build]
title = "Mains"
rules = "eu"
[component]
inlet  = { kind = "shore-inlet", rating = "16 A", cord = "25 m", cord_conductor = "2.5 mm2" }
rcd    = { kind = "residual-current-device", fed_from = "inlet", run = "1 m", trip_current = "30 mA" }
unit   = { kind = "consumer-unit", fed_from = "rcd", run = "0.5 m", rating = "16 A" }
socket = { kind = "ac-outlet", fed_from = "unit", run = "4 m", rating = "16 A", protection = "16 A curve C" }
galley = { kind = "ac-outlet", fed_from = "unit", run = "2 m", rating = "16 A", protection = "10 A" }
"#;

const US: &str = r#"
[build]
title = "Two lines"
rules = "us"
[component]
inlet  = { kind = "shore-inlet", rating = "50 A", lines = 2, cord = "9 m" }
unit   = { kind = "consumer-unit", fed_from = "inlet", run = "2 m", rating = "50 A", ways = 8 }
hob    = { kind = "cooktop-induction", fed_from = "unit", way = 1, run = "3 m", draw = "1800 W" }
boiler = { kind = "water-heater-ac", fed_from = "unit", way = 2, run = "3 m", draw = "1200 W" }
oven   = { kind = "cooktop-induction", fed_from = "unit", way = 3, run = "3 m", draw = "2400 W", line = "both" }
"#;

fn load(text: &str) -> Loaded {
    pipeline::load(house(), "test.toml", text.as_bytes()).expect("kinds")
}

fn electrical(text: &str) -> Electrical {
    pipeline::work_out(&load(text)).expect("profile").figures.electrical
}

fn document(text: &str, word: &str) -> String {
    let loaded = load(text);
    let worked = pipeline::work_out(&loaded).expect("profile");
    let only = Only { documents: vec![word.to_owned()], ..Only::default() };
    pipeline::sheets(&worked, &only).expect("documents").into_iter().map(|s| s.markdown).collect()
}

fn told(text: &str, name: &str) -> Vec<String> {
    findings(text).into_iter().filter(|f| f.name == name).map(|f| f.headline).collect()
}

fn changed(text: &str, from: &str, to: &str) -> String {
    assert!(text.contains(from), "{from}");
    text.replacen(from, to, 1)
}

fn shown(device: &Device) -> String {
    device.show().replace(['\u{a0}', '\u{202f}'], " ")
}

/// Curve and poles: the spec's word, then that of the panel, then that of the rules. US breakers have no curve.
#[test]
fn a_breaker_has_the_curve_and_poles_that_are_nearest() {
    let all = electrical(EU);
    assert_eq!(shown(&all.circuits["socket"].device), "16 A 2-pole C breaker");
    assert_eq!(shown(&all.circuits["galley"].device), "10 A 2-pole B breaker");
    assert_eq!(shown(&all.breakers["unit"]), "16 A 2-pole B breaker");
    let panel = changed(
        EU,
        "run = \"0.5 m\", rating = \"16 A\"",
        "run = \"0.5 m\", rating = \"16 A\", curve = \"c\", main_curve = \"c\"",
    );
    let all = electrical(&panel);
    assert_eq!(shown(&all.circuits["galley"].device), "10 A 2-pole C breaker");
    assert_eq!(shown(&all.breakers["unit"]), "16 A 2-pole C breaker");
    assert_eq!(shown(&electrical(US).circuits["hob"].device), "15 A breaker");
    let one = changed(EU, "run = \"0.5 m\", rating", "run = \"0.5 m\", way_poles = 1, rating");
    assert_eq!(told(&one, "mains-cut-in-one-pole"), ["unit: its breaker of each way has 1 pole"]);
    assert!(told(EU, "mains-cut-in-one-pole").is_empty() && told(EU, "protection-unreadable").is_empty());
    let schedule = document(EU, "schedule").replace(['\u{a0}', '\u{202f}'], " ");
    assert!(schedule.contains("16 A 2-pole C breaker"), "{schedule}");
}

/// A residual-current device with a breaker in it (RCBO) stands once in the list of devices, with its rating, curve and
/// trip current, and protects what is behind it.
#[test]
fn a_residual_current_device_with_a_breaker_is_one_device() {
    let with = changed(
        EU,
        "trip_current = \"30 mA\"",
        "trip_current = \"30 mA\", rating = \"16 A\", with_overcurrent = true, curve = \"c\"",
    );
    let all = electrical(&with);
    let behind = &all.circuits["unit"].device;
    assert_eq!(shown(behind), "16 A 2-pole C breaker");
    assert_eq!(behind.at, rigbinder::compute::network::DeviceAt::Upstream("rcd".to_owned()));
    let schedule = document(&with, "schedule").replace(['\u{a0}', '\u{202f}'], " ");
    let rows: Vec<_> =
        schedule.lines().filter(|l| l.contains("16 A residual-current device with C breaker, 30 mA")).collect();
    assert_eq!(rows.len(), 1, "{schedule}");
    assert!(rows[0].contains("| 1 |"), "{rows:?}");
}

/// IEC 60898-1, from memory: 5 times for B, 10 times for C; 0.8 cold, common practice. By hand 0.8 · 230 V / 160 A = 1.15 Ω
/// and 0.8 · 230 V / 50 A = 3.68 Ω. The van's own part by IEC 60228 class 5 at 20 °C (2.5 mm²: 7.98 mΩ/m): 25 m of lead
/// both ways, 1.5 m to the panel with its earth past the residual-current device, 4 m to the socket: 61 m, 0.487 Ω.
#[test]
fn a_loop_of_line_and_earth_has_a_limit_by_curve() {
    let all = electrical(EU);
    let socket = &all.loops["socket"];
    assert!((socket.most.0 - 1.15).abs() < 1e-9, "{socket:?}");
    assert!((all.loops["galley"].most.0 - 3.68).abs() < 1e-9);
    let own = socket.own.expect("all lengths are known").0;
    assert!((own - 61.0 * 7.98e-3).abs() < 0.01, "{own}");
    let packets = document(EU, "packet").replace(['\u{a0}', '\u{202f}'], " ");
    let row = packets.lines().find(|l| l.contains("16 A, curve C")).expect("a row in the packet");
    assert!(row.contains("≤ 1.15 Ω"), "{row}");
    // Where no rule knows curves nobody is asked.
    assert!(electrical(US).loops.is_empty());
    let read = |value: &str| {
        let text = format!("{EU}\n[recorded.circuits]\nsocket = {{ loop = \"{value}\" }}\n");
        told(&text, "reading-out-of-tolerance").len()
    };
    assert_eq!([read("0.9 ohm"), read("1.3 ohm")], [0, 1]);
}

/// NEC 551.73, from a reprint: a 50 A site of 120/240 V gives 50 A on each line. By hand: line 1 has 1800 W / 120 V + 2400 W
/// / 240 V = 25 A, line 2 1200 W / 120 V + 10 A = 20 A.
#[test]
fn each_line_of_a_split_phase_supply_is_reckoned() {
    let loaded = load(US);
    let worked = pipeline::work_out(&loaded).expect("profile");
    let (build, all) = (&worked.build, &worked.figures.electrical);
    let [one, two] = all.panels["unit"].lines.expect("two lines arrive");
    assert!((one.0 - 25.0).abs() < 1e-9 && (two.0 - 20.0).abs() < 1e-9, "{one:?} {two:?}");
    assert!((all.circuits["unit"].demand.load.0 - 25.0).abs() < 1e-9);
    assert!((all.circuits["oven"].nominal.0 - 240.0).abs() < 1e-9);
    assert!((all.circuits["oven"].demand.load.0 - 10.0).abs() < 1e-9);
    assert!((all.ac_sources["inlet"].capacity.0 - 12000.0).abs() < 1e-9);
    assert!((all.ac_sources["inlet"].fixed_load.0 - 5400.0).abs() < 1e-6);
    // NEC 240.4(D), quoted: 10 AWG stands behind 30 A at the most.
    let feed = all.circuits["unit"].conductor().expect("sized").size;
    assert_eq!(feed.to_string().replace('\u{a0}', " "), "8 AWG");
    let lines = ["unit", "hob", "boiler", "oven"].map(|id| build.line_of(&build.circuits[id]));
    assert_eq!(lines, [Lines::Both, Lines::First, Lines::Second, Lines::Both]);
    let carried: Vec<Carries> = build.conductors_of(&build.circuits["unit"]).map(|c| c.carries).collect();
    assert_eq!(carried, [Carries::Line, Carries::LineTwo, Carries::Neutral, Carries::Earth]);
    assert_eq!(build.conductors_of(&build.circuits["hob"]).count(), 3);
    assert_eq!(shown(&all.circuits["oven"].device), "15 A 2-pole breaker");
    assert_eq!(shown(&all.breakers["unit"]), "50 A 2-pole breaker");
    let one_pole = changed(US, "ways = 8", "ways = 8, main_poles = 1");
    assert_eq!(told(&one_pole, "mains-cut-in-one-pole"), ["unit: its main breaker has 1 pole"]);
    let heavy = changed(US, "draw = \"1800 W\"", "draw = \"3500 W\", line = \"2\"");
    assert_eq!(
        told(&heavy, "main-breaker-below-load"),
        ["unit: 50 A main breaker, the design current behind it is 51.7 A on line 2"]
    );
    assert_eq!(told(&heavy, "lines-unbalanced"), ["unit: 10 A on line 1 and 49.2 A on line 2"]);
}

/// IEC 60364-7-721 (16 A from reprints, an error; larger from memory, a warning) and NEC 551.46 (from memory, a warning).
#[test]
fn a_shore_lead_is_as_thick_as_its_inlet_asks() {
    let eu = |amps: &str, size: &str| {
        let text = format!(
            "[build]\nrules = \"eu\"\n[component.inlet]\nkind = \"shore-inlet\"\nrating = \"{amps}\"\ncord = \"25 m\"\ncord_conductor = \"{size}\"\n"
        );
        findings(&text).into_iter().find(|f| f.name == "shore-lead-unfit").map(|f| f.severity)
    };
    assert_eq!([eu("16 A", "1.5 mm2"), eu("16 A", "2.5 mm2")], [Some(Error), None]);
    assert_eq!([eu("32 A", "4 mm2"), eu("32 A", "6 mm2")], [Some(Warning), None]);
    let us = |size: &str| {
        let with = changed(US, "cord = \"9 m\"", &format!("cord = \"9 m\", cord_conductor = \"{size}\""));
        told(&with, "shore-lead-unfit").len()
    };
    assert_eq!([us("8 AWG"), us("6 AWG")], [1, 0]);
}

const GENERATOR: &str = r#"
[build]
title = "Generator"
rules = "us"
[component]
inlet     = { kind = "shore-inlet", rating = "30 A" }
generator = { kind = "generator", power = "2600 W", rating = "25 A", neutral_bonded = true, own_tank = "18 L", fuel_per_hour = "0.9 L", feeds = "transfer", output_run = "2 m" }
transfer  = { kind = "transfer-switch", fed_from = "inlet", run = "0.5 m", rating = "30 A" }
unit      = { kind = "consumer-unit", fed_from = "transfer", run = "0.5 m", rating = "30 A" }
rcd       = { kind = "residual-current-device", fed_from = "unit", run = "0.3 m", trip_current = "6 mA" }
outlet    = { kind = "ac-outlet", fed_from = "rcd", run = "2 m" }
"#;

/// What a generator brings: its cable is laid out for its breaker, it is one of two sources, burns fuel and stands where
/// its carbon monoxide kills. 18 L at 0.9 L an hour last 20 h.
#[test]
fn a_generator_is_a_source_of_its_own() {
    let loaded = load(GENERATOR);
    let worked = pipeline::work_out(&loaded).expect("profile");
    let cable = &worked.figures.electrical.circuits["generator.out"];
    assert_eq!(cable.device.rating.map(|r| r.0), Some(25.0));
    let size = cable.conductor().expect("sized").size;
    // NEC 240.4(D): 10 AWG up to 30 A.
    assert_eq!(size.to_string().replace('\u{a0}', " "), "10 AWG");
    let time = worked.figures.ledger.get("generator.tank-time").expect("it has a tank");
    assert_eq!(time.show(rigbinder::units::System::Metric).replace(['\u{a0}', '\u{202f}'], " "), "20 h");
    assert!(!told(GENERATOR, "co-alarm-missing").is_empty());
    assert!(told(GENERATOR, "two-sources-without-transfer").is_empty());
    assert!(told(GENERATOR, "generator-neutral-unsettled").is_empty());
    let no_transfer = changed(GENERATOR, "feeds = \"transfer\"", "feeds = \"unit\"");
    assert_eq!(told(&no_transfer, "two-sources-without-transfer").len(), 1);
    let one_pole = changed(
        GENERATOR,
        "run = \"0.5 m\", rating = \"30 A\" }\nunit",
        "run = \"0.5 m\", rating = \"30 A\", poles = 1 }\nunit",
    );
    assert_eq!(
        told(&one_pole, "neutral-bonded-twice"),
        ["generator: neutral and earth are joined in it and once more"]
    );
    let floating = changed(GENERATOR, "neutral_bonded = true, ", "");
    assert_eq!(told(&floating, "generator-neutral-unsettled").len(), 1);
    let settled = format!(
        "{floating}bond = {{ kind = \"neutral-earth-bond\", on_inverter = \"not-used\", on_generator = \"transfer-switch\" }}\n"
    );
    assert!(told(&settled, "generator-neutral-unsettled").is_empty());
    // A transfer for less than its breaker.
    let small =
        changed(GENERATOR, "run = \"0.5 m\", rating = \"30 A\" }\nunit", "run = \"0.5 m\", rating = \"20 A\" }\nunit");
    assert!(told(&small, "transfer-below-source").iter().any(|h| h.contains("generator")));
}

/// A portable generator is no part of the van: what its plate says limits what hangs on the inlet, and somebody must say
/// where its neutral is joined with earth.
#[test]
fn a_portable_generator_stands_where_the_supply_would() {
    let text = |inlet: &str, rest: &str| {
        format!(
            r#"
[build]
title = "Portable"
rules = "us"
[component]
inlet   = {{ kind = "shore-inlet", rating = "30 A"{inlet} }}
unit    = {{ kind = "consumer-unit", fed_from = "inlet", run = "0.5 m", rating = "30 A" }}
rcd     = {{ kind = "residual-current-device", fed_from = "unit", run = "0.3 m", trip_current = "6 mA" }}
cooktop = {{ kind = "cooktop-induction", fed_from = "rcd", run = "2 m", draw = "1800 W" }}
{rest}"#
        )
    };
    let told = |inlet: &str, rest: &str| {
        ["generator-overloaded", "generator-neutral-unsettled", "neutral-bonded-twice"]
            .map(|name| told(&text(inlet, rest), name).len())
    };
    assert_eq!(told("", ""), [0, 0, 0]);
    assert_eq!(told(", portable_power = \"1600 W\"", ""), [1, 1, 0]);
    // Its exhaust is as deadly as that of one that is built in (NFPA 1192, from memory).
    let silent = |inlet: &str| findings(&text(inlet, "")).iter().any(|f| f.name == "co-alarm-missing");
    assert!(!silent("") && silent(", portable_power = \"1600 W\""));
    assert_eq!(told(", portable_power = \"1800 W\", portable_bonded = true", ""), [0, 0, 0]);
    let bond = |at: &str| {
        format!("bond = {{ kind = \"neutral-earth-bond\", on_inverter = \"not-used\", on_generator = \"{at}\" }}\n")
    };
    assert_eq!(told(", portable_power = \"2 kW\"", &bond("at-generator")), [0, 0, 0]);
    assert_eq!(told(", portable_power = \"2 kW\", portable_bonded = true", &bond("transfer-switch")), [0, 0, 1]);
}

/// A cable that both ends tell of is one cable, wherever its ends are.
#[test]
fn a_cable_told_at_both_ends_is_one() {
    let twice = changed(
        GENERATOR,
        "fed_from = \"inlet\", run = \"0.5 m\"",
        "fed_from = [\"inlet\", \"generator\"], run = \"0.5 m\"",
    );
    let loaded = load(&twice);
    let worked = pipeline::work_out(&loaded).expect("profile");
    let between: Vec<&str> = worked
        .build
        .circuits
        .values()
        .filter(|c| c.from == "generator" && c.to == "transfer")
        .map(|c| c.id.as_str())
        .collect();
    assert_eq!(between, ["transfer.2"]);
    assert_eq!(told(&twice, "cable-told-twice"), ["transfer: its cable from generator is told at both ends"]);
    // Whichever way it is told, what is behind stays as it is.
    assert!(told(&twice, "two-sources-without-transfer").is_empty());
}

/// What feeds itself is told and located, in every form.
#[test]
fn what_feeds_itself_is_told() {
    let bank = "[build]\ntitle = \"Round\"\n[component]\nbank = { kind = \"battery-bank\", capacity = \"100 Ah\" }\nbus = { kind = \"busbar\", fed_from = \"bank\", run = \"1 m\", rating = \"200 A\" }\n";
    for (part, name) in [
        ("x = { kind = \"starter-maintainer\", fed_from = \"bus\", feeds = \"bus\" }", "charger-charges-its-feeder"),
        ("x = { kind = \"dc-dc-charger\", fed_from = \"x\", feeds = \"bus\" }", "feeding-loop"),
        ("x = { kind = \"dc-dc-charger\", fed_from = \"bus\", feeds = \"x\" }", "output-to-nowhere"),
        ("x = { kind = \"step-down-converter\", fed_from = \"x\" }", "feeding-loop"),
    ] {
        let found = findings(&format!("{bank}{part}\n"));
        let told = found.iter().find(|f| f.name == name).unwrap_or_else(|| panic!("{part}: {found:?}"));
        assert!(told.span.is_some() && !told.help.is_empty(), "{part}");
        // A converter in a loop feeds something: that it has no output would be told beside the loop for nothing.
        assert!(found.iter().all(|f| f.name != "converter-without-output"), "{part}");
    }
}

/// IEC 61008-1, from memory: 300 ms at the trip current, 40 ms at five times of it. Polarity is read as a voltage.
#[test]
fn acceptance_of_ac_reads_trip_times_and_polarity() {
    let loaded = load(EU);
    let worked = pipeline::work_out(&loaded).expect("profile");
    let expect = |id: &str| {
        let test = worked.figures.readings.tests.iter().find(|t| t.id == id).unwrap_or_else(|| panic!("no {id}"));
        test.band.limits.unwrap_or_else(|| panic!("{id} is judged by nobody"))
    };
    assert_eq!(expect("rcd.time-shore").high, Some(0.3));
    assert_eq!(expect("rcd.time-five").high, Some(0.04));
    for id in ["inlet.polarity", "socket.polarity"] {
        let limits = expect(id);
        assert!(limits.low.is_some_and(|low| (low - 207.0).abs() < 1e-6), "{id}: {limits:?}");
    }
}
