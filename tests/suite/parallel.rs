//! Conductors side by side that share one current: each is in the lists, and together they are sized, lose and measure as
//! two equal resistances in parallel do (Ohm, Kirchhoff).

use crate::harness::{built_in, findings};
use rigbinder::build::Purpose;
use rigbinder::pipeline::{self, Only, Worked};

const VAN: &str = r#"
[build]
title = "Van"
[place]
board = { about = "Board" }
[component]
bank = { kind = "battery-bank", capacity = "600 Ah", max_discharge = "400 A", max_charge = "200 A", place = "board" }
fuse = { kind = "main-fuse", fed_from = "bank", run = "0.2 m", place = "board" }
bar = { kind = "busbar", fed_from = "fuse", run = "0.2 m", place = "board" }
minus = { kind = "negative-busbar", mirrors = "bar", returns_to = "bank", run = "0.4 m", place = "board" }
"#;

fn of<T>(inverter: &str, ask: impl FnOnce(&Worked<'_>) -> T) -> T {
    let own = format!(
        r#"inverter = {{ kind = "inverter", power = "1200 W", fed_from = "bar", run = "1.8 m", place = "board"{inverter} }}"#
    );
    let text = format!("{VAN}{own}\n");
    let loaded = pipeline::load(built_in(), "test.toml", text.as_bytes()).expect("kinds");
    ask(&pipeline::work_out(&loaded).expect("profile"))
}

#[test]
fn two_carry_twice_and_lose_half() {
    let asked = |worked: &Worked<'_>| {
        let figures = &worked.electrical.circuits["inverter"];
        let sized = figures.conductor().expect("sized");
        let good = figures.acceptance.expect("known").good;
        let carries = sized.ampacity.as_ref().expect("ampacity").corrected.0;
        (carries, sized.drop.loop_resistance.0, good.warm.0, good.conductor.0)
    };
    let one = of(r#", conductor = "2/0 AWG""#, asked);
    let two = of(r#", conductor = "2/0 AWG", conductors = 2"#, asked);
    let close = |a: f64, b: f64| (a / b - 1.0).abs() < 0.03;
    assert!((two.0 / one.0 - 2.0).abs() < 1e-9, "{one:?} {two:?}");
    // A cooler conductor has a little less than half.
    assert!(two.1 < one.1 / 2.0 + 1e-12 && close(two.1 * 2.0, one.1), "{one:?} {two:?}");
    assert!(close(two.2 * 2.0, one.2), "{one:?} {two:?}");
    // By itself each measures what one does.
    assert!((two.3 - one.3).abs() < 1e-15, "{one:?} {two:?}");
}

#[test]
fn every_list_has_both() {
    of(", conductors = 2", |worked| {
        let own: Vec<_> = worked.build.wiring.conductors.values().filter(|c| c.owner == "inverter").collect();
        let ends = |local: &str| {
            let conductor = own.iter().find(|c| c.local == local).unwrap_or_else(|| panic!("no {local}"));
            (conductor.from.clone(), conductor.to.clone(), conductor.route.length)
        };
        for (first, second) in [("supply", "supply-b"), ("return", "return-b")] {
            assert_eq!(ends(first), ends(second), "of one length, between the same posts");
        }
        assert_eq!(own.iter().filter(|c| c.purpose == Purpose::Beside).count(), 2);
        let size = worked.electrical.circuits["inverter"].conductor().expect("sized").size;
        assert!(size.area().0 > 53.0, "1/0 AWG at least: {size}");
        let sheets = pipeline::sheets(worked, &Only::default()).expect("documents");
        let text = |stem: &str| {
            sheets.iter().find(|s| s.stem.starts_with(stem)).expect("packet").markdown.replace('\u{a0}', " ")
        };
        for pair in ["supply +, supply-b +", "return −, return-b −"] {
            let row = format!("| ☐ | `inverter` | {pair} |");
            let told = ["packet-04", "packet-08"].map(text).concat();
            let lists = ["Wires to pull", "Links to cut"];
            let listed = told.split("\n## ").filter(|s| lists.iter().any(|list| s.starts_with(list)));
            let times: usize = listed.map(|list| list.matches(&row).count()).sum();
            assert_eq!(times, 1, "{pair}: both are cut, once");
        }
        for end in ["supply-b +", "return-b −"] {
            let told = text("packet-08");
            let made = told.lines().filter(|line| line.contains(&format!("| {end}, ")));
            assert_eq!(made.map(|row| row.matches('☐').count()).sum::<usize>(), 2, "{end} is terminated at both ends");
        }
        assert!(text("schedule").contains(&format!("2 × {size}")), "the schedule says how many");
    });
}

/// The bond of the van is as thick as all that leaves the bank together.
#[test]
fn a_bond_answers_for_all_of_them() {
    let bond = |bank: &str| {
        let text = format!(
            "{VAN}bond = {{ kind = \"chassis-bond\", place = \"board\" }}\nload = {{ kind = \"inverter\", power = \"2000 W\", fed_from = \"bar\", run = \"1 m\", place = \"board\" }}\n"
        );
        let text =
            text.replace(r#"fed_from = "bank", run = "0.2 m""#, &format!(r#"fed_from = "bank", run = "0.2 m"{bank}"#));
        let loaded = pipeline::load(built_in(), "test.toml", text.as_bytes()).expect("kinds");
        let worked = pipeline::work_out(&loaded).expect("profile");
        worked.electrical.conductors["bond.bond"].size.expect("sized").area().0
    };
    let one = bond(r#", conductor = "1/0 AWG""#);
    let two = bond(r#", conductor = "1/0 AWG", conductors = 2"#);
    // Two of 1/0 AWG have 107 mm² between them (NEC chapter 9, table 8: 53.49 mm² each).
    assert!(one < 86.0 && two >= 106.9, "{one} mm², {two} mm²");
}

#[test]
fn thin_ones_are_told() {
    let thin = format!(
        "{VAN}inverter = {{ kind = \"inverter\", power = \"600 W\", fed_from = \"bar\", run = \"1 m\", place = \"board\", conductor = \"4 AWG\", conductors = 2 }}\n"
    );
    assert!(findings(&thin).iter().any(|f| f.name == "parallel-conductor-too-thin"));
}
