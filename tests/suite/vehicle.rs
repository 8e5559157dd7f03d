//! Weight, geometry, mechanics and air of whole specs: the lines a sheet must print, and numpy and scipy beside them.

use crate::harness::{load, root, sheets};
use crate::outside::run;
use rigbinder::compute::geometry::angles;
use rigbinder::compute::ledger::Ledger;
use rigbinder::compute::mechanics::strut::Lid;
use rigbinder::compute::weight::cases::CaseId;
use rigbinder::compute::weight::statics::{self, Axles, PointMass};
use rigbinder::pipeline::{self, Worked};
use rigbinder::units::{Kilograms, Metres};
use std::collections::BTreeMap;

fn near(got: f64, expected: f64, what: &str) -> f64 {
    let off = (got - expected).abs() / expected.abs().max(1.0);
    assert!(off <= 1e-6, "{what}: {got}, expected {expected}");
    off
}

/// Statics and angles within 1e-6 of the balance solved by numpy and the tangents searched by scipy.
#[test]
fn statics_angles_and_struts_as_numpy_and_scipy_have_them() {
    let Some((success, table)) = run("statics_live.py", &[]) else { return };
    assert!(success, "{table}");
    let mut rows: BTreeMap<String, (usize, f64)> = BTreeMap::new();
    for row in csv::ReaderBuilder::new().has_headers(false).flexible(true).from_reader(table.as_bytes()).records() {
        let row = row.expect("a row");
        let n = |k: usize| row[k].parse::<f64>().unwrap_or_else(|_| panic!("{row:?}"));
        let m = |k: usize| Metres(n(k));
        let off = match &row[0] {
            "axles" => {
                let items: Vec<PointMass> = row[4].split("; ").filter(|i| !i.is_empty()).map(item).collect();
                let empty = Axles { front: Kilograms(n(2)), rear: Kilograms(n(3)) };
                let loads = statics::axles(m(1), empty, items.clone()).expect("a wheelbase");
                let left = statics::left_side(m(5), loads.total(), items.clone()).expect("a track");
                if !row[9].is_empty() {
                    near(statics::height(items).expect("masses").0, n(9), "height");
                }
                near(loads.front.0, n(6), "front").max(near(loads.rear.0, n(7), "rear")).max(near(left.0, n(8), "left"))
            }
            "angle" => near(angles::tangent(m(1), m(2), m(3)).expect("outside the tyre"), n(4), "angle"),
            "breakover" => near(angles::breakover(m(1), m(2), m(3), m(4)).expect("between"), n(5), "breakover"),
            "lid" => {
                let lid = Lid {
                    struts: n(1),
                    mass: Kilograms(n(2)),
                    length: m(3),
                    centre: m(4),
                    arm_lid: m(5),
                    arm_body: m(6),
                    body_angle: n(7),
                    open_angle: n(8),
                    rest_angle: n(9),
                };
                near(lid.holding_force().expect("before the dead centre"), n(10), "strut")
            }
            other => panic!("{other}"),
        };
        let seen = rows.entry(row[0].to_owned()).or_default();
        *seen = (seen.0 + 1, seen.1.max(off));
    }
    let counts: Vec<_> = rows.iter().map(|(what, (count, _))| (what.as_str(), *count)).collect();
    assert_eq!(counts, [("angle", 300), ("axles", 300), ("breakover", 300), ("lid", 300)]);
}

fn item(text: &str) -> PointMass {
    let n: Vec<f64> = text.split('@').map(|v| v.parse().expect("a number")).collect();
    PointMass { mass: Kilograms(n[0]), x: Metres(n[1]), y: Metres(n[2]), z: Metres(n[3]) }
}

