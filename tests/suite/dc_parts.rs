//! Batteries with a fuse each, contactors of a bank's protection, keypads and relays: each wire of them is a conductor, and what
//! is wired wrongly is told.

use crate::harness::{WINTER, built_in, findings};
use rigbinder::build::{Conductor, Purpose};
use rigbinder::kinds::Carries;
use rigbinder::pipeline::{self, Worked};

/// A board with a bank of three batteries; `bank` is what the spec says of it beyond that.
fn spec(bank: &str, rest: &str) -> String {
    format!(
        r#"
[build]
title = "Van"
[place]
board = {{ about = "Board", at = ["2 m", "0.5 m", "0 m"], size = ["0.4 m", "0.4 m", "0.4 m"] }}
rear  = {{ about = "Rear", at = ["2.8 m", "0.5 m", "0 m"], size = ["0.4 m", "0.4 m", "0.4 m"] }}
[component]
bank   = {{ kind = "battery-bank", capacity = "300 Ah", parallel = 3, fault_current = "6000 A", fault_current_from = "data sheet", place = "board", {bank} }}
fuse   = {{ kind = "main-fuse", fed_from = "bank", run = "0.1 m", place = "board" }}
switch = {{ kind = "battery-disconnect", fed_from = "fuse", run = "0.2 m", place = "board" }}
{rest}
"#
    )
}

const BUS: &str = r#"
bar    = { kind = "busbar", fed_from = "switch", run = "0.2 m", place = "board" }
minus  = { kind = "negative-busbar", mirrors = "bar", returns_to = "bank", run = "0.2 m", place = "board" }
panel  = { kind = "fuse-panel", fed_from = "bar", run = "0.3 m", place = "board" }
"#;

const FUSED: &str = r#"battery_fuse = "125 A", battery_run = "0.4 m", battery_interrupting = "20000 A", battery_interrupting_from = "data sheet""#;

