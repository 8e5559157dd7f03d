//! Work that hurts whoever follows it by the letter where it is told in the wrong order or left out: what must hold on the
//! road, fuses taken out for a test, a van full of smoke, distances to a fire, currents above a fuse. Each class by a law.

use crate::harness::{demo_specs, load, sheets};
use crate::orders::{Placed, in_demos, late};
use crate::orders_done::{of_kinds, plumbing, said};
use rigbinder::build::Part;
use rigbinder::compute::geometry::openings::openings;
use rigbinder::kinds::{PlumbingRole, Role, Stage};
use rigbinder::pipeline::{self, Worked};

/// What a task proves for the road, by the words of its steps.
const FOR_THE_ROAD: [&str; 8] = [
    "umber plate from",
    "irection lamps",
    "front lamp on and check",
    "ock it for the road",
    "egs in one after the other",
    "tep-out warning",
    "ravel cap on: so",
    "Try every lamp that was off",
];

/// Whoever proves a lamp, a lock, a leg or a cap says that the road waits for it.
#[test]
fn who_proves_what_must_hold_on_the_road_says_so() {
    let looked = of_kinds(
        |_, t| {
            let proves = |s: &String| FOR_THE_ROAD.iter().any(|words| s.contains(words));
            t.stage == Stage::Commissioning && t.steps.iter().any(proves)
        },
        |_, t| t.brings("roadworthy"),
    );
    assert!(looked >= 7, "{looked}");
}

/// A leg or lift that stands out, and a lamp that is dark, are found before the van is driven or rolled onto scales.
fn proved_before_it_rolls(order: &[Placed<'_>]) -> Vec<String> {
    let drives = |t: &Placed<'_>| {
        let steps = t.template.map(|t| t.steps.as_slice()).unwrap_or_default();
        t.stage == Stage::Commissioning && steps.iter().any(|s| s.starts_with("Drive "))
    };
    let mut faults = late(order, |t| t.brings("roadworthy"), drives);
    faults.extend(late(order, |t| t.brings("roadworthy"), |t| t.brings("van-weighed")));
    faults
}

#[test]
fn what_must_hold_on_the_road_is_proved_before_the_van_rolls() {
    in_demos(|_, order| proved_before_it_rolls(order), "roadworthy");
}

/// A fuse that a test takes out is put back by the same test.
#[test]
fn a_fuse_taken_out_for_a_test_goes_back() {
    let out = |s: &String| ["ull its fuse", "ull the fuse", "take out {% if own_fuses"].iter().any(|w| s.contains(w));
    let looked = of_kinds(
        |_, t| t.stage == Stage::Commissioning && t.steps.iter().any(out),
        |_, t| {
            let at = t.steps.iter().position(out).expect("there");
            t.steps[at..].join(" ").contains(" back")
        },
    );
    assert!(looked >= 2, "{looked}");
}

/// Nobody goes into a van that was shut with a fire or with smoke in it before it is aired.
#[test]
fn a_van_that_was_shut_with_smoke_in_it_is_aired() {
    let shut = |s: &String| {
        ["through the glass", "through the window", "you outside", "stand outside"].iter().any(|w| s.contains(w))
            || s.contains("burning paper")
    };
    let looked = of_kinds(
        |_, t| t.stage == Stage::Commissioning && t.steps.iter().any(shut),
        |_, t| {
            let at = t.steps.iter().position(shut).expect("there");
            t.steps[at..].join(" ").to_lowercase().contains("air the van")
        },
    );
    assert!(looked >= 7, "{looked}");
}

/// Where nobody may be aboard, no step reads what hangs inside.
#[test]
fn nobody_reads_inside_a_van_that_nobody_may_enter() {
    let kept_out = |t: &rigbinder::kinds::TaskTemplate| t.cautions.iter().any(|c| c.avoid.contains("obody aboard"));
    let inside = ["{{ source }}", "on the floor", "at the display"];
    let reads = |t: &rigbinder::kinds::TaskTemplate| t.steps.iter().any(|s| inside.iter().any(|w| s.contains(w)));
    of_kinds(|_, t| kept_out(t), |_, t| !reads(t));
    let one =
        of_kinds(|_, t| t.cautions.iter().any(|c| c.avoid.contains("only whoever works its control")), |_, t| reads(t));
    assert!(one >= 1, "{one}");
}