/// A van small enough to reckon by hand.
const VAN: &str = r#"
spec = 2
[build]
title = "By hand"
handover = 2027-05-14
[vehicle]
wheelbase = "4 m"
gross_mass = "3500 kg"
front_axle_limit = "1850 kg"
rear_axle_limit = "2100 kg"
front_axle_empty = "1200 kg"
rear_axle_empty = "800 kg"
height = "2.6 m"
length = "6 m"
width = "2 m"
front_overhang = "1 m"
rear_overhang = "1 m"
track = "1.6 m"
tyre_radius = "350 mm"
rear_clearance = "450 mm"
seats = 2
front_seats = "1 m"
roof_load_limit = "150 kg"
[contact.shop]
role = "Workshop"
[place]
aft = { at = ["3 m", "0.4 m", "0 m"] }
top = { zone = "roof", at = ["2 m", "0 m", "2 m"] }
[component.tank]
kind = "fresh-tank"
capacity = "100 L"
mass = "10 kg"
place = "aft"
bolts = 4
bolt_size = "M6"
[component.chest]
kind = "compartment"
place = "aft"
mass = "20 kg"
contents = "tools"
contents_mass = "30 kg"
load_limit = "40 kg"
inside_length = "600 mm"
inside_width = "400 mm"
inside_height = "400 mm"
[component.kayaks]
kind = "kayak-carrier"
place = "top"
mass = "10 kg"
boats = 2
boat_mass = "25 kg"
height_above_roof = "700 mm"
[component.bank]
kind = "battery-bank"
capacity = "100 Ah"
place = "aft"
mass = "30 kg"
bolts = 2
bolt_size = "M8"
[component.compressor]
kind = "air-compressor"
place = "aft"
mass = "10 kg"
free_air_delivery = "60 L/min"
max_run = "10 min"
duty_limit = "50 %"
[component.wheels]
kind = "wheel-set"
tyre = "225/75 R16"
load_per_wheel = "1400 kg"
nut_torque = "180 N m"
tyre_volume = "70 L"
pressure_front = "4 bar"
pressure_rear = "4 bar"
pressure_track = "2.5 bar"
pressure_sand = "1.5 bar"
mass = "1 kg"
place = "aft"
"#;

