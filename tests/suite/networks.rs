//! DC networks by nominal voltage: what feeds a part decides which it stands in.

use crate::harness::{WINTER, findings, house};
use rigbinder::diag::Severity;
use rigbinder::pipeline::{self, Worked};
use rigbinder::tables::fuse_series::Family;

/// What `look` finds in a spec that is worked out.
fn worked<T>(text: &str, look: impl Fn(&Worked<'_>) -> T) -> T {
    let loaded = pipeline::load(house(), "test.toml", text.as_bytes()).expect("kinds");
    look(&pipeline::work_out(&loaded).expect("profile"))
}

/// A chain from a bank to two loads on a busbar and one on a panel.
fn chain(bank: &str, light: &str, rest: &str) -> String {
    format!(
        r#"
[component]
bank   = {{ kind = "battery-bank", capacity = "200 Ah", {bank} }}
fuse   = {{ kind = "main-fuse", fed_from = "bank", run = "10 cm", rated_voltage = "125 V" }}
switch = {{ kind = "battery-disconnect", fed_from = "fuse", run = "20 cm", rated_voltage = "60 V" }}
bus    = {{ kind = "busbar", fed_from = "switch", run = "20 cm", rated_voltage = "60 V" }}
panel  = {{ kind = "fuse-panel", fed_from = "bus", run = "1 m", rated_voltage = "60 V", way_voltage = "58 V", protection_voltage = "125 V" }}
light  = {{ kind = "light-zone", fed_from = "panel", run = "3 m", draw = "24 W", {light} }}
{rest}
"#
    )
}

/// The same power takes half the current at twice the voltage, and every circuit is reckoned at the voltage of its bank.
#[test]
fn a_circuit_has_the_voltage_of_the_bank_that_feeds_it() {
    for (volts, nominal) in [("12.8 V", 12.0), ("25.6 V", 24.0), ("51.2 V", 48.0)] {
        let text = chain(&format!("voltage = \"{volts}\""), &format!("made_for = \"{nominal} V\""), "");
        let all = worked(&text, |w| w.electrical.clone());
        for (id, circuit) in &all.circuits {
            assert_eq!(circuit.nominal.0, nominal, "{id}");
        }
        assert!((all.circuits["light"].demand.load.0 - 24.0 / nominal).abs() < 1e-9, "P = U × I");
        let of_voltage = |name: &str| {
            ["load-on-other-voltage", "fuse-below-network", "rating-below-network", "voltage-rating-untold"]
                .contains(&name)
        };
        assert!(!findings(&text).iter().any(|f| of_voltage(f.name)), "{volts}");
    }
}

/// Two banks side by side: each has its own network, whichever stands first.
#[test]
fn two_banks_of_two_voltages_keep_their_parts_apart() {
    let low = r#"low = { kind = "battery-bank", capacity = "100 Ah", voltage = "12.8 V" }
low-fuse  = { kind = "main-fuse", fed_from = "low", run = "10 cm" }
low-panel = { kind = "fuse-panel", fed_from = "low-fuse", run = "1 m" }
lamp      = { kind = "light-zone", fed_from = "low-panel", run = "3 m" }"#;
    let text = chain("voltage = \"51.2 V\"", "made_for = \"48 V\"", low);
    let all = worked(&text, |w| w.electrical.clone());
    assert_eq!(["light", "panel", "lamp", "low-panel"].map(|id| all.circuits[id].nominal.0), [48.0, 48.0, 12.0, 12.0]);
    let swapped = text.replace("fed_from = \"low-panel\"", "fed_from = \"panel\"");
    let found = findings(&swapped);
    assert!(found.iter().any(|f| f.name == "load-on-other-voltage" && f.headline.starts_with("lamp:")));
}

/// ISO 8820-3 and -6 as reprinted: blade fuses are for 32 V, terminal fuses for 58 V; lithium of 24 V is charged with up to
/// 29.2 V and of 48 V with up to 58.4 V, which is above both.
#[test]
fn the_charging_voltage_counts_against_a_fuse() {
    let below =
        |text: &str| findings(text).iter().any(|f| f.name == "fuse-below-network" && f.severity == Severity::Error);
    let blade = |bank: &str, light: &str| chain(bank, light, "").replace("way_voltage = \"58 V\", ", "");
    let twenty_four = "voltage = \"25.6 V\", absorb_voltage = \"29.2 V\"";
    assert!(!below(&blade(twenty_four, "made_for = \"24 V\"")));
    let [low, high] = ["56.8 V", "58.4 V"].map(|v| format!("voltage = \"51.2 V\", absorb_voltage = \"{v}\""));
    assert!(below(&blade(&low, "made_for = \"48 V\"")));
    let marked = |bank: &str| chain(bank, "made_for = \"48 V\"", "");
    assert!(!below(&marked(&low)) && below(&marked(&high)));
    let cube = |bank: &str| {
        let stud = r#"stud = { kind = "terminal-fuse", fed_from = "bank", run = "5 cm", rating = "60 A", family = "terminal-cube" }
inverter = { kind = "inverter", fed_from = "stud", run = "1 m", power = "1500 W", made_for = "48 V", feeds = "bank" }"#;
        chain(bank, "made_for = \"48 V\"", stud)
    };
    assert!(!below(&cube(&low)) && below(&cube(&high)));
}

/// Where the spec leaves a fuse in line open, one is chosen that its network does not exceed.
#[test]
fn a_fuse_that_is_left_open_is_of_a_family_for_its_network() {
    let family = |volts: &str| {
        let draw = "inverter = { kind = \"inverter\", power = \"1800 W\", fed_from = \"bus\", run = \"1 m\", made_for = \"48 V\" }";
        let text = chain(
            &format!("voltage = \"51.2 V\", fault_current = \"1500 A\", absorb_voltage = \"{volts}\""),
            "made_for = \"48 V\"",
            draw,
        );
        worked(&text, |w| w.electrical.circuits["inverter"].device.family)
    };
    assert_eq!(family("56.8 V"), Some(Family::TerminalCube));
    assert_eq!(family("58.4 V"), Some(Family::ClassT));
}

/// A default that holds at 12 V holds per 12 V: the charge settings of a bank, the cut-off of an inverter.
#[test]
fn defaults_of_voltages_follow_the_network() {
    for (volts, times) in [("12.8 V", 1.0), ("25.6 V", 2.0), ("51.2 V", 4.0)] {
        let inverter = "inverter = { kind = \"inverter\", fed_from = \"bus\", run = \"1 m\", power = \"1000 W\", feeds = \"bank\" }";
        let text = chain(&format!("voltage = \"{volts}\""), "", inverter);
        let told = worked(&text, |w| {
            let of = |id: &str| w.build.parts[id].roles.clone();
            [of("bank").absorb_voltage().get(), of("bank").float_voltage().get(), of("inverter").low_cutoff().get()]
        });
        assert_eq!(told.map(|v| v.map(|v| (v.0 * 1e6).round() / 1e6)), [14.2, 13.5, 11.0].map(|v| Some(v * times)));
        let given = text.replace("power = \"1000 W\"", "power = \"1000 W\", low_cutoff = \"10.5 V\"");
        let kept = worked(&given, |w| w.build.parts["inverter"].roles.low_cutoff().get().map(|v| v.0));
        assert_eq!(kept, Some(10.5), "what the spec gives stays");
    }
}

/// What documents say of voltages is of the network: nothing in those of a 48 V build tells of 12 V.
#[test]
fn no_text_of_a_48_v_build_tells_the_voltages_of_12_v() {
    let rest = r#"inverter = { kind = "inverter", fed_from = "bus", run = "1 m", power = "1000 W", made_for = "48 V" }
volts  = { kind = "volt-display", fed_from = "panel", run = "1 m", made_for = "48 V" }
fridge = { kind = "fridge", fed_from = "panel", run = "1 m", made_for = "48 V" }
[build]
title = "Case"
handover = 2027-05-14
"#;
    let told = |bank: &str, made: &str| {
        let text = chain(bank, made, &rest.replace("made_for = \"48 V\"", made));
        let loaded = pipeline::load(house(), "test.toml", text.as_bytes()).expect("kinds");
        crate::harness::sheets(&loaded).into_iter().map(|s| s.markdown).collect::<String>().replace('\u{a0}', " ")
    };
    let low = told("voltage = \"12.8 V\"", "made_for = \"12 V\"");
    let high = told("voltage = \"51.2 V\"", "made_for = \"48 V\"");
    for (of_twelve, of_forty_eight) in [
        ("between 13.0 V and 13.4 V", "between 52.0 V and 53.6 V"),
        ("everything that runs at 12 V", "everything that runs at 48 V"),
        ("straight from the 12 V bank", "straight from the 48 V bank"),
        ("10 V to 15 V DC", "40 V to 60 V DC"),
        ("14.2 V", "56.8 V"),
        ("11.0 V", "44 V"),
    ] {
        assert!(low.contains(of_twelve), "{of_twelve} is not told of 12 V");
        assert!(high.contains(of_forty_eight) && !high.contains(of_twelve), "{of_forty_eight}");
    }
}

/// A bank of 48 V, two converters in parallel to 12 V, and what hangs on them.
fn converted(rest: &str) -> String {
    let low = format!(
        r#"step-a = {{ kind = "step-down-converter", fed_from = "bus", run = "1 m", rating = "20 A", output_voltage = "12.5 V", efficiency = "90 %" }}
step-b = {{ like = "step-a", fed_from = "bus", run = "1 m" }}
low    = {{ kind = "busbar", fed_from = ["step-a", "step-b"], run = "1 m" }}
low-panel = {{ kind = "fuse-panel", fed_from = "low", run = "1 m", diversity = "100 %" }}
fridge = {{ kind = "fridge", fed_from = "low-panel", run = "3 m", draw = "60 W" }}
{rest}"#
    );
    chain("voltage = \"51.2 V\"", "made_for = \"48 V\"", &low)
}

/// Behind a converter the voltage, the drop and the fault current begin anew, at what it gives and limits itself to.
#[test]
fn a_converter_is_a_source_of_its_own() {
    let all = worked(&converted(""), |w| w.electrical.clone());
    let volts = |id: &str| all.circuits[id].nominal.0;
    assert_eq!(["step-a", "low", "low.2", "low-panel", "fridge"].map(volts), [48.0, 12.0, 12.0, 12.0, 12.0]);
    // Full output just above the cut-off of its input: 20 A × 12.5 V / 0.9 / (4 × 10.5 V).
    let input = 20.0 * 12.5 / 0.9 / 42.0;
    assert!((all.circuits["step-a"].demand.load.0 - input).abs() < 1e-9, "{:?}", all.circuits["step-a"].demand);
    // 120 % of 20 A each: what a short at the busbar draws from the two.
    let short = all.circuits["low-panel"].fault.expect("a short").current.0;
    assert!(short < 48.0 && short > 40.0, "{short} A");
    let out = &all.circuits["low"];
    assert!(
        (out.drop_from_source.0 - out.conductor().expect("sized").drop.volts.0).abs() < 1e-12,
        "begins at the output"
    );
    assert_eq!(out.device.rating.map(|a| a.0), Some(24.0), "its own limit, or that of the other one");
    let found = findings(&converted(""));
    let named =
        ["load-fed-twice", "fed-from-two-voltages", "circuit-without-protection", "not-fed", "output-to-nowhere"];
    assert!(!found.iter().any(|f| named.contains(&f.name)), "{found:?}");
}

/// Two converters give twice what one gives, and no more.
#[test]
fn converters_in_parallel_give_the_sum() {
    let heavy = |watts: u32| {
        let load =
            format!(r#"heater = {{ kind = "water-heater", fed_from = "low-panel", run = "2 m", draw = "{watts} W" }}"#);
        findings(&converted(&load)).iter().any(|f| f.name == "converter-overloaded")
    };
    // 60 W and 420 W at 12 V are the 40 A of both.
    assert!(!heavy(420) && heavy(421));
}

/// What hangs on a converter takes its losses from the bank as well.
#[test]
fn the_account_of_energy_has_the_losses_of_converters() {
    let of_dc =
        |text: &str| worked(text, |w| w.energy.seasons.values().next().expect("a season").need.dc.iter().sum::<f64>());
    let with = |text: &str| of_dc(&format!("{text}{WINTER}"));
    let text = converted("");
    let straight =
        text.replace("fed_from = \"low-panel\", run = \"3 m\", draw", "fed_from = \"panel\", run = \"3 m\", draw");
    let none = text.replace("fridge = ", "# fridge = ");
    let (behind, before) = (with(&text) - with(&none), with(&straight) - with(&none));
    assert!(before > 0.0 && (behind - before / 0.9).abs() < 1e-9, "{behind} Wh for {before} Wh");
    let bare = text.lines().filter(|line| !line.starts_with("step-") && !line.starts_with("low")).collect::<Vec<_>>();
    let bare = bare.join("\n").replace("fridge = ", "# fridge = ");
    assert!((with(&none) - with(&bare) - 2.0 * 3.0 * 24.0).abs() < 1e-9, "3 W each, day and night");
    let time = |text: &str| worked(text, |w| w.energy.run_times["fridge"].time.0);
    assert!((time(&straight) / time(&text) - 1.0 / 0.9).abs() < 1e-9);
}

/// A converter that feeds itself is a loop.
#[test]
fn a_converter_that_feeds_itself_is_told_where() {
    let text = converted("").replace(
        "step-a = { kind = \"step-down-converter\", fed_from = \"bus\"",
        "step-a = { kind = \"step-down-converter\", fed_from = \"low\"",
    );
    let found = findings(&text);
    let told = found.iter().find(|f| f.name == "feeding-loop").expect("told");
    assert!(told.span.is_some() && told.headline.contains("step-a") && !told.help.is_empty());
}

/// A second alternator charges the bank of 48 V by itself: what it gives is charge current, and no load of the vehicle's.
#[test]
fn an_alternator_of_the_house_charges_its_bank() {
    let own =
        r#"house-alternator = { kind = "house-alternator", rating = "100 A", feeds = "bus", output_run = "3 m" }"#;
    let text = chain("voltage = \"51.2 V\"", "made_for = \"48 V\"", own);
    let all = worked(&text, |w| w.electrical.clone());
    assert_eq!(all.circuits["house-alternator.out"].nominal.0, 48.0);
    assert_eq!(all.banks["bank"].charge.0, 100.0);
    assert!(all.circuits["bus"].demand.load.0 >= 100.0, "it goes back through the main cables");
    assert!((worked(&text, |w| w.energy.engine.0) - 51.2 * 100.0).abs() < 1e-9, "what driving brings");
    let low = text.replace("voltage = \"51.2 V\"", "voltage = \"25.6 V\"");
    assert!(findings(&low).iter().any(|f| f.name == "charger-for-other-voltage"));
}

/// The starter battery charged from the bank: its network is the vehicle's, and what it takes is a load of the bank.
#[test]
fn the_starter_battery_can_be_kept_full_from_the_bank() {
    let kept = r#"starter = { kind = "starter-battery" }
keeper = { kind = "starter-maintainer", fed_from = "panel", run = "1 m", feeds = "starter", output_run = "2 m", output_current = "4 A", efficiency = "80 %", hours = "2 h" }"#;
    let text = chain("voltage = \"51.2 V\"", "made_for = \"48 V\"", kept);
    let all = worked(&text, |w| w.electrical.clone());
    assert_eq!([&all.circuits["keeper"], &all.circuits["keeper.out"]].map(|c| c.nominal.0), [48.0, 12.0]);
    // 4 A at 14.4 V, with 80 %, from 48 V.
    assert!((all.circuits["keeper"].demand.load.0 - 4.0 * 14.4 / 0.8 / 48.0).abs() < 1e-9);
    assert_eq!(all.banks["bank"].charge.0, 0.0);
    // Kept at 13.5 V for two hours.
    let load = worked(&text, |w| w.energy.loads["keeper"].clone());
    assert!((load.power.0 - 4.0 * 13.5 / 0.8).abs() < 1e-9 && load.hours.is_some_and(|h| h.0 == 7200.0));
    let wrong = findings(&text);
    assert!(
        !wrong.iter().any(|f| ["output-to-nowhere", "network-mismatch", "feeding-loop"].contains(&f.name)),
        "{wrong:?}"
    );
}

/// A relay passes on what comes; a DC-DC charger takes more than it gives.
#[test]
fn a_split_charge_relay_converts_nothing() {
    let through = |kind: &str| {
        let joined = format!(
            r#"starter = {{ kind = "starter-battery" }}
joint = {{ kind = "{kind}", fed_from = "starter", run = "3 m", feeds = "bus", output_run = "1 m", output_current = "50 A" }}"#
        );
        worked(&chain("", "", &joined), |w| w.electrical.circuits["joint"].demand.load.0)
    };
    assert_eq!(through("split-charge-relay"), 50.0);
    assert!(through("dc-dc-charger") > 60.0, "14.4 V over 12.5 V and 90 %");
}