/// Distances to a fire are read when all that burns stands; smoke is lit when the alarms live; a flue is warmed when the
/// vents are free; the covering is laid up to a hearth that stands.
fn the_fire_comes_last(_: &Worked<'_>, order: &[Placed<'_>]) -> Vec<String> {
    let reads = |t: &Placed<'_>| t.template.is_some_and(|t| t.readings.iter().any(|r| r.id.starts_with("gap-front")));
    let smokes = |t: &Placed<'_>| said(t, "smoke pellet") || said(t, "burning paper");
    let mut faults = late(order, |t| t.brings("furniture-stands"), reads);
    faults.extend(late(order, |t| t.brings("co-alarm-live") || t.brings("smoke-alarm-live"), smokes));
    faults.extend(late(order, |t| t.brings("ventilated"), |t| said(t, "burning paper")));
    faults.extend(late(order, |t| said(t, "Lay the hearth"), |t| said(t, "bond it in halves")));
    faults
}

#[test]
fn distances_and_smoke_come_when_all_stands_and_the_alarms_live() {
    in_demos(the_fire_comes_last, "burning");
}

/// What is filled to be tested can be closed and is closed: waste before it is joined to its tank, a tank when the pump is
/// on its outlet.
fn filled_when_it_can_be_closed(worked: &Worked<'_>, order: &[Placed<'_>]) -> Vec<String> {
    let parts = &worked.build.parts;
    let of = |t: &Placed<'_>| t.part.and_then(|p| parts.get(p));
    let is = |t: &Placed<'_>, role: PlumbingRole| of(t).and_then(plumbing) == Some(role);
    let leads_to = |pipe: &Part<'_>, tank: &str| pipe.roles.to().names(tank);
    let tanks = parts.values().filter(|p| plumbing(p) == Some(PlumbingRole::GreyTank));
    let tested = |t: &Placed<'_>, tank: &str| {
        t.brings("tight") && of(t).is_some_and(|p| plumbing(p) == Some(PlumbingRole::Pipe) && leads_to(p, tank))
    };
    let mut faults: Vec<String> = tanks
        .flat_map(|tank| late(order, |t| tested(t, &tank.id), |t| t.part == Some(&tank.id) && t.brings("piped")))
        .collect();
    let closes = |t: &Placed<'_>| t.brings("mounted") && (is(t, PlumbingRole::Pump) || is(t, PlumbingRole::Strainer));
    faults.extend(late(order, closes, |t| is(t, PlumbingRole::FreshTank) && t.brings("tight")));
    // A suction pipe begins at a tank that stands.
    for pipe in parts.values().filter(|p| p.roles.medium().text() == Some("suction")) {
        let Some(tank) = pipe.roles.from().first().map(str::to_owned) else { continue };
        let stands = |t: &Placed<'_>| t.part == Some(tank.as_str()) && t.brings("mounted");
        faults.extend(late(order, stands, |t| t.part == Some(&pipe.id) && t.brings("laid")));
    }
    faults
}

#[test]
fn tanks_and_pipes_are_filled_when_they_can_be_closed() {
    in_demos(filled_when_it_can_be_closed, "piped");
}

/// No test of a load asks for more than what protects its circuit carries (the device opens, or the meter does).
#[test]
fn no_test_asks_for_more_than_the_fuse_carries() {
    let (mut readings, mut circuits) = (0, 0);
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        let rating = |id: &str| Some(worked.electrical.circuits.get(id)?.device.rating?.0);
        for test in worked.readings.tests.iter().filter(|t| t.id.contains(".amps")) {
            let role = worked.build.parts.get(&test.part).and_then(Part::role);
            let (Some(most), Some(carries)) = (test.band.limits.and_then(|l| l.high), rating(&test.part)) else {
                continue;
            };
            // The start of a motor or a glow pin lasts shorter than its fuse; what a source gives is its own.
            if role != Some(Role::Load) || test.id.contains("start") || test.id.contains("error") {
                continue;
            }
            assert!(most <= carries * 1.0001, "{}: {} asks for {most} A of {carries} A", path.display(), test.id);
            readings += 1;
        }
        for test in worked.readings.circuits.iter().filter(|t| t.steady) {
            let Some(carries) = rating(&test.circuit) else { continue };
            let most = test.band("amps", None).limits.and_then(|l| l.high).unwrap_or_default();
            assert!(
                most <= carries.max(test.amps.0) * 1.0001,
                "{}: {} asks for {most} A",
                path.display(),
                test.circuit
            );
            circuits += 1;
        }
    }
    assert!(readings > 60 && circuits > 100, "{readings} {circuits}");
}

