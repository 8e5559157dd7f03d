//! What the tests of a van's circuits accept: a good conductor passes, a bad one does not, and every document prints the
//! same limit.

use crate::harness::{demo_specs, findings, load, root};
use rigbinder::build::Purpose;
use rigbinder::compute::electrical::acceptance::{TELLABLE, fuse};
use rigbinder::compute::readings::CircuitTest;
use rigbinder::compute::readings::band::Verdict;
use rigbinder::kinds::Network;
use rigbinder::pipeline::{self, Only, Worked};
use rigbinder::units::{Amps, Bound, ConductorSize, Dimension, print_bound};
use std::collections::BTreeMap;

/// Ohms per metre at 20 °C by what is printed on the reel: IEC 60228 class 5 as it stands; NEC Chapter 9 Table 8
/// (stranded, uncoated) from its 75 °C by the coefficient of its own note, 0.00323 per kelvin.
pub(crate) fn published() -> BTreeMap<String, f64> {
    let read = |file: &str| {
        let path = root().join("tests/reference").join(file);
        let text = std::fs::read_to_string(path).expect("reference");
        let rows = text.lines().filter(|l| !l.starts_with('#')).collect::<Vec<_>>().join("\n");
        let mut reader = csv::Reader::from_reader(rows.as_bytes());
        let head = reader.headers().expect("head").clone();
        let cells = |row: csv::StringRecord| {
            head.iter().map(str::to_owned).zip(row.iter().map(str::to_owned)).collect::<BTreeMap<_, _>>()
        };
        reader.records().map(|r| cells(r.expect("row"))).collect::<Vec<_>>()
    };
    let number = |row: &BTreeMap<String, String>, cell: &str| row[cell].parse::<f64>().expect("number");
    let mut all = BTreeMap::new();
    for row in read("nec-ch9-table8.csv").iter().filter(|r| r["strands"] != "1") {
        let at_20 = number(row, "cu_uncoated_ohm_kft_75C") * (1.0 + 0.00323 * (20.0 - 75.0));
        all.insert(format!("{} AWG", row["awg"]), at_20 / 304.8);
    }
    for row in read("iec60228-class5.csv") {
        let size = ConductorSize::parse(&format!("{} mm2", row["area_mm2"])).expect("size");
        all.insert(size.to_string(), number(&row, "plain_max_ohm_km_20C") / 1000.0);
    }
    all
}

/// What a recorded value of a test says, with a current read beside it.
fn verdict(test: &CircuitTest, field: &str, value: f64, dimension: Dimension, amps: Amps) -> Verdict {
    let band = test.band(field, Some(amps));
    assert!(band.limits.is_some(), "{field} has no limit");
    band.judge(&format!("{value:.9} {}", if dimension == Dimension::Resistance { "ohm" } else { "V" }), None)
}

/// Holds the limits of a build against good and bad conductors; returns how many were judged by resistance, by the drop
/// over one conductor, and by the drop from the source.
pub(crate) fn limits_tell_good_from_bad(worked: &Worked<'_>, published: &BTreeMap<String, f64>) -> [usize; 3] {
    let mut judged = [0; 3];
    for test in &worked.readings.circuits {
        let id = &test.circuit;
        let circuit = &worked.build.circuits[id];
        let figures = &worked.electrical.circuits[id];
        let (Some(run), Some(sized)) = (circuit.run.filter(|r| r.0 > 0.0), figures.conductor()) else {
            assert!(test.good.is_none(), "{id}: a limit without a length");
            continue;
        };
        let good = test.good.as_ref().expect("a limit");
        if let Some(per_metre) = published.get(&sized.size.to_string()) {
            // Beside a fuse or switch the negative goes on to the bar: the longest conductor counts.
            // Legs and straps beyond it are no part of its way.
            let own = worked.build.conductors_of(circuit).filter(|c| c.purpose == Purpose::Circuit);
            let lengths = own.filter_map(|c| c.route.length);
            let expected = per_metre * lengths.map(|l| l.0).reduce(f64::max).unwrap_or(run.0);
            let off = good.good.conductor.0 / expected - 1.0;
            assert!(off.abs() < 0.015, "{id}: {:?} expected, {expected} Ω by the tables", good.good.conductor);
        }
        let of = Dimension::Resistance;
        let ohms = good.good.conductor.0;
        assert_eq!(verdict(test, "continuity", ohms, of, test.amps), Verdict::Within, "{id}: the copper itself");
        if good.good.conductor >= TELLABLE {
            assert!(test.asks("continuity") && !test.asks("drop"), "{id}");
            assert_eq!(verdict(test, "continuity", ohms * 3.0, of, test.amps), Verdict::Outside, "{id}: three times");
            judged[0] += 1;
        } else {
            assert!(test.asks("drop") && test.asks("amps") && !test.asks("continuity"), "{id}");
            // At its load and at a part of it: the limit goes with the current.
            for share in [1.0, 0.3] {
                let amps = test.amps * share;
                let volts = |ohms: f64| verdict(test, "drop", ohms * amps.0, Dimension::Voltage, amps);
                if amps.0 > 0.0 {
                    assert_eq!(volts(good.good.warm.0), Verdict::Within, "{id}: the copper itself");
                    assert_eq!(volts(good.good.warm.0 + 0.010), Verdict::Outside, "{id}: a joint of 10 mΩ");
                    judged[1] += 1;
                }
            }
        }
        let (true, Some(path)) = (test.asks("below"), good.path) else { continue };
        let volts = |ohms: f64| verdict(test, "below", ohms * test.amps.0, Dimension::Voltage, test.amps);
        assert_eq!(volts(path.conductors.0), Verdict::Within, "{id}: the copper itself");
        // Beside its own fuse and what the two meters may be off, three times the drop is a fault that is found.
        let fuse = figures.device.rating.map_or(0.0, |rating| fuse(rating).0);
        let bad = path.conductors.0 * 3.0 + fuse;
        if path.conductors.0 * test.amps.0 * 3.0 > good.meters.0 * 4.0 && path.conductors.0 > 0.03 {
            assert_eq!(volts(bad), Verdict::Outside, "{id}: three times the drop");
            judged[2] += 1;
        }
    }
    judged
}

