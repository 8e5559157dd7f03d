//! Currents of the network: charge current and load current, whatever the order of the spec.

use crate::harness::findings;
use rigbinder::compute::network::Electrical;
use rigbinder::pipeline;
use rigbinder::units::Amps;

const BANK: &str = r#"
[component]
bank    = { kind = "battery-bank", capacity = "100 Ah", max_discharge = "10 A", max_charge = "50 A" }
shunt   = { kind = "battery-monitor", fed_from = "bank", run = "20 cm" }
fuse    = { kind = "main-fuse", fed_from = "bank", run = "15 cm" }
switch  = { kind = "battery-disconnect", fed_from = "fuse", run = "20 cm" }
panel   = { kind = "fuse-panel", fed_from = "switch", run = "50 cm" }
fridge  = { kind = "fridge", draw = "48 W", fed_from = "switch", run = "1 m" }
"#;

const CHARGER: &str = r#"
[component.starter]
kind = "starter-battery"

[component.dc-dc]
kind           = "dc-dc-charger"
fed_from       = "starter"
run            = "3 m"
output_current = "30 A"
feeds          = "panel"
output_run     = "40 cm"
"#;

fn electrical(text: &str) -> Electrical {
    let loaded = pipeline::load(crate::harness::house(), "test.toml", text.as_bytes()).expect("kinds");
    pipeline::work_out(&loaded).expect("profile").figures.electrical
}

fn load(all: &Electrical, circuit: &str) -> Amps {
    all.circuits[circuit].demand.load
}

/// 30 A flow back from the panel, 4 A are drawn at the switch: fuse and switch carry the one or the other.
#[test]
fn charge_current_sizes_what_it_flows_through_wherever_the_charger_stands_in_the_spec() {
    for text in [format!("{BANK}{CHARGER}"), format!("{CHARGER}{BANK}")] {
        let all = electrical(&text);
        for circuit in ["panel", "switch", "fuse", "shunt"] {
            assert_eq!(load(&all, circuit), Amps(30.0), "{circuit}");
        }
        let rating = all.circuits["fuse"].device.rating.expect("sized");
        assert!(rating >= Amps(37.5), "the main fuse of {rating:?} opens while the bank is charged");
    }
}

#[test]
fn charge_current_is_not_drawn_from_the_bank() {
    let all = electrical(&format!("{BANK}{CHARGER}"));
    assert_eq!((all.banks["bank"].discharge, all.banks["bank"].charge), (Amps(4.0), Amps(30.0)));
    let found = findings(&format!("{BANK}{CHARGER}"));
    assert!(found.iter().all(|f| f.name != "bank-discharge-over-limit"));
}

#[test]
fn the_shunt_carries_what_the_loads_draw() {
    let all = electrical(BANK);
    assert_eq!((load(&all, "fuse"), load(&all, "shunt")), (Amps(4.0), Amps(4.0)));
}

/// A second bank that no charger reaches is not charged.
#[test]
fn chargers_count_for_the_bank_they_reach() {
    let second = "\n[component.spare]\nkind = \"battery-bank\"\ncapacity = \"50 Ah\"\nmax_charge = \"5 A\"\n";
    let all = electrical(&format!("{BANK}{CHARGER}{second}"));
    assert_eq!((all.banks["bank"].charge, all.banks["spare"].charge), (Amps(30.0), Amps(0.0)));
}

/// More than the largest cube fuse: the family goes up.
#[test]
fn a_winch_on_the_starter_battery_gets_a_fuse() {
    let all = electrical(
        "[component]\nstarter = { kind = \"starter-battery\" }\nwinch = { kind = \"winch\", current = \"380 A\", fed_from = \"starter\", run = \"2 m\" }\n",
    );
    assert_eq!(all.circuits["winch"].device.rating, Some(Amps(400.0)));
    assert!(all.circuits["winch"].sized.is_ok());
}

