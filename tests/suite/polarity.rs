//! Wire labels: every one says its polarity, and a negative never ends where there is none.

use crate::harness::{demo_specs, load};
use rigbinder::build::{Build, Part};
use rigbinder::compute::network::{DeviceAt, WireLabel, wire_labels};
use rigbinder::drawings::labels;
use rigbinder::kinds::{Network, Role};
use rigbinder::pipeline::{self, Worked};
use std::collections::BTreeSet;

/// What only stands in the way of a positive: a positive busbar, a fuse, a main switch, a switch that does not chop the
/// negative. Both poles of a solar string are switched.
fn is_positive_only(part: &Part<'_>) -> bool {
    let pv = part.electric().is_some_and(|e| e.network == Network::Pv);
    match part.role() {
        Some(Role::Bus | Role::Protection) => true,
        Some(Role::Disconnect) => !pv,
        Some(Role::Control) => part.record.text("switched_lead") != Some("negative"),
        _ => false,
    }
}

fn told(build: &Build<'_>, label: &WireLabel) -> Vec<String> {
    label.from.iter().chain(&label.to).map(|t| t.show(build)).collect()
}

/// Holds all labels of a build; returns how many negatives there were.
pub(crate) fn negatives_end_on_negatives(worked: &Worked<'_>) -> usize {
    let build = &worked.build;
    let mut negatives = 0;
    for (id, circuit) in &build.circuits {
        let Some(figures) = worked.electrical.circuits.get(id) else { continue };
        for label in wire_labels(build, circuit, figures) {
            let signs: Vec<&str> = label.polarity.split(", ").collect();
            let known: &[&str] = if circuit.network == Network::Ac { &["L", "N", "PE"] } else { &["+", "−"] };
            assert!(signs.iter().all(|s| known.contains(s)), "{id}: polarity {:?}", label.polarity);
            if !signs.contains(&"−") {
                continue;
            }
            negatives += 1;
            for end in label.from.iter().chain(&label.to) {
                let part = &build.parts[&end.part];
                let only_positive = is_positive_only(part) && end.terminal.is_empty();
                assert!(!only_positive, "{id}: its negative ends on {:?}", told(build, &label));
            }
        }
    }
    negatives
}

#[test]
fn no_negative_of_the_demo_vans_is_labelled_with_a_positive_part() {
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        let negatives = negatives_end_on_negatives(&worked);
        assert!(negatives > 5, "{}: {negatives}", path.display());
        // What a label printer gets says the same.
        let files = pipeline::data(&worked).expect("data");
        let Some(file) = files.iter().find(|f| f.name.ends_with("wire-labels.csv")) else { continue };
        let mut rows = csv::Reader::from_reader(file.bytes.as_slice());
        let positive: Vec<&Part<'_>> = worked.build.parts.values().filter(|p| is_positive_only(p)).collect();
        for row in rows.records().map(|r| r.expect("row")) {
            assert!(["(+)", "(−)", "L", "N", "PE", "(+, −)", "L, N, PE"].contains(&&row[1]), "{row:?}");
            let named =
                |cell: &str| positive.iter().any(|p| cell == p.name || cell.starts_with(&format!("{} (", p.name)));
            if row[1].contains('−') {
                assert!(!named(&row[3]) && !named(&row[4]), "{row:?}");
            }
        }
    }
}

/// A charger's output is fused at the positive busbar; its negative goes to the bar that mirrors it, and on the label
/// sheet each flag bears its polarity.
#[test]
fn flags_and_packets_say_the_polarity() {
    let text = r#"
[build]
title = "Van"
[place.van]
about = "Van"
[component]
bank = { kind = "battery-bank", place = "van" }
shunt = { kind = "battery-monitor", name = "Monitor", fed_from = "bank", run = "0.5 m", place = "van" }
main-fuse = { kind = "main-fuse", fed_from = "bank", run = "0.3 m", place = "van" }
bar = { kind = "busbar", name = "Plus bar", fed_from = "main-fuse", run = "0.5 m", place = "van" }
minus = { kind = "negative-busbar", name = "Minus bar", mirrors = "bar", place = "van" }
panel = { kind = "fuse-panel", name = "Panel", fed_from = "bar", run = "1 m", place = "van" }
light-switch = { kind = "two-way-switch", name = "Rocker", fed_from = "panel", run = "2 m", place = "van" }
lamp = { kind = "light-zone", name = "Lamp", fed_from = "light-switch", run = "1 m", place = "van" }
charger = { kind = "shore-charger", name = "Charger", feeds = "bar", output_run = "1 m", place = "van" }
"#;
    let loaded = pipeline::load(crate::harness::house(), "test.toml", text.as_bytes()).expect("kinds");
    let worked = pipeline::work_out(&loaded).expect("profile");
    let ends = |id: &str| {
        let circuit = &worked.build.circuits[id];
        let all = wire_labels(&worked.build, circuit, &worked.electrical.circuits[id]);
        let said = |l: WireLabel| format!("{} {}", l.polarity, told(&worked.build, &l).join(" → "));
        all.into_iter().map(said).collect::<Vec<_>>()
    };
    assert_eq!(ends("charger.out"), ["+ Charger → Plus bar", "− Charger → Minus bar"]);
    assert_eq!(ends("panel"), ["+ Plus bar → Panel", "− Minus bar → Panel, negative bar"]);
    assert_eq!(ends("light-switch"), ["+ Panel → Rocker", "− Panel, negative bar → Lamp"]);
    assert_eq!(ends("lamp"), ["+ Rocker → Lamp", "− Panel, negative bar → Lamp"]);
    assert_eq!(ends("shunt"), ["− bank, minus → Monitor"].map(|t| t.replace("bank", worked.build.name("bank"))));
    assert_eq!(ends("bar"), ["+ Main fuse → Plus bar"]);
    let drawings = pipeline::drawings(&worked);
    let flags = drawings.iter().filter(|d| d.about == labels::WIRES);
    let texts: Vec<&str> = flags.flat_map(|d| d.labels.iter().map(|l| l.text.as_str())).collect();
    let shop = worked.electrical.circuits.values().filter(|f| f.device.at != DeviceAt::Vehicle).count();
    let signs = texts.iter().filter(|t| **t == "+" || **t == "−").count();
    assert!(shop > 5 && signs >= 4 * shop, "{signs} signs on the flags of {shop} circuits");
    let sheets = pipeline::sheets(&worked, &pipeline::Only::default()).expect("documents");
    let packets: Vec<_> = sheets.iter().filter(|s| s.markdown.contains("## Wires to pull")).collect();
    let signed: BTreeSet<bool> = packets.iter().map(|s| s.markdown.contains("red +, ")).collect();
    assert!(signed.contains(&true), "no packet says which colour is which polarity");
    assert!(
        sheets.iter().any(|s| s.markdown.contains("− Charger → Minus bar")),
        "no packet says where a negative ends"
    );
}