fn of<T>(text: &str, ask: impl FnOnce(&Worked<'_>) -> T) -> T {
    let loaded = pipeline::load(built_in(), "test.toml", text.as_bytes()).expect("kinds");
    ask(&pipeline::work_out(&loaded).expect("profile"))
}

fn own<'a>(worked: &'a Worked<'_>, part: &str) -> Vec<&'a Conductor> {
    worked.build.wiring.conductors.values().filter(|c| c.owner == part).collect()
}

fn told(worked: &Worked<'_>, part: &str) -> Vec<String> {
    let show = |c: &&Conductor| format!("{}: {} > {}", c.local, c.from.show(&worked.build), c.to.show(&worked.build));
    own(worked, part).iter().map(show).collect()
}

fn fires(text: &str, name: &str) -> bool {
    findings(text).iter().any(|f| f.name == name)
}

/// Each battery has its own two cables of one length to the bars, and its fuse at its plus; without those fields the
/// batteries are linked.
#[test]
fn every_battery_has_its_own_cables_and_fuse() {
    of(&spec(FUSED, BUS), |worked| {
        assert_eq!(
            told(worked, "bank")[..2],
            [
                "battery-1: Battery bank, battery 1, plus > Battery bank, collecting bar, plus",
                "battery-1-return: Battery bank, collecting bar, minus > Battery bank, battery 1, minus",
            ]
        );
        assert_eq!(told(worked, "fuse")[0], "supply: Battery bank, collecting bar, plus > Main fuse, in");
        let cables = own(worked, "bank");
        assert_eq!(cables.len(), 6);
        assert!(cables.iter().all(|c| c.purpose == Purpose::Battery && c.is_loaded()));
        assert_eq!(cables.iter().filter(|c| c.fuse.is_some_and(|f| f.0 == 125.0)).count(), 3, "one fuse a battery");
        assert!(cables.iter().all(|c| c.fuse.is_none() || c.carries == Carries::Positive));
        let lengths: Vec<_> = cables.iter().filter_map(|c| c.route.length).collect();
        assert!(lengths.len() == 6 && lengths.iter().all(|l| (l.0 - 0.4).abs() < 1e-9), "equal lengths share alike");
    });
    of(&spec("", BUS), |worked| {
        assert!(own(worked, "bank").iter().all(|c| c.purpose == Purpose::Link));
        assert_eq!(own(worked, "bank").len(), 4);
    });
}

/// Kirchhoff: a short at the bar draws the sum of all batteries; through the fuse of one that fails inside flow the others'.
#[test]
fn the_bank_gives_the_sum_and_the_fuse_of_one_breaks_the_others() {
    of(&spec(FUSED, BUS), |worked| {
        let bank = &worked.electrical.banks["bank"];
        assert!((bank.fault.expect("given").0 - 6000.0).abs() < 1e-6);
        let batteries = bank.batteries.as_ref().expect("three");
        assert!((batteries.fault.expect("known").0 - 4000.0).abs() < 1e-6);
        assert!(batteries.breaking.expect("judged").is_kept());
        let design = worked.electrical.circuits["fuse"].design;
        assert!((batteries.share.0 - design.0 / 3.0).abs() < 1e-9);
        // 33 CFR 183.425, Table 5: the cable carries what its fuse lets through.
        let cable = batteries.cable.as_ref().expect("sized");
        assert!(cable.ampacity.as_ref().expect("in the table").corrected.0 >= 125.0);
        let sizes = |id: &str| worked.electrical.conductors[id].size;
        assert_eq!(sizes("bank.battery-1"), sizes("bank.battery-3-return"));
        assert_eq!(sizes("bank.battery-1"), Some(cable.size));
    });
    let too_little = FUSED.replace("20000 A", "3900 A");
    assert!(fires(&spec(&too_little, BUS), "battery-fuse-unproven"));
    assert!(!fires(&spec(&FUSED.replace("20000 A", "4000 A"), BUS), "battery-fuse-unproven"), "as much as flows");
}

/// Two are left to the maker; from three on the others drive more into one than its links carry.
#[test]
fn batteries_from_three_on_want_fuses() {
    assert!(fires(&spec("", BUS), "battery-without-fuse"));
    assert!(!fires(&spec(FUSED, BUS), "battery-without-fuse"));
    assert!(!fires(&spec("", BUS).replace("parallel = 3", "parallel = 2"), "battery-without-fuse"));
}

/// The fuses of batteries are bought by their family, with a spare.
#[test]
fn battery_fuses_are_in_the_lists() {
    of(&spec(FUSED, BUS), |worked| {
        let sheets = pipeline::sheets(worked, &pipeline::Only::default()).expect("documents");
        let all: String = sheets.iter().map(|s| s.markdown.as_str()).collect();
        assert!(all.contains("125 A class T fuse"), "named by family");
        assert!(all.contains("bank.battery-3-return"), "every cable is in a list");
    });
}

const PATHS: &str = r#"
charge = { kind = "bank-contactor", path = "charge", fed_from = "switch", run = "0.2 m", place = "board", name = "Charge contactor" }
load   = { kind = "bank-contactor", path = "load", fed_from = "switch", run = "0.2 m", place = "board", name = "Load contactor" }
in-bar = { kind = "busbar", fed_from = "charge", run = "0.2 m", place = "board", name = "Charge bus" }
bar    = { kind = "busbar", fed_from = "load", run = "0.2 m", place = "board", name = "Load bus" }
minus  = { kind = "negative-busbar", mirrors = "bar", returns_to = "bank", run = "0.2 m", place = "board" }
panel  = { kind = "fuse-panel", fed_from = "bar", run = "0.3 m", place = "board", name = "House panel" }
lamp   = { kind = "light-zone", fed_from = "panel", run = "2 m", place = "rear" }
engine = { kind = "house-alternator", rating = "80 A", output_voltage = "12 V", feeds = "in-bar", output_run = "2 m", place = "rear" }
sun    = { kind = "solar-controller", fed_from = "cells", run = "1 m", feeds = "in-bar", output_run = "0.4 m", stop_signal = true, place = "board", name = "Sun charger" }
cells  = { kind = "solar-array", power = "100 W", voc = "22 V", isc = "6 A", vmp = "18 V", imp = "5.6 A", place = "rear" }
"#;

#[test]
fn contactors_are_worked_by_the_bank_and_stop_what_charges() {
    of(&spec(FUSED, PATHS), |worked| {
        let coil = told(worked, "charge");
        let has = |list: &[String], line: &str| assert!(list.iter().any(|l| l == line), "{line}\n{list:?}");
        has(&coil, "coil-charge: Battery bank, charge control > Charge contactor, coil");
        assert!(coil.iter().any(|l| l.starts_with("coil-return: Charge contactor, coil minus > ")), "{coil:?}");
        has(&told(worked, "load"), "coil-load: Battery bank, load control > Load contactor, coil");
        has(&told(worked, "sun"), "stop: Battery bank, protection > Sun charger, stop");
        let sheets = pipeline::sheets(worked, &pipeline::Only::default()).expect("documents");
        let manual = sheets.iter().find(|s| s.stem == "owners-manual").expect("manual");
        assert!(
            manual.markdown.contains("these charge nothing: House alternator and Sun charger"),
            "told to the owner"
        );
        assert!(manual.markdown.contains("these are dead: House panel"));
    });
}

/// What charges, what draws, and what does both: each on its own side.
#[test]
fn what_hangs_on_the_wrong_path_is_told() {
    let right = spec(FUSED, PATHS);
    let names = ["charger-on-load-path", "load-on-charge-path", "combined-on-one-path", "source-not-stopped"];
    for name in names {
        assert!(!fires(&right, name), "{name}");
    }
    assert!(fires(
        &right.replace("feeds = \"in-bar\", output_run = \"0.4 m\"", "feeds = \"bar\", output_run = \"0.4 m\""),
        names[0]
    ));
    assert!(fires(
        &right.replace("fed_from = \"bar\", run = \"0.3 m\"", "fed_from = \"in-bar\", run = \"0.3 m\""),
        names[1]
    ));
    let combined = |at: &str, stopped: bool| {
        let both = format!(
            "both = {{ kind = \"inverter-charger\", power = \"500 W\", fed_from = \"{at}\", run = \"0.5 m\", stop_signal = {stopped}, place = \"board\" }}"
        );
        format!("{right}\n{both}")
    };
    for at in ["bar", "in-bar"] {
        assert!(fires(&combined(at, true), names[2]), "{at}");
    }
    assert!(!fires(&combined("switch", true), names[2]) && !fires(&combined("switch", true), names[3]));
    assert!(fires(&combined("switch", false), names[3]), "before both it charges on");
    assert!(fires(&right.replace("stop_signal = true", "stop_signal = false"), names[3]));
}

const KEYS: &str = r#"
module = { kind = "switching-module", fed_from = "bar", run = "0.3 m", place = "board" }
keys   = { kind = "keypad", works = "module", fed_from = "panel", run = "0.3 m", place = "rear", key.lamp = { label = "LAMP" } }
lamp   = { kind = "light-zone", fed_from = "module", run = "2 m", draw = "24 W", switched_at = "keys.lamp", place = "rear" }
"#;

/// A key sends a message: the way is the output, and no leg leads over the keypad.
#[test]
fn a_key_switches_an_output_and_carries_nothing() {
    let text = spec(FUSED, &format!("{BUS}{KEYS}"));
    of(&text, |worked| {
        let lamp = told(worked, "lamp");
        assert_eq!(lamp[0], "supply: Switching module, way 1 > Light zone");
        assert!(!lamp.iter().any(|l| l.starts_with("leg:") || l.contains("Keypad")), "{lamp:?}");
        assert!(told(worked, "keys").iter().any(|l| l == "data: Switching module, data > Keypad, data"));
        let figures = &worked.electrical.circuits["lamp"];
        assert_eq!(figures.device.show(), "3 A mini blade fuse", "2 A × 1.25 = 2.5 A: the next of the series");
    });
    // An output may carry 15 A.
    assert!(fires(&text.replace("draw = \"24 W\"", "draw = \"24 W\", protection = \"20 A\""), "fuse-above-way"));
    assert!(fires(&text.replace("fed_from = \"module\"", "fed_from = \"panel\""), "key-without-output"));
    assert!(fires(&text.replace("keys.lamp", "keys.lump"), "switch-unknown"));
    assert!(!fires(&text, "key-without-output") && !fires(&text, "switch-unknown"));
}

const RELAY: &str = r#"
board  = { kind = "control-panel", fed_from = "panel", run = "1 m", place = "rear", switch.lamp = { label = "LAMP" } }
relay  = { kind = "relay", fed_from = "bar", run = "0.3 m", coil_from = "panel", worked_at = "board.lamp", place = "board" }
lamp   = { kind = "light-zone", fed_from = "relay", run = "2 m", draw = "60 W", place = "rear" }
"#;

/// The contact is in the supply, the coil on the switch: feed, switch, coil, and back.
#[test]
fn a_relay_has_its_contact_in_the_supply_and_its_coil_on_the_switch() {
    let text = spec(FUSED, &format!("{BUS}{RELAY}"));
    of(&text, |worked| {
        assert_eq!(
            told(worked, "relay"),
            [
                "supply: Positive busbar > Relay, in",
                "coil-feed: Fuse panel, way > Control panel, LAMP in",
                "coil: Control panel, LAMP out > Relay, coil",
                "coil-return: Relay, coil minus > Fuse panel, negative bar",
            ]
        );
        let feed = own(worked, "relay").into_iter().find(|c| c.local == "coil-feed").expect("feed");
        assert_eq!(feed.fuse.map(|f| f.0), Some(1.0), "fused where it is taken");
        assert_eq!(worked.electrical.circuits["lamp"].demand.load.0, 5.0, "60 W at 12 V flow through the contact");
        assert!(!told(worked, "lamp").iter().any(|l| l.contains("Control panel")), "none of it through the switch");
    });
    assert!(!fires(&text, "coil-without-feed"));
    assert!(fires(&text.replace("worked_at = \"board.lamp\",", ""), "coil-without-feed"));
    assert!(fires(&text.replace("board.lamp", "board.lump"), "coil-without-feed"));
    assert!(!fires(&text.replace("worked_at = \"board.lamp\"", "worked_by = \"ignition feed\""), "coil-without-feed"));
    assert!(fires(&text.replace("worked_at =", "coil_voltage = \"24 V\", worked_at ="), "coil-for-other-voltage"));
    assert!(!fires(&text, "coil-for-other-voltage"));
}

/// Power times hours: the coil of a relay holds for as long as what hangs on it is on, one of a bank's protection day and
/// night; one that latches takes nothing.
#[test]
fn coils_are_in_the_account_of_energy() {
    let relay = |more: &str| {
        let text = format!(
            r#"{BUS}
control = {{ kind = "control-panel", fed_from = "panel", run = "1 m", switch.bar = {{ label = "BAR" }}, place = "rear" }}
relay = {{ kind = "relay", fed_from = "panel", run = "0.5 m", worked_at = "control.bar", coil_current = "0.5 A"{more}, place = "board" }}
bar-light = {{ kind = "light-bar", fed_from = "relay", run = "2 m", draw = "60 W", hours = "3 h", place = "rear" }}
"#
        );
        of(&spec("", &format!("{text}{WINTER}")), |worked| {
            let day = worked.energy.seasons["winter"].need.loads.get("relay").map(|hours| hours.iter().sum::<f64>());
            day.map(|wh| (wh * 1e6).round() / 1e6)
        })
    };
    assert_eq!(relay(""), Some(12.0 * 0.5 * 3.0));
    assert_eq!(relay(", latching = true"), None);
    let contactors = of(&spec(FUSED, &format!("{PATHS}{WINTER}")), |worked| {
        let loads = &worked.energy.seasons["winter"].need.loads;
        ["charge", "load"].map(|id| loads[id].iter().sum::<f64>())
    });
    assert!(contactors.iter().all(|wh| (wh - 12.0 * 0.5 * 24.0).abs() < 1e-9), "{contactors:?}");
}
