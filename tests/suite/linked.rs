//! Loads, heat, water and gas of a van as one thing, and the systems that bigger and older vans have.
//!
//! What was found when the figures were recomputed, and which test holds it:
//!
//! 1. Bed lid in the cold, with what lies on it, upright and past the dead centre:
//!    `mechanics::a_strut_that_holds_at_20_degrees_fails_at_the_record_low`, `mechanics::a_mattress_on_the_lid_counts`,
//!    `mechanics::an_upright_flap_needs_struts`, `mechanics::beyond_the_dead_centre_a_finding_says_so`.
//! 2. Restraint to the sheet: `mechanics::a_fixing_is_as_strong_as_its_weakest_link`,
//!    `mechanics::a_partial_verdict_says_what_it_leaves_out`.
//! 3. Damp and carbon dioxide: `water_heat::the_air_inside_is_as_damp_as_people_make_it`, `specs/broken`
//!    `pane-below-dew-point`, `surface-below-dew-point`, `carbon-dioxide-high` and `fixed-vents-small`.
//! 4. Ribs: `water_heat::ribs_bridge_the_insulation_and_sweat_first`.
//! 5. Frost: `water_heat::frost_is_judged_at_the_lowest_on_record`,
//!    `owner_frost::the_temperature_to_which_frost_protection_holds_is_told_and_right`.
//! 6. Sun: the unit test `sheet_in_the_sun_as_computed_outside`, `sun_on_sheet_and_glass_is_in_the_cooling_load`.
//! 7. Cooling: `energy::the_duty_stands_beside_the_run_time`, `one_air_conditioner_has_one_run_time`, `specs/broken`
//!    `run-time-below-goal`.
//! 8. Weights: `vehicle::a_lift_raises_the_centre_of_gravity`, `the_lift_of_a_suspension_that_stays_counts`,
//!    `vehicle::what_is_stowed_counts_where_nobody_says_it`, `mechanics::an_awning_on_the_rack_weighs_on_the_roof`,
//!    `people_weigh_where_they_sit_and_as_the_spec_says`, `what_is_added_to_the_roof_makes_the_van_higher`,
//!    `what_hangs_behind_the_rear_axle_lightens_the_front`, `mechanics::beds_are_counted_against_people`, `specs/broken`
//!    `built-in-size-missing` and `part-larger-than-place`.
//! 9. Water: `specs/broken` `outlet-run-missing` and `basin-drains-nowhere`,
//!    `drawings_water::a_storage_heater_has_its_fittings`, `drawings_water::an_outlet_has_one_flow`,
//!    `a_second_tap_takes_from_the_first`.
//! 10. Fuel: `water_heat::a_condensing_gas_heater_is_plausible`,
//!     `water_heat::a_three_way_fridge_burns_gas_while_it_uses_no_electricity`,
//!     `owner_switches::storage_cuts_every_source_off_before_the_bank`; gas: `specs/broken` `gas-chain-broken`,
//!     `gas-line-without-valve`, `gas-pressure-differs` and `regulator-too-small`, `each_regulator_answers_for_its_own`.
//! 11. Sheet left out, and each load with its own weather: `specs/broken` `shell-area-short`,
//!     `water_heat::all_that_follows_the_weather_follows_one_day`, `the_folding_module_and_fuel_count_as_told`.
//! 12. Parked in winter: `energy::driving_and_parked_are_accepted_each_by_itself`.
//!
//! A stove: `a_stove_is_lit_beside_live_alarms_alone`, `the_demo_cabin_is_warm_without_fuel`.

use crate::harness::{findings, load, root};
use rigbinder::compute::ledger::{Amount, Ledger};
use rigbinder::compute::weight::cases::{Case, CaseId};
use rigbinder::pipeline::{self, Worked};
use std::collections::BTreeSet;

const VAN: &str = r#"
spec = 2
[build]
title = "Linked"
handover = 2027-05-14
[vehicle]
wheelbase = "4 m"
gross_mass = "4500 kg"
front_axle_limit = "2100 kg"
rear_axle_limit = "3100 kg"
front_axle_empty = "1200 kg"
rear_axle_empty = "800 kg"
height = "2.6 m"
length = "6 m"
width = "2 m"
track = "1.6 m"
floor_height = "640 mm"
empty_centre_height = "780 mm"
seats = 2
front_seats = "1 m"
[place]
aft = { at = ["3 m", "0.4 m", "0 m"] }
tail = { at = ["5 m", "0 m", "0 m"], zone = "outside" }
top = { zone = "roof", at = ["2 m", "0 m", "2 m"] }
"#;