/// A cable from the cabin to what stands outside of it goes through a hole that is cut for it or for what stands beside it; to
/// the vehicle's own battery and alternator the vehicle's own grommets lead.
#[test]
fn a_cable_that_leaves_the_cabin_has_a_hole() {
    let (mut led, mut bad) = (0, Vec::new());
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        let build = &worked.build;
        let zone = |id: &str| {
            let place = build.parts.get(id)?.places.first()?;
            build.places.get(place).map(|p| p.zone.text().unwrap_or("cabin").to_owned())
        };
        let holes: Vec<&str> = openings(build).iter().map(|o| o.part.id.as_str()).collect();
        for circuit in build.circuits.values().filter(|c| build.is_worked_on(c)) {
            let Some((from, to)) = zone(&circuit.from).zip(zone(&circuit.to)) else { continue };
            let inside = [from == "cabin", to == "cabin"];
            if inside[0] == inside[1] || [&from, &to].iter().any(|z| z.as_str() == "engine-space") {
                continue;
            }
            let (inner, out) = if inside[0] { (&circuit.from, &circuit.to) } else { (&circuit.to, &circuit.from) };
            let own = build.parts[out.as_str()].role();
            if matches!(own, Some(Role::StartBattery | Role::Alternator)) {
                continue;
            }
            led += 1;
            let beside = &build.parts[out.as_str()].places;
            let hangs = build.parts.values().filter(|p| p.places == *beside).map(|p| p.id.as_str());
            if !hangs.chain([inner.as_str()]).any(|id| holes.contains(&id)) {
                bad.push(format!("{}: {} ({from} to {to})", path.display(), circuit.id));
            }
        }
    }
    assert!(bad.is_empty(), "{}", bad.join("\n"));
    assert!(led > 10, "{led}");
}

/// What a step uses up or a row loads with is on the lists of its packet.
#[test]
fn what_a_step_uses_up_is_on_a_list() {
    let uses = [
        "Build the flue upwards",
        "Run steel line or hose",
        "ear and hearing",
        "Lead the cables through the gland",
        "Lead the cable through the gland",
    ];
    let looked =
        of_kinds(|_, t| t.steps.iter().any(|s| uses.iter().any(|w| s.contains(w))), |_, t| !t.takes.is_empty());
    assert!(looked >= 3, "{looked}");
    let mut rows = 0;
    for path in demo_specs() {
        for sheet in sheets(&load(&path)).iter().filter(|s| s.stem.starts_with("packet-")) {
            if sheet.markdown.contains("| test load |") {
                assert!(sheet.markdown.contains("☐ test load"), "{}: {}", path.display(), sheet.stem);
                rows += 1;
            }
        }
    }
    assert!(rows > 0);
}

/// A packet names no cooktop and no mains where the build has none.
#[test]
fn packets_name_nothing_that_the_build_has_not() {
    let mut without = [0, 0];
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        let parts = || worked.build.parts.values();
        let cooks = parts().any(|p| p.kind.is_called("cooktops"));
        let mains = parts().any(|p| p.role().is_some_and(Role::gives_ac));
        for sheet in sheets(&loaded).iter().filter(|s| s.stem.starts_with("packet-")) {
            // The caution of heavy conductors is one text for every van.
            let told = || sheet.markdown.lines().filter(|line| !line.contains("**The studs are live and carry large"));
            let at = |word: &str| told().find(|line| line.to_lowercase().contains(word));
            if !cooks {
                assert_eq!(at("cooktop"), None, "{}: {}", path.display(), sheet.stem);
                without[0] += 1;
            }
            if !mains {
                assert_eq!(at("mains"), None, "{}: {}", path.display(), sheet.stem);
                without[1] += 1;
            }
        }
    }
    assert!(without.iter().all(|n| *n > 0), "{without:?}");
}

/// Placed tasks of a build keep all that is asked here, whatever was drawn.
pub(crate) fn faults(worked: &Worked<'_>, order: &[Placed<'_>]) -> Vec<String> {
    let mut all = proved_before_it_rolls(order);
    all.extend(the_fire_comes_last(worked, order));
    all.extend(filled_when_it_can_be_closed(worked, order));
    all
}
