//! Tests of conductor sizing.

use super::*;
use crate::compute::electrical::ampacity::{Installation, Surroundings};
use crate::tables::ampacity_rule::AmpacityRule;
use crate::tables::conductor_series::{Finish, Series};
use crate::tables::fuse_series::Family;
use crate::tables::iec60364::Method;
use crate::tables::insulation::Insulation;
use crate::units::{Metres, Ratio, Volts};

fn request(amps: f64, metres: f64) -> SizeRequest {
    SizeRequest {
        series: Series::Awg,
        given: None,
        side_by_side: 1,
        design_current: Amps(amps * 1.25),
        load_current: Amps(amps),
        one_way: Metres(metres),
        nominal: Volts(12.8),
        drop_limit: Some(Ratio(0.03)),
        minimum: ConductorSize::Awg(16),
        least_ring: None,
        finish: Finish::Plain,
        installation: Installation {
            rule: AmpacityRule::Cfr,
            method: Method::C,
            insulation: Insulation::C105,
            surroundings: Surroundings::Air(Celsius(30.0)),
            bundled: 2,
            volts: Volts(12.8),
            bundle_at_all_voltages: true,
        },
        protection: Protection::Smallest(Family::Blade),
        fuse_cap: Ratio(1.0),
    }
}

fn pick(request: &SizeRequest) -> (String, Criterion) {
    let sized = size_conductor(request).expect("size");
    assert!(sized.fails.is_empty());
    assert_eq!(sized.tried.last().map(|c| c.size), Some(sized.size));
    assert!(sized.tried.iter().rev().skip(1).all(|c| !c.fails.is_empty()));
    (sized.size.to_string(), sized.governed_by)
}

#[test]
fn each_criterion_can_govern() {
    assert_eq!(pick(&request(1.0, 2.0)), ("16 AWG".into(), Criterion::Mechanical));
    assert_eq!(pick(&request(5.0, 5.0)), ("12 AWG".into(), Criterion::VoltageDrop));
    // 32 A × 1.25 = 40 A: 12 AWG carries 45 A (33 CFR 183.425 Table 5), 14 AWG 35 A.
    assert_eq!(pick(&request(32.0, 0.3)), ("12 AWG".into(), Criterion::Ampacity));
    // 26.4 A × 1.25 = 33 A: 14 AWG carries it, but not the 35 A fuse behind it in a space of 35 °C.
    let mut warm = request(26.4, 0.3);
    warm.installation.surroundings = Surroundings::Air(Celsius(35.0));
    assert_eq!(pick(&warm), ("12 AWG".into(), Criterion::Protection));
}

/// 24 V, 100 A, 10 ft both ways: by drop alone 8 AWG would do, its 80 A make it 6 AWG, the published
/// answer of ABYC E-11 practice.
#[test]
fn published_case_governed_by_ampacity() {
    let mut case = request(100.0, 5.0 * 0.3048);
    case.nominal = Volts(24.0);
    case.design_current = Amps(100.0);
    case.protection = Protection::None;
    assert_eq!(pick(&case), ("6 AWG".into(), Criterion::Ampacity));
}

#[test]
fn a_warmer_place_or_a_bundle_never_gives_a_thinner_conductor() {
    for amps in [2.0, 6.0, 12.0, 20.0, 30.0] {
        for metres in [0.5, 2.0, 6.0] {
            let plain = request(amps, metres);
            let mut engine = plain.clone();
            engine.installation.surroundings = Surroundings::EngineSpace(Celsius(50.0));
            let mut bundled = engine.clone();
            bundled.installation.bundled = 7;
            let size = |r: &SizeRequest| size_conductor(r).expect("size").size;
            assert!(size(&plain) <= size(&engine) && size(&engine) <= size(&bundled), "{amps} A, {metres} m");
        }
    }
}

#[test]
fn metric_is_sized_from_its_own_series() {
    let mut case = request(5.0, 5.0);
    case.series = Series::Metric;
    case.minimum = ConductorSize::Metric(1.5);
    assert_eq!(pick(&case), ("4 mm²".into(), Criterion::VoltageDrop));
    case.load_current = Amps(1.0);
    case.design_current = Amps(1.25);
    assert_eq!(pick(&case), ("1.5 mm²".into(), Criterion::Mechanical));
}