#[test]
fn limits_of_the_demo_vans_tell_good_from_bad() {
    let published = published();
    let mut judged = [0; 3];
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        let here = limits_tell_good_from_bad(&worked, &published);
        judged.iter_mut().zip(here).for_each(|(all, here)| *all += here);
    }
    assert!(judged.iter().all(|n| *n > 20), "{judged:?}");
}

/// On the AC side a tenth of the voltage passed whatever the cable was: 199 W in the wiring. What is allowed beside the
/// drop of the conductors is small, wherever the outlet is.
#[test]
fn mains_wiring_may_lose_little_more_than_its_copper() {
    let mut judged = 0;
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        for test in worked.readings.circuits.iter().filter(|t| t.asks("below")) {
            let figures = &worked.electrical.circuits[&test.circuit];
            if worked.build.circuits[&test.circuit].network != Network::Ac || test.amps.0 <= 0.0 {
                continue;
            }
            let most = test.good.as_ref().and_then(|g| g.below_most(test.amps)).expect("a limit");
            let beside = (most - figures.drop_alone) / figures.nominal;
            assert!(beside < 0.015, "{}: {:.2} % beside the conductors", test.circuit, beside * 100.0);
            judged += 1;
        }
    }
    assert!(judged >= 6, "{judged}");
}

const VAN: &str = r#"
[build]
title = "Van"
prints = "metric"
[place.van]
about = "Van"
[component]
bank = { kind = "battery-bank", capacity = "200 Ah", place = "van" }
main-fuse = { kind = "main-fuse", fed_from = "bank", run = "0.3 m", place = "van" }
bar = { kind = "busbar", fed_from = "main-fuse", run = "0.8 m", conductor = "1/0 AWG", place = "van" }
minus = { kind = "negative-busbar", mirrors = "bar", returns_to = "bank", run = "0.8 m", place = "van" }
fridge = { kind = "fridge", fed_from = "bar", run = "4 m", conductor = "14 AWG", place = "van" }
"#;

fn outside(recorded: &str) -> Vec<String> {
    let all = findings(&format!("{VAN}[recorded.circuits]\n{recorded}\n"));
    let told = all.into_iter().filter(|f| f.name == "reading-out-of-tolerance" || f.name == "reading-unreadable");
    told.map(|f| f.headline).collect()
}

/// The form of earlier specs reads on, and is held to the cable it stands for.
#[test]
fn a_recorded_value_is_held_to_its_own_cable() {
    // 14 AWG, 4 m: 33.8 mΩ by NEC Table 8 at 20 °C.
    for good in ["34 mohm", "0.036 ohm", "35 mΩ", "< 0.04 ohm"] {
        assert_eq!(outside(&format!("fridge = {{ continuity = \"{good}\" }}")), [""; 0], "{good}");
    }
    for bad in ["0.1 ohm", "0.3 ohm", "50 mohm"] {
        let told = outside(&format!("fridge = {{ continuity = \"{bad}\", insulation = \"> 200 Mohm\" }}"));
        assert!(told.len() == 1 && told[0].contains(bad) && told[0].contains("33.8 mΩ, ≤ "), "{bad}: {told:?}");
    }
    // 1/0, 0.8 m: 0.26 mΩ. No ohmmeter at the van tells; a third of an ohm is told all the same.
    assert_eq!(outside("bar = { continuity = \"0.3 ohm\" }").len(), 1);
    assert_eq!(outside("bar = { drop = \"2 mV\", amps = \"4 A\" }"), [""; 0]);
    assert_eq!(outside("bar = { drop = \"0.05 V\", amps = \"4 A\" }").len(), 1);
    // The limit is that of the current which was read, and too little of it tells nothing.
    assert_eq!(outside("fridge = { below = \"0.75 V\", amps = \"5.4 A\" }").len(), 1);
    assert_eq!(outside("bar = { drop = \"0.03 mV\", amps = \"0.1 A\" }").len(), 1);
    assert_eq!(outside("bar = { drop = \"fine\", amps = \"4 A\" }").len(), 1);
}

