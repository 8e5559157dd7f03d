//! No walk along the circuits ends early: what holds over one part holds over sixty in a row.

use crate::harness::{findings, root};
use rigbinder::compute::network::nominal;
use rigbinder::documents::fact_book::FactBook;
use rigbinder::documents::facts::Voice;
use rigbinder::pipeline::{self, Loaded};
use rigbinder::units::Volts;
use std::fmt::Write as _;

const ROW: usize = 60;

/// `spec` with sixty parts in a row, each written as `part`, between `from` and the part whose line begins with `to`.
fn with_row(spec: &str, from: &str, to: &str, part: &str) -> String {
    let fed = format!("fed_from = \"{from}\"");
    let line = spec.lines().find(|line| line.starts_with(to) && line.contains(&fed)).expect("such a line");
    let mut rows = String::new();
    for n in 0..ROW {
        let before = if n == 0 { from.to_owned() } else { format!("row-{}", n - 1) };
        writeln!(rows, "row-{n} = {{ {part}, fed_from = \"{before}\", run = \"0.1 m\" }}").expect("text");
    }
    let last = line.replace(&fed, &format!("fed_from = \"row-{}\"", ROW - 1));
    spec.replace(line, &format!("{rows}{last}"))
}

fn file(path: &str) -> String {
    std::fs::read_to_string(root().join(path)).expect("spec")
}

fn load_text(text: &str) -> Loaded {
    pipeline::load(crate::harness::house(), "test.toml", text.as_bytes()).expect("the library of kinds holds together")
}

#[test]
fn an_array_reaches_its_controller_through_sixty_isolators() {
    let weekend = file("specs/weekend.toml");
    let near = load_text(&weekend);
    let far = load_text(&with_row(&weekend, "isolator", "mppt", "kind = \"pv-isolator\", place = \"bench\""));
    let [near, far] = [&near, &far].map(|loaded| pipeline::work_out(loaded).expect("profile"));
    assert_eq!(far.build.circuits.len(), near.build.circuits.len() + ROW);
    assert_eq!(far.electrical.strings["solar"].controller.as_deref(), Some("mppt"));
    let load = |worked: &pipeline::Worked<'_>| worked.electrical.circuits["mppt"].demand.load;
    assert!(load(&near).0 > 8.0 && load(&far) == load(&near), "{:?}, {:?}", load(&near), load(&far));
    assert_eq!(nominal(&far.build, &far.build.circuits["mppt"], &far.electrical.profile), Volts(18.6));
}

#[test]
fn a_lamp_reaches_its_way_and_its_negative_through_sixty_dimmers() {
    let weekend = file("specs/weekend.toml");
    let near = load_text(&weekend);
    let far = load_text(&with_row(&weekend, "panel", "lights", "kind = \"dimmer\", place = \"bench\""));
    let [near, far] = [&near, &far].map(|loaded| pipeline::work_out(loaded).expect("profile"));
    let fact = |worked: &pipeline::Worked<'_>, name: &str| {
        let facts = FactBook::of(&worked.build, &worked.electrical, &worked.ledger, Voice::Owner);
        facts.part("lights")[name].clone()
    };
    for name in ["way", "fuse", "panel"] {
        assert!(!fact(&near, name).is_empty(), "{name}");
        assert_eq!(fact(&far, name), fact(&near, name), "{name}");
    }
    let back = &far.build.wiring.conductors["lights.return"];
    assert_eq!(back.to, near.build.wiring.conductors["lights.return"].to, "past sixty switches to the same bar");
}

#[test]
fn checks_look_past_sixty_parts() {
    let told = |text: &str, name: &str| findings(text).iter().any(|f| f.name == name);
    let transfer = file("specs/broken/transfer-below-source.toml");
    let rcd = "kind = \"residual-current-device\", place = \"van\", rating = \"40 A\"";
    assert!(told(&with_row(&transfer, "inlet", "transfer", rcd), "transfer-below-source"));
    let name = "bank-without-disconnect";
    assert!(!told(&with_row(&transfer, "bank", "fuse", "kind = \"main-fuse\", place = \"van\""), name));
    let selective = file("specs/broken/fuses-not-selective.toml").replace(", protection = \"15 A\", place", ", place");
    let fused = selective.replace("run = \"3 m\"", "run = \"3 m\", protection = \"15 A\"");
    let row = with_row(&fused, "switch", "panel", "kind = \"battery-disconnect\", place = \"bench\"");
    let first = "fed_from = \"switch\", run = \"0.1 m\"";
    assert!(told(&row.replace(first, &format!("{first}, protection = \"15 A\"")), "fuses-not-selective"));
}

/// A charger on the inverter of the bank that it charges is a circle that a spec may have.
#[test]
fn a_walk_round_a_circle_tells_each_circuit_once() {
    let circle = "[build]\ntitle = \"T\"\n[component]\nbank = { kind = \"battery-bank\" }\n\
        inverter = { kind = \"inverter\", fed_from = \"bank\" }\n\
        charger = { kind = \"shore-charger\", fed_from = \"inverter\", feeds = \"bank\" }\n";
    let loaded = load_text(circle);
    let worked = pipeline::work_out(&loaded).expect("profile");
    let build = &worked.build;
    for start in ["bank", "inverter", "charger"] {
        let up: Vec<&str> = build.upstream(start).map(|c| c.id.as_str()).collect();
        let down: Vec<&str> = build.downstream(start).map(|c| c.id.as_str()).collect();
        assert_eq!((up.len(), down.len()), (3, 3), "{start}: {up:?}, {down:?}");
        assert_eq!(build.upstream(start).parts().count(), 2, "{start}");
    }
    let until = build.upstream("charger").until(|c| c.from == "inverter");
    assert_eq!(until.map(|c| c.from.as_str()).collect::<Vec<_>>(), ["inverter"]);
}
