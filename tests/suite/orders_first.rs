//! What is proved, closed or signed first: fuses before what hangs on them, holds before the step they stop, joints before
//! water, nuts after the road.

use crate::harness::{house, refit_sheets, refit_worked};
use crate::orders::{Placed, in_demos, late, placed};
use rigbinder::kinds::{Library, PlumbingRole, Stage, TaskTemplate};
use rigbinder::pipeline::Worked;
use std::collections::BTreeSet;

/// States of which current must be there, by their names.
const LIVE: [&str; 5] = ["tried", "panels-live", "sub-panels-live", "inverter-live", "inverter-proved"];

/// A fuse or cut-out with a task of its own is closed before what hangs on it runs.
fn closed_before_what_hangs_on_it(worked: &Worked<'_>, order: &[Placed<'_>]) -> Vec<String> {
    let build = &worked.build;
    let closed =
        |part: &str| order.iter().position(|t| t.part == Some(part) && (t.brings("feeds-live") || t.brings("dc-live")));
    let mut faults = Vec::new();
    for (place, task) in order.iter().enumerate().filter(|(_, t)| LIVE.iter().any(|state| t.brings(state))) {
        let mut open: Vec<&str> = task.part.into_iter().collect();
        let mut seen: BTreeSet<&str> = BTreeSet::new();
        while let Some(part) = open.pop().filter(|part| seen.insert(part)) {
            open.extend(build.arriving(part).map(|c| c.from.as_str()));
        }
        let late = seen.iter().filter(|p| Some(**p) != task.part).filter(|p| closed(p).is_some_and(|at| at > place));
        faults.extend(late.map(|fuse| format!("{} runs before {fuse} is closed", task.id)));
    }
    faults
}

/// Valves and joints of a waste tank are proved before anything else fills it; drains stand in their lines before these are
/// tested; wheels and springs are looked at once more when the van has been driven; wax covers what was hosed.
fn proved_before_it_is_relied_on(worked: &Worked<'_>, order: &[Placed<'_>]) -> Vec<String> {
    let role = |t: &Placed<'_>| {
        let part = t.part.and_then(|p| worked.build.parts.get(p));
        part.and_then(|p| p.kind.plumbing.as_ref()).map(|p| p.role)
    };
    let is = |t: &Placed<'_>, wanted: PlumbingRole| role(t) == Some(wanted);
    let says = |t: &Placed<'_>, words: &str| t.template.is_some_and(|t| t.steps.iter().any(|s| s.contains(words)));
    let tested = |t: &Placed<'_>| {
        t.stage == Stage::Commissioning
            && (is(t, PlumbingRole::HandValve) && t.brings("tested") || is(t, PlumbingRole::MotorValve))
    };
    let filled = |t: &Placed<'_>| is(t, PlumbingRole::GreyTank) && t.brings("tight");
    let mut faults = late(order, tested, filled);
    faults.extend(late(order, filled, |t| says(t, "Fill each tank to half")));
    let drained = |t: &Placed<'_>| is(t, PlumbingRole::DrainValve) && t.brings("mounted");
    faults.extend(late(order, drained, |t| is(t, PlumbingRole::Pipe) && t.brings("proved-tight")));
    let driven = |t: &Placed<'_>| t.brings("road-tested");
    faults.extend(late(order, driven, |t| says(t, "set the torque wrench to each nut")));
    let hosed = |t: &Placed<'_>| t.stage == Stage::Openings && t.brings("proved-tight");
    faults.extend(late(order, hosed, |t| says(t, "Spray sills, pillars and ribs")));
    // Nothing hangs below the floor where a hole is still to be cut.
    let cuts = |t: &Placed<'_>| t.template.is_some_and(TaskTemplate::cuts_skin);
    let hung = |t: &Placed<'_>| is(t, PlumbingRole::GreyTank) && t.brings("mounted");
    faults.extend(late(order, cuts, hung));
    // A switch is proved by what answers to it.
    faults.extend(late(order, |t| t.brings("tried"), |t| says(t, "Work each switch. Expect")));
    faults
}

/// What is wrong with what comes first in a build.
pub(crate) fn faults(worked: &Worked<'_>, order: &[Placed<'_>]) -> Vec<String> {
    let mut all = closed_before_what_hangs_on_it(worked, order);
    all.extend(proved_before_it_is_relied_on(worked, order));
    all
}

#[test]
fn every_fuse_is_closed_before_what_hangs_on_it() {
    in_demos(closed_before_what_hangs_on_it, "feeds-live");
}

#[test]
fn joints_valves_and_nuts_are_proved_when_they_are_relied_on() {
    in_demos(proved_before_it_is_relied_on, "road-tested");
}

/// Work that a hold point stops, by its words, and the step that would do it: it stands in a later task.
const STOPPED: [(&str, &[&str]); 5] = [
    ("before the fuse goes in", &["Put the fuse in", "Put it in"]),
    ("before the fuses go in", &["Put the fuses in", "Put both fuses in"]),
    ("before it is covered", &["cover with", "Cover pad", "Cover it"]),
    ("before the insulation is closed", &["closed-cell insulation, joints taped"]),
    ("before the pipe is insulated", &["Sleeve the pipe"]),
];

