//! What is plugged in, and what was promised of the bank: by hand, power times hours, and the energy of the bank over a
//! power.

use crate::harness::{built_in, findings};
use rigbinder::compute::ledger::Amount;
use rigbinder::pipeline::{self, Only, Worked};

const VAN: &str = r#"
[build]
title = "Van"
[place]
van = { about = "Inside" }
[component]
bank = { kind = "battery-bank", place = "van", capacity = "300 Ah", max_discharge = "300 A", max_charge = "150 A" }
fuse = { kind = "main-fuse", place = "van", fed_from = "bank", run = "0.15 m" }
bar = { kind = "busbar", place = "van", fed_from = "fuse", run = "0.2 m" }
minus = { kind = "negative-busbar", mirrors = "bar", returns_to = "bank", run = "0.4 m", place = "van" }
inverter = { kind = "inverter", place = "van", fed_from = "bar", run = "0.4 m", power = "2000 W", feeds = "unit", output_run = "0.5 m" }
unit = { kind = "consumer-unit", place = "van", rating = "20 A" }
rcd = { kind = "residual-current-device", place = "van", fed_from = "unit", run = "0.3 m" }
galley = { kind = "ac-outlet", place = "van", fed_from = "rcd", run = "2 m" }
bath = { kind = "ac-outlet", place = "van", fed_from = "rcd", run = "2 m" }
panel = { kind = "fuse-panel", place = "van", fed_from = "bar", run = "0.3 m" }
fridge = { kind = "fridge", place = "van", fed_from = "panel", run = "2 m", draw = "48 W", duty = "50 %", run_goal = "100 h" }
[climate.summer]
month = 7
latitude = "47 °"
irradiation = "5.5 kWh/m2"
low = "12 °C"
high = "26 °C"
"#;

fn with<T>(devices: &str, ask: impl FnOnce(&Worked<'_>) -> T) -> T {
    let text = format!("{VAN}[use]\n{devices}\n");
    let loaded = pipeline::load(built_in(), "test.toml", text.as_bytes()).expect("kinds");
    ask(&pipeline::work_out(&loaded).expect("profile"))
}

const KETTLE: &str =
    r#"devices.kettle = { plugged_into = "galley", power = "1500 W", hours = "20 min", at = "meals" }"#;

/// 1500 W for a third of an hour are 500 Wh, at the load; the inverter loses its share on top.
#[test]
fn what_is_plugged_in_is_in_the_account() {
    let need = |worked: &Worked<'_>| {
        let season = &worked.energy.seasons["summer"];
        let kettle: f64 = season.need.loads.get("use.kettle").map_or(0.0, |hours| hours.iter().sum());
        (kettle, season.need.ac.iter().sum::<f64>(), season.need.inverter_loss.iter().sum::<f64>())
    };
    let (none, with_kettle) = (with("", need), with(KETTLE, need));
    assert!(none.0.abs() < 1e-9 && (with_kettle.0 - 500.0).abs() < 1e-6, "{none:?} {with_kettle:?}");
    assert!((with_kettle.1 - none.1 - 500.0).abs() < 1e-6, "{none:?} {with_kettle:?}");
    assert!(with_kettle.2 > none.2, "the inverter takes more: {none:?} {with_kettle:?}");
    with(KETTLE, |worked| {
        let figure =
            worked.ledger.figures().find(|f| f.subject == "use.kettle" && f.formula == "load-day").expect("figure");
        assert!(matches!(figure.value, Amount::Of(_, wh) if (wh - 500.0).abs() < 1e-6), "{:?}", figure.value);
        let sheets = pipeline::sheets(worked, &Only::default()).expect("documents");
        let manual = sheets.iter().find(|s| s.stem == "owners-manual").expect("manual");
        assert!(manual.markdown.contains("kettle"), "the owner is told what it takes");
    });
}

/// The largest of those of which one runs at a time counts, beside all others.
#[test]
fn one_of_several_runs_at_a_time() {
    let plugged = |devices: &str| with(devices, |worked| worked.electrical.ac_sources["inverter"].with_devices.0);
    let device = |id: &str, at: &str, watts: u32, one_of: &str| {
        format!(r#"devices.{id} = {{ plugged_into = "{at}", power = "{watts} W", hours = "10 min"{one_of} }}{}"#, "\n")
    };
    let all = |word: &str| {
        [
            device("kettle", "galley", 1200, word),
            device("dryer", "bath", 1100, word),
            device("laptop", "galley", 65, ""),
        ]
        .concat()
    };
    assert!((plugged(&all("")) - 2365.0).abs() < 1e-9);
    assert!((plugged(&all(r#", one_of = "breakfast""#)) - 1265.0).abs() < 1e-9);
    let over = |devices: &str| {
        findings(&format!("{VAN}[use]\n{devices}\n"))
            .iter()
            .any(|f| f.name == "devices-over-supply" && f.headline.starts_with("inverter"))
    };
    assert!(over(&all("")) && !over(&all(r#", one_of = "breakfast""#)));
}

/// The fridge takes 24 W on the mean; the bank's energy down to the reserve over that is how long it runs.
#[test]
fn a_promise_is_held_against_the_bank() {
    let hours = with("", |worked| {
        let bank = &worked.electrical.banks["bank"];
        let time = worked.energy.run_times["fridge"].time.0 / 3600.0;
        assert!((time - bank.usable.0 / 24.0).abs() < 1e-6, "{time} h, {} Wh", bank.usable.0);
        time
    });
    let told = |goal: f64| {
        let text = VAN.replace("100 h", &format!("{goal:.1} h"));
        findings(&text).iter().any(|f| f.name == "run-time-below-goal")
    };
    assert!(told(hours + 1.0) && !told(hours - 1.0), "{hours}");
}