fn worked<T>(text: &str, look: impl FnOnce(&Worked<'_>) -> T) -> T {
    let loaded = pipeline::load(crate::harness::house(), "van.toml", text.as_bytes()).expect("kinds");
    let read: Vec<_> = loaded.findings.iter().map(|f| f.headline.as_str()).collect();
    assert!(read.is_empty(), "{read:?}");
    look(&pipeline::work_out(&loaded).expect("profile"))
}

fn figure(ledger: &Ledger, id: &str) -> f64 {
    let found = ledger.figures().find(|f| f.id == id).unwrap_or_else(|| panic!("no figure {id}"));
    let rigbinder::compute::ledger::Amount::Of(_, value) = &found.value else { panic!("{id} is a word") };
    *value
}

/// Own masses 71 kg at 3 m and 10 kg at 2 m: as built 1200 + 71/4 + 5 and 800 + 71·3/4 + 5.
#[test]
fn load_cases_by_hand() {
    worked(VAN, |w| {
        for (id, front, rear) in [
            ("as-built", 1222.75, 858.25),
            ("water-full", 1247.75, 933.25),
            // Two people of 68 kg at 1 m: 102 and 34.
            ("travelling", 1349.75, 967.25),
            ("fully-loaded", 1357.25, 989.75),
            ("carriers-loaded", 1382.25, 1014.75),
            ("way-home", 1357.25, 939.75),
        ] {
            near(figure(&w.ledger, &format!("{id}.front-axle")), front, id);
            near(figure(&w.ledger, &format!("{id}.rear-axle")), rear, id);
            near(figure(&w.ledger, &format!("{id}.total-mass")), front + rear, id);
        }
        // 71 kg 0.4 m left of the middle, track 1.6 m: 17.75 kg more than half.
        near(figure(&w.ledger, "as-built.left-side"), 2081.0 / 2.0 + 17.75, "left");
        near(figure(&w.ledger, "as-built.sides-apart"), 2.0 * 17.75 / 2081.0, "sides");
        near(figure(&w.ledger, "vehicle.cargo-capacity"), 3500.0 - 2081.0, "label");
        near(figure(&w.ledger, "roof.roof-load"), 60.0, "roof");
        near(figure(&w.ledger, "loaded.overall-height"), 3.3, "height");
        // Tangent from 1 m behind the axle, 0.45 m high, to a tyre of 0.35 m: 5.7106° + 20.3811°.
        near(figure(&w.ledger, "vehicle.departure-angle"), 26.091_703, "departure");
        // (10 + 100) kg at 0.8 g; 4 × 70 L × 2.5 bar / 1.01325 bar at 60 L/min, twice as long with pauses.
        near(figure(&w.ledger, "tank.restraint"), 110.0 * 0.8 * 9.806_65, "restraint");
        near(figure(&w.ledger, "compressor.sand.fill-time"), 690.846_286_701, "filling");
        near(figure(&w.ledger, "compressor.sand.fill-time-with-pauses"), 2.0 * 690.846_286_701, "with pauses");
        near(figure(&w.ledger, "compressor.track.fill-time-with-pauses"), 414.507_772_021, "one run");
        assert_eq!(w.weight.case(CaseId::AsBuilt).map(|c| c.unplaced), Some(Kilograms(0.0)));
    });
}

/// A lift of 50 mm raises the height, the low points and the centre of gravity alike: (2000 kg · 0.83 m + 71 kg · 0.69 m
/// + 10 kg · 2.69 m) / 2081 kg above the ground, and the static stability factor is half the track by it.
#[test]
fn a_lift_raises_the_centre_of_gravity() {
    let heights = "track = \"1.6 m\"\nfloor_height = \"640 mm\"\nempty_centre_height = \"780 mm\"";
    let level = VAN.replace("track = \"1.6 m\"", heights);
    let lifted = format!(
        "{level}[component.springs]\nkind = \"suspension\"\nlift = \"50 mm\"\nplace = \"aft\"\nmass = \"0.001 g\"\n"
    );
    let of = |text: &str| {
        worked(text, |w| {
            let factor =
                w.ledger.figures().find(|f| f.id == "as-built.centre-height").map(|f| format!("{:?}", f.inputs));
            (
                figure(&w.ledger, "as-built.centre-height"),
                figure(&w.ledger, "loaded.overall-height"),
                factor.expect("told"),
            )
        })
    };
    let (before, after) = (of(&level), of(&lifted));
    near(before.0, (2000.0 * 0.78 + 71.0 * 0.64 + 10.0 * 2.64) / 2081.0, "level");
    assert!((after.0 - before.0 - 0.05).abs() < 1e-6, "{} after {}", after.0, before.0);
    near(after.1 - before.1, 0.05, "height");
    // 1.6 m / (2 · 0.834 m) = 0.959.
    assert!(after.2.contains("0.959"), "{}", after.2);
}

/// What a fridge, a cabinet and a bench hold counts in the loaded van where nobody gives it, and is never sure.
#[test]
fn what_is_stowed_counts_where_nobody_says_it() {
    let stores = "[component.cold]\nkind = \"fridge\"\nplace = \"aft\"\nmass = \"20 kg\"\n\
                  [component.wardrobe]\nkind = \"cabinet\"\nplace = \"aft\"\nmass = \"30 kg\"\n\
                  [component.seat]\nkind = \"bench-seat\"\nplace = \"aft\"\nmass = \"15 kg\"\n";
    let food = "[component.cold]\nkind = \"fridge\"\nfood_mass = \"18 kg\"";
    let text = format!("{VAN}{stores}");
    let of = |text: &str| {
        worked(text, |w| {
            let cargo = |n: usize| {
                let case = [CaseId::Travelling, CaseId::Loaded][n];
                w.weight.case(case).map(|c| (c.total().0, c.known.total().0)).expect("a case")
            };
            let (way, full) = (cargo(0), cargo(1));
            (full.0 - way.0, full.1 - way.1)
        })
    };
    // The chest of the van above holds 30 kg by its spec: 12 + 10 + 10 kg are usual values.
    let (all, sure) = of(&text);
    near(all, 62.0, "with what is stowed");
    near(sure, 30.0, "what the spec says");
    let (all, sure) = of(&text.replace("[component.cold]\nkind = \"fridge\"", food));
    near(all, 68.0, "more food");
    near(sure, 48.0, "said");
}

/// The sheet prints what was reckoned by hand.
#[test]
fn the_calculation_sheet_prints_the_lines() {
    let loaded = pipeline::load(crate::harness::house(), "van.toml", VAN.as_bytes()).expect("kinds");
    let all = sheets(&loaded);
    let sheet = all.iter().find(|s| s.stem.contains("calculation")).expect("a calculation sheet");
    for line in ["1223 kg", "858 kg", "2081 kg", "1419 kg", "3.3 m", "26.1°", "863 N", "11.5 min", "23 min"] {
        let unit_kept = line.replace(' ', "\u{a0}");
        assert!(sheet.markdown.contains(line) || sheet.markdown.contains(&unit_kept), "no {line}");
    }
}

/// Where the spec leaves things out there are fewer figures, no odd ones, and no error.
#[test]
fn missing_figures_of_the_vehicle_leave_figures_out() {
    for field in [
        "wheelbase",
        "gross_mass",
        "front_axle_empty",
        "track",
        "tyre_radius",
        "height",
        "seats",
        "front_seats",
        "rear_clearance",
    ] {
        let kept: Vec<&str> = VAN.lines().filter(|l| !l.starts_with(&format!("{field} ="))).collect();
        worked(&kept.join("\n"), |w| {
            let stops = |f: &&rigbinder::diag::Finding| f.severity == rigbinder::diag::Severity::Error;
            assert!(!w.findings.iter().filter(stops).any(|f| f.subject.as_deref() == Some("tank")), "{field}");
            for figure in w.ledger.figures() {
                if let rigbinder::compute::ledger::Amount::Of(_, value) = figure.value {
                    assert!(value.is_finite(), "{field}: {}", figure.id);
                }
            }
        });
    }
    worked(&VAN.replace("wheelbase = \"4 m\"", ""), |w| assert!(w.weight.cases.is_empty() && w.weight.label.is_none()));
    worked(&VAN.replace("tyre_radius = \"350 mm\"", ""), |w| assert!(w.geometry.departure.is_none()));
}

/// A limit that only usual masses lead above is a warning; the same masses given make it an error.
#[test]
fn usual_values_never_carry_an_error() {
    let severity =
        |text: &str| worked(text, |w| w.findings.iter().find(|f| f.name == "roof-over-limit").map(|f| f.severity));
    let tight = VAN.replace("roof_load_limit = \"150 kg\"", "roof_load_limit = \"50 kg\"");
    assert_eq!(severity(VAN), None);
    assert_eq!(severity(&tight), Some(rigbinder::diag::Severity::Error));
    let usual = tight.replace("boat_mass = \"25 kg\"\n", "");
    assert_eq!(severity(&usual), Some(rigbinder::diag::Severity::Warning));
}

/// The finished van of the demo keeps every limit in every case.
#[test]
fn the_demo_keeps_its_limits() {
    let loaded = crate::harness::load(&crate::harness::root().join("specs/heron.toml"));
    let w = pipeline::work_out(&loaded).expect("profile");
    assert_eq!(w.weight.cases.len(), 6);
    assert!(w.weight.items.missing.is_empty(), "{:?}", w.weight.items.missing);
    let groups = ["front-axle", "rear-axle", "total-mass", "roof-load", "rated-load", "restraint", "departure-angle"];
    let mut kept = 0;
    for figure in w.ledger.figures().filter(|f| groups.contains(&f.formula)) {
        if let Some(limit) = &figure.limit {
            assert!(limit.kept, "{}", figure.id);
            kept += 1;
        }
    }
    assert!(kept > 30, "{kept} limits");
}

/// What goes out through the roof counts for the height of the van, wherever its part stands: 3.30 m of cabin and 0.14 m of
/// flue, added by hand.
#[test]
fn a_flue_counts_for_the_height() {
    let loaded = load(&root().join("specs/ember.toml"));
    let worked = pipeline::work_out(&loaded).expect("profile");
    let stove = worked.build.parts.values().find(|p| p.kind.id == "wood-stove").expect("a stove");
    assert!(stove.places.iter().all(|place| worked.build.places[place].zone() == "cabin"), "{:?}", stove.places);
    let height = worked.geometry.card.height.as_ref().expect("a height");
    near(height.value.0, 3.30 + 0.14, "height with the flue");
    assert_eq!(height.by, stove.id);
}

/// An old van as it came on the scales, from the spec to the page. By the law of the lever: 60 kg that stay stood in the
/// middle, 30 kg that come out over the rear axle; without them it is 1170 and 740 kg, and 20 kg come over the front axle.
#[test]
fn a_van_weighed_as_it_came_is_told_to_the_end() {
    let text = "spec = 2\nbuild = { title = \"Van\", job = \"refit\", prints = \"metric\" }\n\
         vehicle = { wheelbase = \"3 m\", front_axle_empty = \"1200 kg\", rear_axle_empty = \"800 kg\", weighed_as = \"as-it-came\", gross_mass = \"3000 kg\" }\n\
         [place]\nfront = { at = [\"0 m\", \"0 m\", \"0 m\"] }\nmiddle = { at = [\"1.5 m\", \"0 m\", \"0 m\"] }\nrear = { at = [\"3 m\", \"0 m\", \"0 m\"] }\n\
         [component]\nstays = { kind = \"cabinet\", scope = \"existing\", mass = \"60 kg\", place = \"middle\" }\n\
         out = { kind = \"cabinet\", scope = \"removed\", mass = \"30 kg\", place = \"rear\" }\n\
         new = { kind = \"cabinet\", mass = \"20 kg\", place = \"front\" }\n";
    let loaded = pipeline::load(crate::harness::house(), "measured.toml", text.as_bytes()).expect("kinds");
    let worked = pipeline::work_out(&loaded).expect("profile");
    for (id, by_hand) in [
        ("vehicle.bare-front", 1170.0),
        ("vehicle.bare-rear", 740.0),
        ("as-built.front-axle", 1220.0),
        ("as-built.rear-axle", 770.0),
    ] {
        near(figure(&worked.ledger, id), by_hand, id);
    }
    let sheets = crate::harness::sheets(&loaded);
    let sheet = &sheets.iter().find(|s| s.stem == "calculation-sheet").expect("a sheet").markdown;
    for (id, told) in [("vehicle.bare-front", "1170 kg"), ("vehicle.bare-rear", "740 kg")] {
        let row = sheet.lines().find(|l| l.contains(&format!("fig-{id}\""))).expect(id);
        assert!(row.contains(told), "{row}");
    }
    assert!(sheet.contains("what was fitted before") && sheet.contains("60 kg") && sheet.contains("30 kg"));
}

/// The static stability factor, half the track over the height of the centre of gravity (definition of NHTSA's rollover
/// rating, from memory), stands on the page as a figure: no limit of ours, no verdict and no finding, high van or low.
#[test]
fn stability_is_told_without_a_verdict() {
    for (height, factor) in [("780 mm", "1.03"), ("1500 mm", "0.533")] {
        let text = format!(
            "spec = 2\nbuild = {{ title = \"Van\", prints = \"metric\" }}\n\
             vehicle = {{ wheelbase = \"3 m\", front_axle_empty = \"1200 kg\", rear_axle_empty = \"800 kg\", track = \"1.6 m\", empty_centre_height = \"{height}\", floor_height = \"640 mm\", gross_mass = \"3000 kg\" }}\n"
        );
        let loaded = pipeline::load(crate::harness::house(), "tall.toml", text.as_bytes()).expect("kinds");
        let worked = pipeline::work_out(&loaded).expect("profile");
        let told = worked.ledger.figures().find(|f| f.id == "as-built.centre-height").expect("a figure");
        assert!(told.limit.is_none() && told.verdict().is_empty(), "a verdict of ours: {}", told.verdict());
        assert!(worked.findings.iter().all(|f| !f.headline.contains("stab")), "{:?}", worked.findings.len());
        let sheets = crate::harness::sheets(&loaded);
        let sheet = &sheets.iter().find(|s| s.stem == "calculation-sheet").expect("a sheet").markdown;
        let told = sheet.split("{#formula-centre-height}").nth(1).and_then(|rest| rest.split("###").next());
        let told = told.expect("a section");
        assert!(told.contains("static stability factor") && told.contains(factor), "{told}");
        assert!(!["kept", "over", "under"].iter().any(|word| told.contains(&format!("| {word} |"))), "{told}");
    }
}
