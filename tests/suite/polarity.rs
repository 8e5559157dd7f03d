//! Wire labels: every one says its polarity, and a negative never ends where there is none.

use crate::harness::{demo_specs, load};
use rigbinder::build::Part;
use rigbinder::drawings::labels;
use rigbinder::kinds::{Carries, Network, Role};
use rigbinder::pipeline::{self, Worked};

/// What only stands in the way of a positive: a positive busbar, a fuse, a main switch, a switch that does not chop the
/// negative. Both poles of a solar string are switched.
fn is_positive_only(part: &Part<'_>) -> bool {
    if part.kind.posts.iter().any(|post| post.takes == Carries::Negative) {
        return false;
    }
    let pv = part.electric().is_some_and(|e| e.network == Network::Pv);
    match part.role() {
        Some(Role::Bus | Role::Protection) => true,
        Some(Role::Disconnect) => !pv,
        Some(Role::Control) => part.record.text("switched_lead") != Some("negative"),
        _ => false,
    }
}

/// Holds all conductors of a build; returns how many negatives there were.
pub(crate) fn negatives_end_on_negatives(worked: &Worked<'_>) -> usize {
    let build = &worked.build;
    let mut negatives = 0;
    for (id, conductor) in &build.wiring.conductors {
        if conductor.carries != Carries::Negative {
            continue;
        }
        negatives += 1;
        for end in conductor.ends() {
            // A negative may end on the vehicle's own.
            let Some(part) = build.parts.get(&end.part) else { continue };
            let has_post = part.post(end).is_some_and(|post| post.takes == Carries::Negative);
            let only_positive = is_positive_only(part) && !has_post && end.words.is_empty();
            assert!(!only_positive, "{id}: it ends on {}", end.show(build));
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
            assert!(!row[1].is_empty(), "{row:?}");
            let named =
                |cell: &str| positive.iter().any(|p| cell == p.name || cell.starts_with(&format!("{} (", p.name)));
            if row[1].contains('−') && !row[1].contains('+') {
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
    let wiring = &worked.build.wiring;
    let ends = |id: &str| {
        let conductor = &wiring.conductors[id];
        let [from, to] = conductor.ends().map(|end| end.show(&worked.build));
        format!("{} {from} → {to}", conductor.carries.sign())
    };
    assert_eq!(ends("charger.out"), "+ Charger → Plus bar");
    assert_eq!(ends("charger.out-return"), "− Minus bar → Charger");
    assert_eq!(ends("panel.supply"), "+ Plus bar → Panel, feed");
    assert_eq!(ends("panel.return"), "− Panel, negative bar → Minus bar");
    assert_eq!(ends("light-switch.supply"), "+ Panel, way 1 → Rocker, in");
    assert!(!wiring.conductors.contains_key("light-switch.return"), "a rocker has no negative");
    assert_eq!(ends("lamp.supply"), "+ Rocker, out → Lamp");
    assert_eq!(ends("lamp.return"), "− Lamp → Panel, negative bar");
    let bank = worked.build.name("bank");
    assert_eq!(ends("shunt.return"), format!("− Monitor, battery → {bank}, minus"));
    assert_eq!(ends("bar.supply"), "+ Main fuse, out → Plus bar");
    let drawings = pipeline::drawings(&worked);
    let flags = drawings.iter().filter(|d| d.about == labels::WIRES);
    let texts: Vec<&str> = flags.flat_map(|d| d.labels.iter().map(|l| l.text.as_str())).collect();
    let shop = worked.electrical.conductors.len();
    let signs = texts.iter().filter(|t| **t == "+" || **t == "−").count();
    assert!(shop > 10 && signs > 2 * shop, "{signs} signs on the flags of {shop} conductors");
    let sheets = pipeline::sheets(&worked, &pipeline::Only::default()).expect("documents");
    let packets: Vec<_> = sheets.iter().filter(|s| s.markdown.contains("## Wires to pull")).collect();
    assert_eq!(packets.len(), 1);
    let links = sheets.iter().find(|s| s.markdown.contains("## Links to cut")).expect("a board");
    let says = |conductor: &str| [packets[0], links].iter().any(|s| s.markdown.contains(conductor));
    assert!(says("| out-return − |"), "the packets say which conductor is which polarity");
    let ends = sheets.iter().any(|s| s.markdown.contains("## Terminations") && s.markdown.contains("| return −, "));
    assert!(ends, "a packet says where a negative ends");
}
