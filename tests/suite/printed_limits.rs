//! A limit is never printed beyond what it is: of every figure, on every sheet, card and map, in both unit systems.

use crate::harness::{demo_specs, sheets};
use rigbinder::compute::ledger::{Amount, Holds};
use rigbinder::pipeline::{self, Loaded, Worked};
use rigbinder::units::{Dimension, System, parse_quantity};

/// A demo spec in the units of `system`.
fn in_units(path: &std::path::Path, system: System) -> Loaded {
    let text = std::fs::read_to_string(path).expect("spec");
    let word = if system == System::Us { "us" } else { "metric" };
    let mut lines: Vec<String> = text.lines().filter(|l| !l.starts_with("prints ")).map(str::to_owned).collect();
    let at = lines.iter().position(|l| l.trim() == "[build]").expect("[build]");
    lines.insert(at + 1, format!("prints = \"{word}\""));
    let name = path.file_name().expect("name").to_string_lossy().into_owned();
    pipeline::load(crate::harness::house(), &name, lines.join("\n").as_bytes()).expect("kinds")
}

/// A printed text read back.
fn read(text: &str, dimension: Dimension) -> f64 {
    let plain = text.replace('−', "-").replace(['\u{a0}', '\u{202f}'], " ").replace("ft³", "ft3");
    parse_quantity(&plain, dimension).unwrap_or_else(|f| panic!("{text}: {}", f.message)).value
}

/// Every limit of the ledger as it is printed; how many were compared.
pub(crate) fn limits_are_on_the_safe_side(worked: &Worked<'_>) -> usize {
    let mut compared = 0;
    for figure in worked.ledger.figures() {
        let Some(limit) = &figure.limit else { continue };
        let Amount::Of(dimension, exact) = limit.bound else { continue };
        for system in [System::Us, System::Metric] {
            let text = limit.show(system);
            let printed = read(&text, dimension);
            let beyond = if limit.holds == Holds::AtLeast { exact - printed } else { printed - exact };
            let hair = 1e-6 * exact.abs().max(1.0);
            assert!(beyond <= hair, "{}: {text} is beyond {exact}", figure.id);
            // Beside its limit a figure never looks as if it broke one that it keeps. A device that a fuse upstream
            // protects is beyond its own.
            let Amount::Of(of, value) = figure.value else { continue };
            let within = if limit.holds == Holds::AtLeast { value >= exact } else { value <= exact };
            if of == dimension && limit.kept && within && limit.holds != Holds::Within {
                let shown = read(&figure.show(system), dimension);
                let over = if limit.holds == Holds::AtLeast { printed - shown } else { shown - printed };
                assert!(over <= hair, "{}: {} beside {text}, and it is kept", figure.id, figure.show(system));
            }
        }
        compared += 1;
    }
    compared
}

#[test]
fn every_limit_of_the_ledger_is_printed_on_its_safe_side() {
    for path in demo_specs() {
        for system in [System::Us, System::Metric] {
            let loaded = in_units(&path, system);
            let worked = pipeline::work_out(&loaded).expect("profile");
            let compared = limits_are_on_the_safe_side(&worked);
            assert!(compared > 20, "{}: {compared} limits", path.display());
        }
    }
}

/// The permitted masses of the plate and of the roof, wherever a document or drawing names them: never more.
#[test]
fn no_document_prints_a_mass_above_the_plate() {
    let path = crate::harness::root().join("specs/heron.toml");
    let loaded = in_units(&path, System::Us);
    let vehicle = pipeline::work_out(&loaded).expect("profile").build.spec.vehicle.clone();
    let mut seen = 0;
    for field in ["gross_mass", "front_axle_limit", "rear_axle_limit", "roof_load_limit"] {
        let pounds = vehicle.kilograms(field).expect(field).0 / 0.453_592_37;
        let (allowed, above) = (format!("{:.0} lb", pounds.floor()), format!("{:.0} lb", pounds.floor() + 1.0));
        for sheet in sheets(&loaded) {
            let drawn = sheet.beside.iter().map(|(_, text)| text.as_ref());
            for text in drawn.chain([sheet.markdown.as_str()]) {
                let text = text.replace('\u{a0}', " ");
                // What is beside a limit may be as large by itself; what is called one may not.
                for word in
                    ["limit ", "≤ ", "at most ", "never more than ", "whole van: ", "while driving | ", "loaded van | "]
                {
                    assert!(!text.contains(&format!("{word}{above}")), "{}: {word}{above}", sheet.stem);
                }
                seen += usize::from(text.contains(&allowed));
            }
        }
    }
    assert!(seen > 6, "{seen} places name a limit");
}

/// What a rack may carry while parked is never given for the road.
#[test]
fn a_rack_has_one_limit_for_the_road_and_one_parked() {
    let path = crate::harness::root().join("specs/heron.toml");
    let loaded = in_units(&path, System::Us);
    let all = sheets(&loaded);
    let sheet = |stem: &str| all.iter().find(|s| s.stem == stem).expect(stem).markdown.replace('\u{a0}', " ");
    // 220 kg are 485.02 lb, 300 kg are 661.39 lb.
    let manual = sheet("owners-manual");
    assert!(manual.contains("While driving, at most 485 lb on the rack"), "the road");
    assert!(manual.contains("While parked, at most 661 lb, people included"), "parked");
    let storage = sheet("drawings");
    assert!(
        storage.contains("at most 485 lb, driving") && storage.contains("parked, people included at most 661 lb"),
        "map"
    );
}

/// The roof of the vehicle allows less than the rack: the road limit is what the roof leaves beside the rack.
#[test]
fn a_rack_never_carries_more_than_the_roof_leaves() {
    let text = r#"
spec = 2
[build]
title = "Rack"
handover = 2027-05-14
[contact.shop]
role = "Workshop"
[vehicle]
gross_mass = "3500 kg"
roof_load_limit = "100 kg"
[place]
top = { zone = "roof" }
[component.rack]
kind = "roof-rack"
place = "top"
mass = "30 kg"
rated_load = "150 kg"
static_load = "300 kg"
"#;
    let loaded = pipeline::load(crate::harness::house(), "rack.toml", text.as_bytes()).expect("kinds");
    let worked = pipeline::work_out(&loaded).expect("profile");
    let limit = worked.weight.driving("rack").expect("a rack").limit.0;
    assert!((limit - 70.0).abs() < 1e-9, "{limit}");
}