/// Each conductor is held to its own length, and all of a circuit stand for it. NEC Chapter 9 Table 8 at 20 °C: 14 AWG has
/// 8.45 mΩ/m, so 4 m have 33.8 mΩ.
#[test]
fn a_recorded_conductor_is_held_to_its_own_length() {
    let spec = |recorded: &str| format!("{VAN}[recorded]\n{recorded}\n");
    let told = |recorded: &str| {
        let all = findings(&spec(recorded)).into_iter();
        let own =
            all.filter(|f| ["reading-out-of-tolerance", "reading-unreadable", "recorded-nothing"].contains(&f.name));
        own.map(|f| f.headline).collect::<Vec<_>>()
    };
    assert_eq!(told("conductors.fridge = { supply = \"34 mohm\", return = \"0.036 ohm\" }"), [""; 0]);
    let bad = told("conductors.fridge = { supply = \"34 mohm\", return = \"50 mohm\" }");
    assert!(bad.len() == 1 && bad[0].starts_with("fridge.return: 50 mohm read, 33.8 mΩ, ≤ "), "{bad:?}");
    // Thicker ones by their drop, at the current that was read beside it.
    let drop = |mv: &str| told(&format!("conductors.bar.supply = \"{mv} mV\"\ncircuits.bar = {{ amps = \"4 A\" }}"));
    assert_eq!((drop("2").len(), drop("50").len()), (0, 1));
    assert_eq!(told("conductors.fridge.suply = \"34 mohm\"").len(), 1, "no conductor of that label");
    assert_eq!(told("conductors.fridge.supply = \"fine\"").len(), 1, "no figure");
    // All that carry its current stand for the circuit, with the worst of them.
    let of_fridge = |recorded: &str| {
        let loaded = pipeline::load(crate::harness::house(), "test.toml", spec(recorded).as_bytes()).expect("kinds");
        let worked = pipeline::work_out(&loaded).expect("profile");
        let missing = worked.missing.iter().find(|m| m.id == "fridge" && m.what.starts_with("Cable"));
        let asks = missing.is_some_and(|m| m.write.contains("continuity"));
        let sum = worked.readings.circuit_results.get("fridge.continuity");
        (asks, sum.map(|r| (r.recorded.clone(), r.verdict)))
    };
    assert_eq!(of_fridge("conductors.fridge.supply = \"34 mohm\""), (true, None));
    let both = of_fridge("conductors.fridge = { supply = \"34 mohm\", return = \"0.036 ohm\" }");
    assert_eq!(both, (false, Some(("0.036 ohm".to_owned(), Verdict::Within))));
    let worst = of_fridge("conductors.fridge = { supply = \"60 mohm\", return = \"34 mohm\" }");
    assert_eq!(worst, (false, Some(("60 mohm".to_owned(), Verdict::Outside))));
}

/// Test record, packets, calculation sheet, schedule and the list of what is missing print one limit.
#[test]
fn every_document_prints_the_same_limit() {
    let loaded = load(&root().join("specs/turnstone.toml"));
    let worked = pipeline::work_out(&loaded).expect("profile");
    let sheets = pipeline::sheets(&worked, &Only::default()).expect("documents");
    let mut compared = 0;
    for test in &worked.readings.circuits {
        let (id, Some(good)) = (&test.circuit, &test.good) else { continue };
        let (_, limit) = test.limit(&worked.build, if test.by_drop() { "drop" } else { "continuity" });
        let system = worked.build.prints();
        let (dimension, most) = if test.by_drop() {
            (Dimension::Voltage, good.good.drop_most(test.amps).0)
        } else {
            (Dimension::Resistance, good.good.conductor_most.0)
        };
        assert_eq!(limit, print_bound(dimension, most, system, Bound::Most), "{id}");
        let limit = limit.replace('\u{a0}', " ");
        let rows = |stem: &str, head: &str| {
            let of = sheets.iter().filter(|s| s.stem.contains(stem));
            let lines = of.flat_map(|s| s.markdown.lines().map(str::to_owned).collect::<Vec<_>>());
            lines
                .filter(|l| l.contains(head))
                .map(|l| l.replace(['\u{a0}', '\\'], " ").replace("  ", " "))
                .collect::<Vec<_>>()
        };
        let label = format!("`{id}`");
        let calculated = if test.by_drop() { format!("{id}.conductor-drop") } else { format!("{id}.continuity") };
        for (stem, head) in [
            ("test-record", label.as_str()),
            ("packet", label.as_str()),
            ("schedule", label.as_str()),
            ("calculation-sheet", &format!("fig-{calculated}")),
        ] {
            let found = rows(stem, head);
            assert!(found.iter().any(|l| l.contains(&limit)), "{stem}: {id}: no {limit} in {found:#?}");
        }
        let missing = worked.missing.iter().find(|m| m.id == *id && m.what.starts_with("Cable"));
        let expect = missing.map_or("", |m| m.expect.as_str()).replace('\u{a0}', " ");
        assert!(expect.contains(&limit), "{id}: no {limit} in what is missing: {expect}");
        compared += 1;
    }
    assert!(compared > 20, "{compared}");
}