/// Without a fuse of its own a thin wire hangs on the main fuse.
#[test]
fn a_thin_wire_behind_a_large_fuse_is_found() {
    let thin = BANK
        .replace(r#""15 cm" }"#, r#""15 cm", rating = "80 A" }"#)
        .replace(r#""1 m" }"#, r#""1 m", conductor = "16 AWG" }"#);
    let found = findings(&thin);
    let about: Vec<_> =
        found.iter().filter(|f| f.name == "fuse-above-conductor").map(|f| f.subject.as_deref()).collect();
    assert_eq!(about, [Some("fridge")]);
}

/// The shunt stands before the fuse in the spec; its cable is the return of the fused one all the same.
#[test]
fn the_return_is_as_large_as_the_main_cable_wherever_the_shunt_stands() {
    let fixed = BANK.replace("run = \"15 cm\"", "run = \"15 cm\", rating = \"200 A\"");
    let all = electrical(&fixed);
    let size = |id: &str| all.circuits[id].conductor().expect("sized").size.to_string();
    assert_eq!((size("fuse").as_str(), size("shunt").as_str()), ("2 AWG", "2 AWG"));
}

/// A controller that takes less than the array gives does not make the cable behind the isolator smaller.
#[test]
fn solar_cables_carry_the_short_circuit_current_up_to_the_controller() {
    let all = electrical(
        r#"
[component]
bank       = { kind = "battery-bank", capacity = "100 Ah" }
bus        = { kind = "busbar", fed_from = "bank", run = "20 cm" }
array      = { kind = "solar-array", power = "175 W", voc = "23 V", isc = "9.5 A", vmp = "19 V", imp = "9.2 A", parallel = 3 }
isolator   = { kind = "pv-isolator", fed_from = "array", run = "3 m" }
controller = { kind = "solar-controller", fed_from = "isolator", run = "30 cm", output_current = "15 A", feeds = "bus", output_run = "30 cm" }
"#,
    );
    assert_eq!((load(&all, "isolator"), load(&all, "controller")), (Amps(28.5), Amps(28.5)));
}

/// Behind a transfer switch the larger of the two devices decides, not the one that stands first.
#[test]
fn behind_a_transfer_switch_the_larger_device_counts() {
    let all = electrical(
        r#"
[component]
bank     = { kind = "battery-bank", capacity = "200 Ah" }
bus      = { kind = "busbar", fed_from = "bank", run = "20 cm" }
inverter = { kind = "inverter", fed_from = "bus", run = "50 cm", power = "800 W", feeds = "transfer", output_run = "50 cm" }
inlet    = { kind = "shore-inlet", rating = "30 A" }
shore    = { kind = "consumer-unit", fed_from = "inlet", run = "1 m", rating = "30 A" }
transfer = { kind = "transfer-switch", fed_from = "shore", run = "50 cm", protection = "30 A" }
panel    = { kind = "consumer-unit", fed_from = "transfer", run = "50 cm", rating = "15 A" }
outlet   = { kind = "ac-outlet", fed_from = "panel", run = "2 m" }
"#,
    );
    let panel = &all.circuits["panel"];
    assert_eq!(panel.device.rating, Some(Amps(30.0)));
    assert_eq!(panel.conductor().expect("sized").size.to_string(), "10 AWG");
}

/// A fuse holds while a motor starts, and the glow pin of a heater is a load.
#[test]
fn start_currents_count_for_the_fuse() {
    let heater = "heater  = { kind = \"air-heater\", fed_from = \"panel\", run = \"1 m\" }\n";
    let pump = "pump    = { kind = \"water-pump\", draw = \"90 W\", start_current = \"20 A\", fed_from = \"panel\", run = \"1 m\" }\n";
    let all = electrical(&format!("{BANK}{heater}{pump}"));
    let rating = |id: &str| all.circuits[id].device.rating.expect("sized");
    assert_eq!((load(&all, "heater"), rating("heater")), (Amps(10.0), Amps(15.0)));
    assert_eq!((load(&all, "pump"), rating("pump")), (Amps(7.5), Amps(15.0)));
}
