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
//!    `carbon-dioxide-high` and `fixed-vents-small`.
//! 4. Ribs: `water_heat::ribs_bridge_the_insulation_and_sweat_first`.
//! 5. Frost: `owner_frost::the_temperature_to_which_frost_protection_holds_is_told_and_right`.
//! 6. Sun on sheet: the unit test `sheet_in_the_sun_as_computed_outside`.
//! 7. Cooling: `energy::the_duty_stands_beside_the_run_time`, `specs/broken` `run-time-below-goal`.
//! 8. Weights: `vehicle::a_lift_raises_the_centre_of_gravity`, `the_lift_of_a_suspension_that_stays_counts`,
//!    `vehicle::what_is_stowed_counts_where_nobody_says_it`, `mechanics::an_awning_on_the_rack_weighs_on_the_roof`,
//!    `people_weigh_where_they_sit_and_as_the_spec_says`, `what_is_added_to_the_roof_makes_the_van_higher`,
//!    `what_hangs_behind_the_rear_axle_lightens_the_front`, `mechanics::beds_are_counted_against_people`, `specs/broken`
//!    `built-in-size-missing` and `part-larger-than-place`.
//! 9. Water: `specs/broken` `outlet-run-missing`, `a_second_tap_takes_from_the_first`.
//! 10. Fuel: `water_heat::a_condensing_gas_heater_is_plausible`,
//!     `water_heat::a_three_way_fridge_burns_gas_while_it_uses_no_electricity`,
//!     `owner_switches::storage_cuts_every_source_off_before_the_bank`; gas: `specs/broken` `gas-chain-broken`,
//!     `gas-line-without-valve`, `gas-pressure-differs` and `regulator-too-small`, `each_regulator_answers_for_its_own`.
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