#[test]
fn a_given_size_is_tried_and_kept() {
    let mut case = request(20.0, 6.0);
    case.given = Some(ConductorSize::Awg(18));
    case.protection = Protection::Given(Amps(40.0));
    let sized = size_conductor(&case).expect("given");
    assert_eq!((sized.size, sized.governed_by), (ConductorSize::Awg(18), Criterion::Given));
    let all = [Criterion::Ampacity, Criterion::Protection, Criterion::VoltageDrop, Criterion::Mechanical];
    assert_eq!(sized.fails, all);
    assert_eq!(sized.conductor_temperature, Celsius(105.0), "at its 20 A the conductor is at its limit");
    case.given = Some(ConductorSize::Metric(0.5));
    let thin = size_conductor(&case).expect("given");
    assert!(thin.ampacity.is_none() && thin.fails.contains(&Criterion::Ampacity));
}

#[test]
fn what_does_not_fit_says_what_would() {
    let long = SizeRequest { protection: Protection::None, ..request(300.0, 20.0) };
    let Err(NoSize::TooLarge { largest, needed_area, fails, .. }) = size_conductor(&long) else { panic!("fits") };
    assert_eq!((largest, fails), (ConductorSize::Awg(-3), vec![Criterion::VoltageDrop]));
    assert!(needed_area.0 > 600.0 && needed_area.0 < 900.0, "{needed_area:?}");
    let strong = SizeRequest { protection: Protection::Given(Amps(500.0)), ..request(100.0, 1.0) };
    let why = size_conductor(&strong).expect_err("above 4/0");
    assert_eq!(why.to_string(), "4/0 AWG, the largest, is not enough; it carries 445 A, needed are 500 A");
    let why = size_conductor(&request(60.0, 1.0)).expect_err("above the series");
    assert_eq!(why, NoSize::NoRating { needed: Amps(75.0), largest: Amps(40.0) });
}

#[test]
fn inputs_without_an_answer_are_refused() {
    for (amps, metres) in [(f64::NAN, 1.0), (-1.0, 1.0), (1.0, f64::INFINITY), (1.0, -2.0)] {
        assert!(matches!(size_conductor(&request(amps, metres)), Err(NoSize::BadInput(_))), "{amps} A, {metres} m");
    }
    let mut hot = request(1.0, 1.0);
    hot.installation.surroundings = Surroundings::Air(Celsius(f64::NAN));
    assert_eq!(size_conductor(&hot), Err(NoSize::BadInput("air temperature")));
    hot.installation.surroundings = Surroundings::Air(Celsius(120.0));
    assert!(matches!(size_conductor(&hot), Err(NoSize::TooLarge { .. })));
}

/// 5 A over 1 m ask for 16 AWG alone; for a stud that rings begin at 12 AWG for it is that, and it says why.
#[test]
fn a_stud_asks_for_a_conductor_that_there_are_rings_for() {
    let plain = request(5.0, 1.0);
    assert_eq!(size_conductor(&plain).expect("size").size, ConductorSize::Awg(16));
    let stud = SizeRequest { least_ring: Some(ConductorSize::Awg(12)), ..plain };
    let sized = size_conductor(&stud).expect("size");
    assert_eq!((sized.size, sized.governed_by), (ConductorSize::Awg(12), Criterion::Ring));
    let given = size_conductor(&SizeRequest { given: Some(ConductorSize::Awg(14)), ..stud }).expect("size");
    assert_eq!((given.governed_by, given.fails), (Criterion::Given, vec![Criterion::Ring]));
}

/// Two equal resistances in parallel are half of one, and each takes half of the current (Ohm, Kirchhoff): a pair is sized
/// as one of them at half the current, its ampacity is twice the one's, its loop resistance half.
#[test]
fn two_side_by_side_are_each_sized_at_half_the_current() {
    for (amps, metres) in [(150.0, 1.5), (280.0, 2.0), (90.0, 6.0)] {
        let none = |r: SizeRequest| SizeRequest { protection: Protection::None, ..r };
        let one = size_conductor(&none(request(amps / 2.0, metres))).expect("size");
        let pair = size_conductor(&SizeRequest { side_by_side: 2, ..none(request(amps, metres)) }).expect("size");
        assert_eq!((pair.size, &pair.fails), (one.size, &one.fails));
        let carries = |s: &Sized| s.ampacity.as_ref().expect("ampacity").corrected.0;
        assert!((carries(&pair) - 2.0 * carries(&one)).abs() < 1e-9);
        assert!((pair.drop.share.0 - one.drop.share.0).abs() < 1e-12);
        assert!((pair.drop.loop_resistance.0 * 2.0 - one.drop.loop_resistance.0).abs() < 1e-12);
        assert_eq!(pair.show(), format!("2 × {}", one.size));
    }
}