fn worked<T>(text: &str, with: impl FnOnce(&Worked<'_>) -> T) -> T {
    let loaded = pipeline::load(crate::harness::house(), "linked.toml", text.as_bytes()).expect("kinds");
    with(&pipeline::work_out(&loaded).expect("profile"))
}

fn figure(ledger: &Ledger, id: &str) -> Option<f64> {
    match ledger.figures().find(|f| f.id == id)?.value {
        Amount::Of(_, value) => Some(value),
        Amount::Word(_) => None,
    }
}

fn loaded<T>(text: &str, with: impl FnOnce(&Case) -> T) -> T {
    worked(text, |w| with(w.weight.cases.iter().find(|c| c.id == CaseId::CarriersLoaded).expect("the loaded van")))
}

fn near(got: f64, expected: f64, what: &str) {
    assert!((got - expected).abs() <= 1e-6 * expected.abs().max(1.0), "{what}: {got}, expected {expected}");
}

/// By moments: a mass m at x = 5 m on a wheelbase of 4 m brings 1.25 m to the rear axle and takes 0.25 m from the front.
#[test]
fn what_hangs_behind_the_rear_axle_lightens_the_front() {
    let lift = "[component.lift]\nkind = \"rear-lift\"\nplace = \"tail\"\nmass = \"60 kg\"\nrated_load = \"200 kg\"\n\
                motorcycle_mass = \"140 kg\"\n";
    let (bare, with) = (loaded(VAN, |c| c.axles), loaded(&format!("{VAN}{lift}"), |c| c.axles));
    near(with.rear.0 - bare.rear.0, 200.0 * 1.25, "rear");
    near(with.front.0 - bare.front.0, -200.0 * 0.25, "front");
    let over = lift.replace("140 kg", "210 kg");
    let found = findings(&format!("{VAN}{over}"));
    assert!(found.iter().any(|f| f.name == "carrier-over-rating"), "210 kg on 200 kg");
    assert!(found.iter().any(|f| f.name == "evidence-missing"), "nobody answers for its brackets");
}

/// Rules say 75 kg (EN 1646-2) or 68 kg (33 CFR); a child of 25 kg is what the spec says, at its own seat.
#[test]
fn people_weigh_where_they_sit_and_as_the_spec_says() {
    let seat = "[component.bench]\nkind = \"travel-seat\"\nplace = \"aft\"\nseat_mass = \"30 kg\"\nseats = 2\n\
                approval = \"report 12\"\n";
    let four = VAN.replace("seats = 2", "seats = 4").replace("[build]", "[build]\nrules = \"eu\"");
    let rear = |text: &str| loaded(text, |c| c.axles.rear.0);
    let grown = rear(&format!("{four}{seat}"));
    let empty = rear(&VAN.replace("[build]", "[build]\nrules = \"eu\""));
    // Two of 75 kg and 30 kg of seat at x = 3 m: three quarters of them on the rear axle; the cab's two did not move.
    near(grown - empty, (2.0 * 75.0 + 30.0) * 0.75, "grown-ups");
    let children = rear(&format!("{four}{seat}person_mass = \"25 kg\"\n"));
    near(grown - children, 2.0 * 50.0 * 0.75, "children");
}

#[test]
fn the_lift_of_a_suspension_that_stays_counts() {
    let refit = VAN.replace("[build]", "[build]\njob = \"refit\"");
    let springs = "[component.springs]\nkind = \"suspension\"\nscope = \"existing\"\nlift = \"60 mm\"\nplace = \"aft\"\n\
                   mass = \"0.001 g\"\n";
    let height = |text: &str| loaded(text, |c| c.height.expect("heights are told").0);
    near(height(&format!("{refit}{springs}")) - height(&refit), 0.06, "centre of gravity");
}

#[test]
fn what_is_added_to_the_roof_makes_the_van_higher() {
    let module = "[component.sun]\nkind = \"solar-array\"\nmount = \"roof-rack\"\nplace = \"top\"\nmass = \"40 kg\"\n\
                  power = \"200 W\"\nvoc = \"24 V\"\nisc = \"10 A\"\nvmp = \"20 V\"\nimp = \"9.5 A\"\n";
    let of = |text: &str| loaded(text, |c| (c.height.expect("heights are told").0, c.axles.total().0));
    let ((before, mass), (after, _)) = (of(VAN), of(&format!("{VAN}{module}")));
    // Moments about the ground: 40 kg at 0.64 m + 2 m.
    near(after, (before * mass + 40.0 * 2.64) / (mass + 40.0), "height of the centre");
}

/// A pump of 10 L/min and two taps: alone, one gets more than beside the other, and both figures are told.
#[test]
fn a_second_tap_takes_from_the_first() {
    let water = "[component]\ntank = { kind = \"fresh-tank\", capacity = \"80 L\", place = \"aft\" }\n\
        pump = { kind = \"water-pump\", flow = \"10 L/min\", place = \"aft\" }\n\
        one = { kind = \"tap\", mixer = false, place = \"aft\" }\n\
        two = { kind = \"shower\", mixer = false, place = \"aft\" }\n\
        trunk = { kind = \"pipe-run\", medium = \"cold\", from = \"pump\", to = \"one\", length = \"2 m\", place = \"aft\" }\n";
    let branch = "branch = { kind = \"pipe-run\", medium = \"cold\", from = \"trunk\", to = \"two\", length = \"3 m\", \
                  place = \"aft\" }\n";
    let told =
        |text: &str| worked(text, |w| (figure(&w.ledger, "one.cold-pressure"), figure(&w.ledger, "one.cold-beside")));
    let (alone, none) = told(&format!("{VAN}{water}"));
    assert!(alone.is_some() && none.is_none(), "{alone:?} {none:?}");
    let (alone, beside) = told(&format!("{VAN}{water}{branch}"));
    let (alone, beside) = (alone.expect("a pressure"), beside.expect("a second tap"));
    assert!(beside > 0.0 && beside < alone, "{beside} kPa beside another, {alone} kPa alone");
}

/// Two regulators, each with lines of its own: what hangs on one is no burden of the other.
#[test]
fn each_regulator_answers_for_its_own() {
    let gas = "[component]\nlocker = { kind = \"lpg-locker\", place = \"aft\" }\n\
        small = { kind = \"lpg-regulator\", capacity_per_hour = \"0.3 kg\", place = \"aft\" }\n\
        large = { kind = \"lpg-regulator\", capacity_per_hour = \"0.8 kg\", place = \"aft\" }\n\
        main = { kind = \"lpg-line\", from = \"small\", length = \"1 m\", place = \"aft\" }\n\
        to-hob = { kind = \"lpg-line\", from = \"main\", to = \"hob\", length = \"1 m\", place = \"aft\" }\n\
        to-grill = { kind = \"lpg-line\", from = \"large\", to = \"grill\", length = \"1 m\", place = \"aft\" }\n\
        hob = { kind = \"cooktop-lpg\", gas_per_hour = \"0.25 kg\", place = \"aft\" }\n\
        grill = { kind = \"cooktop-lpg\", gas_per_hour = \"0.5 kg\", place = \"aft\" }\n";
    let text = format!("{VAN}{gas}");
    worked(&text, |w| {
        near(figure(&w.ledger, "small.gas-demand").expect("a demand"), 0.25, "small");
        near(figure(&w.ledger, "large.gas-demand").expect("a demand"), 0.5, "large");
    });
    let swapped = text.replace("from = \"large\", to = \"grill\"", "from = \"main\", to = \"grill\"");
    let found = findings(&swapped);
    let told: Vec<_> = found.iter().filter(|f| f.name == "regulator-too-small").map(|f| &f.headline).collect();
    assert!(told.len() == 1 && told[0].contains("small"), "{told:?}");
    // A line told the wrong way round is there: it is turned, not bought once more.
    let turned = text.replace("from = \"main\", to = \"hob\"", "from = \"hob\", to = \"main\"");
    let found = findings(&turned);
    let told = found.iter().find(|f| f.name == "gas-chain-broken").expect("no gas comes to it");
    assert!(told.headline.contains("`to-hob` says `from` where `to` belongs"), "{}", told.headline);
    assert!(told.help.iter().any(|h| h.contains("`to` is `hob`")), "{:?}", told.help);
    // Lines in a ring end nowhere, and nothing hangs.
    let ring = text.replace("from = \"small\", length", "from = \"to-hob\", length");
    worked(&ring, |w| assert_eq!(figure(&w.ledger, "small.gas-demand"), None));
}

#[test]
fn a_stove_is_lit_beside_live_alarms_alone() {
    let stove = "[component]\nstove = { kind = \"wood-stove\", clearance_side = \"200 mm\", clearance_back = \"150 mm\", \
                 place = \"aft\", mass = \"50 kg\" }\n";
    let smoke = "smoke = { kind = \"smoke-alarm\", place = \"aft\" }\n";
    let co = "co = { kind = \"co-alarm\", place = \"aft\" }\n";
    let unmet = |alarms: &str| {
        let found = findings(&format!("{VAN}{stove}{alarms}"));
        found.iter().filter(|f| f.name == "need-unmet").map(|f| f.headline.clone()).collect::<Vec<_>>()
    };
    assert!(unmet("").iter().any(|h| h.contains("smoke alarm")), "{:?}", unmet(""));
    assert!(unmet(smoke).iter().all(|h| h.contains("carbon monoxide")) && !unmet(smoke).is_empty());
    assert!(unmet(co).iter().all(|h| h.contains("smoke alarm")) && !unmet(co).is_empty());
    assert!(unmet(&format!("{smoke}{co}")).is_empty());
    // One finding for each thing that is missing, whatever waits for it.
    let burner = "heat = { kind = \"wood-stove\", clearance_side = \"200 mm\", clearance_back = \"150 mm\", \
                  place = \"aft\", mass = \"50 kg\" }\n";
    let two = unmet(burner);
    let things: BTreeSet<&str> = two.iter().filter_map(|h| h.split('“').nth(1)).collect();
    assert_eq!((things.len(), two.len()), (3, 3), "{two:?}");
    assert!(two.iter().all(|h| h.contains("more task")), "{two:?}");
    // Its distances are nobody's guess.
    let bare = stove.replace("clearance_back = \"150 mm\", ", "");
    assert!(findings(&format!("{VAN}{bare}{smoke}{co}")).iter().any(|f| f.name == "missing-field"));
}

/// The stove counts as heat and asks for no fuel: neither altitude nor tank is spoken of.
#[test]
fn the_demo_cabin_is_warm_without_fuel() {
    let cabin = load(&root().join("specs/ember.toml"));
    let worked = pipeline::work_out(&cabin).expect("profile");
    let loss = worked.heat.loss.expect("a shell");
    assert!(worked.heat.output.is_some_and(|out| out > loss), "4 kW against {loss} W");
    assert!(worked.climate_days.fuels.is_empty(), "wood is nobody's tank");
    assert!(worked.findings.is_empty(), "{:?}", worked.findings.iter().map(|f| f.name).collect::<Vec<_>>());
    let legs = worked.build.parts.get("legs").expect("legs");
    let rating = legs.roles.levelling.as_ref().and_then(|l| l.leg_rating.get()).expect("a plate");
    let most = worked.weight.cases.iter().map(|c| c.axles.rear.0.max(c.axles.front.0)).fold(0.0, f64::max);
    assert!(most <= rating.0 * 2.0, "{most} kg on two legs of {} kg", rating.0);
}

/// The head of this file names a test for each of the twelve, and each of them is there.
#[test]
fn the_head_names_tests_that_are_there() {
    let here = include_str!("linked.rs");
    let head: Vec<&str> = here.lines().map_while(|line| line.strip_prefix("//!")).collect();
    let suite = |file: &str| std::fs::read_to_string(root().join(format!("tests/suite/{file}.rs"))).unwrap_or_default();
    let sources: String = crate::harness::names_below(&root().join("src"))
        .iter()
        .filter(|name| name.ends_with(".rs"))
        .map(|name| std::fs::read_to_string(root().join("src").join(name)).expect("source"))
        .collect();
    let mut numbers = Vec::new();
    let mut named = 0;
    for line in &head {
        let number = line.trim_start().split_once(". ").and_then(|(n, _)| n.parse::<usize>().ok());
        numbers.extend(number);
        // Every second piece stands between two marks.
        for name in line.split('`').skip(1).step_by(2) {
            let declared = |text: &str, name: &str| text.contains(&format!("fn {name}("));
            let there = match name.split_once("::") {
                Some((file, test)) => declared(&suite(file), test),
                None if name.contains('-') => root().join(format!("specs/broken/{name}.toml")).is_file(),
                None => name.contains('/') || declared(here, name) || declared(&sources, name),
            };
            assert!(there, "{name} is named and not there");
            named += 1;
        }
    }
    assert_eq!(numbers, (1..=12).collect::<Vec<_>>(), "one entry for each");
    assert!(named > 30, "{named}");
}

/// Sun on dark sheet and through the panes of the cab: both are in what the air conditioner has to take. By hand, at the hour
/// of most: a roof of 6 m² and 1 W/(m²K) from white (0.3) to dark (0.9) takes `U A Δα I / h_o` more, and sol-air adds to nothing
/// where there is no sun.
#[test]
fn sun_on_sheet_and_glass_is_in_the_cooling_load() {
    let van = |absorptance: &str, irradiation: &str, more: &str| {
        let text = format!(
            "{VAN}[use]\npeople = 1\n[climate]\nsummer = {{ month = 7, latitude = \"45 °\", irradiation = \"{irradiation} kWh/m2\", low = \"20 °C\", high = \"34 °C\", record_low = \"5 °C\" }}\n\
             [shell]\nroof = {{ area = \"6 m2\", u_value = \"1 W/m2K\", faces = \"up\", absorptance = \"{absorptance}\" }}\n\
             floor = {{ area = \"6 m2\", u_value = \"1 W/m2K\", faces = \"down\" }}\n\
             [component]\ncooler = {{ kind = \"air-conditioner\", place = \"top\", cooling = \"5 kW\" }}\n{more}"
        );
        worked(&text, |w| figure(&w.ledger, "heat.cooling-load").expect("a load"))
    };
    let (white, dark) = (van("30 %", "6.5", ""), van("90 %", "6.5", ""));
    let glass = "pane = { kind = \"window\", place = \"aft\", side = \"front\", glazed_area = \"1 m2\" }\n";
    let with_glass = van("30 %", "6.5", glass);
    // 800 to 1000 W/m² on a level roof at noon, 22.7 to 25 W/(m²K) outside (sol-air.csv): 6 · 0.6 · 900 / 23 is 140 W.
    assert!((90.0..=190.0).contains(&(dark - white)), "{dark} W dark, {white} W white");
    assert!(with_glass - white > 100.0, "{with_glass} W with a pane, {white} W without");
    assert!((van("30 %", "0", "") - van("90 %", "0", "")).abs() < 1e-6, "no sun, no difference");
}

/// One figure for how long the air conditioner runs, with the duty of the climate day, in the ledger and on every page.
#[test]
fn one_air_conditioner_has_one_run_time() {
    let loaded = load(&root().join("specs/heron.toml"));
    let worked = pipeline::work_out(&loaded).expect("profile");
    let run = &worked.energy.run_times["air-conditioner"];
    let duty = worked.climate_days.cooling.as_ref().and_then(|c| c.duty).expect("a duty");
    near(run.duty.0, duty, "duty");
    near(run.time.0, figure(&worked.ledger, "air-conditioner.run-time").expect("a time"), "run time");
    // The load of the hottest season is that power for that share of its hours.
    let summer = &worked.energy.seasons["summer"].need.loads["air-conditioner"];
    let on: f64 = worked.climate_days.days["summer"].inside.as_ref().expect("a shell").on.iter().sum();
    near(summer.iter().sum::<f64>(), run.power.0 * duty * on, "energy of the day");
    let said = worked.ledger.get("air-conditioner.run-time").expect("a figure").said(worked.build.prints());
    let manual = std::fs::read_to_string(root().join("docs-out/heron/owners-manual.md")).expect("a manual");
    for before in ["A full bank runs it for about ", "*How long can it run on the bank?* About "] {
        let told: Vec<&str> = manual.split(before).skip(1).filter_map(|rest| rest.get(..said.len())).collect();
        assert!(!told.is_empty() && told.iter().all(|time| *time == said), "{before}{told:?}, not {said}");
    }
}

/// A module that folds brings what the days it stands out bring, and fuel counts the days between the nights too.
#[test]
fn the_folding_module_and_fuel_count_as_told() {
    let loaded = load(&root().join("specs/heron.toml"));
    let worked = pipeline::work_out(&loaded).expect("profile");
    let sun = &worked.energy.seasons["summer"].solar;
    let module = &sun.arrays["portable-array"];
    let share = module.set_up.expect("not always out").0;
    let alone = figure(&worked.ledger, "portable-array.summer.array-day").expect("a day");
    let bare = figure(&worked.ledger, "roof-array.summer.array-day").expect("a day");
    assert!(share < 1.0 && alone > 0.0 && bare > 0.0);
    let printed = worked.ledger.get("portable-array.summer.array-day").expect("a figure");
    assert!(printed.inputs.iter().any(|i| i.show(rigbinder::units::System::Metric) == "50 %"), "{:?}", printed.inputs);
    let nights = worked.build.goals.nights.get().expect("nights");
    for (fuel, supply) in &worked.climate_days.fuels {
        let days = worked.climate_days.heaters.values().filter(|h| &h.fuel == fuel).filter_map(|h| h.day).sum::<f64>();
        assert!(
            days > 0.0 && (supply.nights - f64::from(u32::try_from(nights).expect("some nights"))).abs() < 1e-9,
            "{fuel}"
        );
    }
}