/// A hold point that is printed behind the step it stops is read when it is too late.
#[test]
fn no_hold_point_stands_behind_the_step_it_stops() {
    let library = Library::load(house()).expect("kinds");
    let mut seen = 0;
    for kind in library.iter() {
        for task in kind.tasks.iter().filter(|t| !t.hold_first) {
            let Some(hold) = task.hold.as_deref() else { continue };
            for (_, steps) in STOPPED.iter().filter(|(words, _)| hold.contains(words)) {
                let done = task.steps.iter().find(|s| steps.iter().any(|words| s.contains(words)));
                assert!(done.is_none(), "{}.{} does what its hold point stops: {done:?}", kind.id, task.id);
                seen += 1;
            }
        }
    }
    assert!(seen >= 8, "{seen}");
}

/// Whoever sits on it trusts its bolts: a seat, its swivel and its anchorages are each signed by a second person or by who
/// is licensed for it.
#[test]
fn every_seat_on_the_road_has_its_hold_point() {
    let library = Library::load(house()).expect("kinds");
    for id in ["travel-seat", "seat-swivel", "child-seat-anchorage", "bench-seat"] {
        let kind = library.get(id).expect("a kind");
        let fits = kind.tasks.iter().find(|t| t.id == "fit").expect("it is fitted");
        assert!(fits.hold.is_some(), "{id} is fitted and nobody signs");
    }
}

fn at(order: &[Placed<'_>], id: &str) -> usize {
    order.iter().position(|t| t.id == id).unwrap_or_else(|| panic!("{id} is in no order"))
}

/// In a van that others fitted out everything is made dead and shut before the first cable is off, and comes back one by one.
#[test]
fn what_stays_is_shut_before_the_work_and_proved_after_it() {
    let worked = refit_worked();
    let order = placed(worked);
    for (first, then) in [
        ("van.photograph", "van.isolate"),
        ("panel.pull", "van.isolate"),
        ("shore-inlet.lock", "van.isolate"),
        ("isolator.fit", "controller.fit"),
        ("inverter-outlet.fit", "inverter-bond.set"),
        ("busbar.inspect", "main-fuse.check"),
        ("dc-dc.close", "van.reconnect"),
        ("gas-locker.shut", "panel.pull"),
        ("van.isolate", "old-bank.disconnect"),
        ("van.isolate", "old-relay.prove-dead"),
        ("old-bank.disconnect", "old-bank.take-out"),
        ("busbar.fit", "bank.join"),
        ("main-fuse.close", "panel.energise"),
        ("panel.energise", "lp-alarm.test"),
        ("lp-alarm.test", "gas-locker.open-again"),
        ("co-alarm.test", "gas-locker.open-again"),
        ("inverter.start", "inverter-bond.measure"),
        ("inverter-bond.measure", "inverter-guard.test"),
        ("inverter-bond.measure", "inverter-outlet.test"),
    ] {
        assert!(at(&order, first) < at(&order, then), "{then} stands before {first}");
    }
    // What is fed by nothing new is left alone, and what stays is nowhere fitted.
    let build = &worked.build;
    let ids: Vec<&str> = order.iter().map(|t| t.id).collect();
    for id in ["consumer-unit.test", "shore-guard.test", "panel.fit", "pump.prime", "hob.fit"] {
        assert!(!ids.contains(&id), "{id} is no work of this job");
    }
    // The lamp stays where it hangs: its cable alone is new.
    let lamp: Vec<&str> = build.tasks_of("galley-lamp").map(|t| t.template.expect("of its kind").id.as_str()).collect();
    assert_eq!(lamp, ["fit", "run"]);
    let sheet = |stem: &str| {
        refit_sheets().iter().find(|s| s.stem == stem).map_or_else(|| panic!("no {stem}"), |s| s.markdown.as_str())
    };
    let live = sheet("packet-11-commissioning");
    // The fuse of the old panel sits on the new bar: listed, and put in by the step that wakes the panel.
    assert!(
        live.contains("Put in the 60 A class T fuse (panel), as “Bolted fuses” says. Measure the feed at the panel."),
        "the old panel's fuse"
    );
    assert!(sheet("packet-08-electrical-fit-off").contains("| ☐ | `panel` | 60 A class T fuse |"));
    assert!(live.contains("Switch the bond relay on in its settings"));
    for no in ["pins of the shore inlet", "shore-volts", "way 1 as they are"] {
        assert!(!live.contains(no), "{no} is nothing for this van");
    }
    assert!(!live.contains("earth bar of the AC panel"), "the outlet hangs on no AC panel");
}

/// One person lifts 25 kg (common practice, no source): the old bank of 52 kg takes two, a voltmeter one.
#[test]
fn what_is_heavy_is_lifted_by_two() {
    let build = &refit_worked().build;
    let people = |id: &str| build.tasks[id].people;
    assert_eq!([people("old-bank.take-out"), people("old-meter.take-out")], [2, 1]);
    let packet = refit_sheets().iter().find(|s| s.stem == "packet-01-intake").expect("intake");
    assert!(packet.markdown.contains("or a hoist, from 25 kg on"), "the caution has the same number");
}
