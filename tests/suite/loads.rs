//! Tests under load: what a load draws while it runs is not what it draws as it starts, and no test overloads what it
//! tests.

use crate::harness::{demo_specs, load};
use rigbinder::build::Build;
use rigbinder::kinds::{Library, Network, Role};
use rigbinder::pipeline::{self, Worked};
use rigbinder::units::Amps;
use std::collections::BTreeMap;

/// Expected values of all readings of one component, by id: expected and tolerance.
fn expected(kind: &str, start: &str) -> BTreeMap<String, (String, String)> {
    let text = format!(
        "[build]\ntitle = \"Van\"\n[place.van]\nabout = \"Van\"\n[component]\n\
         bank = {{ kind = \"battery-bank\", place = \"van\" }}\n\
         panel = {{ kind = \"fuse-panel\", fed_from = \"bank\", run = \"1 m\", place = \"van\" }}\n\
         it = {{ kind = \"{kind}\", fed_from = \"panel\", run = \"3 m\", place = \"van\", start_current = \"{start}\" }}\n"
    );
    let loaded = pipeline::load(crate::harness::house(), "test.toml", text.as_bytes()).expect("kinds");
    let worked = pipeline::work_out(&loaded).expect("profile");
    let own = worked.readings.tests.iter().filter(|t| t.part == "it");
    let mut all: BTreeMap<_, _> =
        own.map(|t| (format!("{}: {}", t.id, t.what), (t.expect.clone(), t.tolerance.clone()))).collect();
    let circuit = worked.readings.circuits.iter().find(|t| t.circuit == "it");
    all.extend(circuit.map(|t| ("circuit, running".to_owned(), t.expected(&worked.build, "amps", None))));
    all
}

/// The current of a glow pin, igniter or motor start is expected in no reading but those of the start. Over every kind
/// that has one.
#[test]
fn no_running_reading_expects_a_start_current() {
    let library = Library::load(crate::harness::house()).expect("kinds");
    let starting: Vec<_> = library.iter().filter(|k| k.fields.contains_key("start_current")).collect();
    assert!(starting.len() >= 9, "{}", starting.len());
    let mut starts = 0;
    for kind in starting {
        let (low, high) = (expected(&kind.id, "31 A"), expected(&kind.id, "67 A"));
        for (reading, value) in &low {
            if reading.contains("start") {
                starts += 1;
            // What the cable drops goes with its size, and that with the start.
            } else if !reading.contains("olt") && !reading.contains("drop") {
                assert_eq!(Some(value), high.get(reading), "{}: {reading} goes with the start current", kind.id);
            }
        }
        // A start that lasts a minute and that every unit has is read by itself.
        let lasts = kind.electric.is_some_and(|e| e.long_start) && kind.fields["start_current"].default.is_some();
        let read = low.iter().any(|(reading, (expect, _))| reading.contains("start") && expect.contains("31 A"));
        assert!(!lasts || read, "{}: nobody reads its start current", kind.id);
    }
    assert!(starts >= 2, "{starts}");
}

/// 8.6 A is a glow pin that stays on, or a fan that grinds; 2 A is a healthy heater.
#[test]
fn a_heater_whose_glow_pin_stays_on_is_found() {
    let text = |amps: &str| {
        format!(
            "[build]\ntitle = \"Van\"\n[place.van]\nabout = \"Van\"\n[component]\n\
             heater = {{ kind = \"air-heater\", place = \"van\", fed_from = \"bank\", run = \"2 m\" }}\n\
             bank = {{ kind = \"battery-bank\", place = \"van\" }}\n\
             [recorded.readings]\nheater.amps-running = \"{amps}\"\n"
        )
    };
    let out = |amps: &str| {
        crate::harness::findings(&text(amps)).iter().filter(|f| f.name == "reading-out-of-tolerance").count()
    };
    assert_eq!([out("2 A"), out("2.5 A"), out("8.6 A"), out("5 A"), out("1 A")], [0, 0, 1, 1, 1]);
}

/// No tolerance is wider than what tells a sick load from a healthy one: one of three lamps, coils or elements that is
/// dead takes away a third, and a motor that grinds or a filter that is blocked adds as much; a bank between 12 V and
/// 14.4 V and a clamp meter take up to a quarter. So 30 % at most. Common practice, no source.
#[test]
fn no_tolerance_hides_a_dead_third() {
    let library = Library::load(crate::harness::house()).expect("kinds");
    let mut shares = 0;
    for kind in library.iter() {
        for reading in kind.tasks.iter().flat_map(|t| &t.readings) {
            let tolerance = reading.tolerance();
            let shown = tolerance.trim_start_matches(['±', '+', '−', ' ']);
            let Some(share) = shown.strip_suffix(" %").and_then(|n| n.parse::<f64>().ok()) else { continue };
            assert!(share <= 30.0, "{}.{}: {}", kind.id, reading.id, tolerance);
            shares += 1;
        }
    }
    assert!(shares > 40, "{shares}");
}

/// What may flow to `part`: the least rating of all that feeds it.
fn may_flow(worked: &Worked<'_>, part: &str) -> f64 {
    let build: &Build<'_> = &worked.build;
    let mut least = f64::INFINITY;
    let mut at = part.to_owned();
    for _ in 0..40 {
        let Some(here) = build.parts.get(&at) else { break };
        if here.role().is_some_and(Role::passes_through) {
            least = least.min(here.record.amps("rating").map_or(f64::INFINITY, |a| a.0));
        }
        // What feeds a converter carries another current at another voltage, and is laid out for all that it can give.
        if here.role() == Some(Role::Converter) {
            least = least.min(here.record.amps("rating").map_or(f64::INFINITY, |a| a.0));
            break;
        }
        let Some(feeder) = build.arriving(&at).find(|c| c.owner == c.to && c.network == Network::Dc) else { break };
        let device = worked.electrical.circuits[&feeder.id].device.rating;
        least = least.min(device.map_or(f64::INFINITY, |a| a.0));
        at.clone_from(&feeder.from);
    }
    least
}

/// Everything that a test step switches on together stays within all that feeds it, the factor on what lasts included.
/// Returns how many panels have such a test.
pub(crate) fn no_test_overloads_what_it_tests(worked: &Worked<'_>) -> usize {
    let all = &worked.electrical;
    let mut tested = 0;
    for (panel, together) in &all.together {
        let of = |id: &String| all.circuits.get(id).map_or(Amps(0.0), |f| f.design);
        let design: f64 = together.circuits.iter().map(|id| of(id).0).sum();
        let running: f64 = together.circuits.iter().map(|id| all.circuits[id].demand.running.0).sum();
        let limit = may_flow(worked, panel);
        assert!(design <= limit * (1.0 + 1e-9), "{panel}: {design} A on {limit} A");
        assert!(
            (running - together.running.0).abs() < 1e-6,
            "{panel}: {running} A are on, {:?} expected",
            together.running
        );
        tested += usize::from(!together.circuits.is_empty());
    }
    if let Some(circuit) = all.largest.as_ref().map(|id| &worked.build.circuits[id]) {
        let design = all.circuits[&circuit.id].design.0;
        assert!(design <= may_flow(worked, &circuit.from) * (1.0 + 1e-9), "{}: {design} A", circuit.id);
    }
    tested
}

#[test]
fn no_test_of_the_demo_vans_overloads_a_fuse() {
    let mut tested = 0;
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        tested += no_test_overloads_what_it_tests(&worked);
    }
    assert!(tested >= 5, "{tested}");
}

/// The case that blew its own fuse: 51 A of ways behind 40 A.
#[test]
fn a_panel_with_more_than_its_feed_is_tested_in_part() {
    let lamps: Vec<String> = (1..=6)
        .map(|n| format!("lamp-{n} = {{ kind = \"light-bar\", draw = \"102 W\", hours = \"1 h\", fed_from = \"panel\", run = \"2 m\", place = \"van\" }}"))
        .collect();
    let text = format!(
        "[build]\ntitle = \"Van\"\n[place.van]\nabout = \"Van\"\n[component]\n\
         bank = {{ kind = \"battery-bank\", place = \"van\" }}\n\
         main-fuse = {{ kind = \"main-fuse\", fed_from = \"bank\", run = \"0.3 m\", place = \"van\" }}\n\
         panel = {{ kind = \"switch-panel\", fed_from = \"main-fuse\", run = \"1 m\", protection = \"40 A\", place = \"van\" }}\n{}\n",
        lamps.join("\n")
    );
    let loaded = pipeline::load(crate::harness::house(), "test.toml", text.as_bytes()).expect("kinds");
    let worked = pipeline::work_out(&loaded).expect("profile");
    let together = &worked.electrical.together["panel"];
    assert!(together.circuits.len() == 3, "{together:?}");
    let sheets = pipeline::sheets(&worked, &pipeline::Only::default()).expect("documents");
    let packet = sheets.iter().find(|s| s.markdown.contains("Prove every way of")).expect("packet");
    assert!(
        packet.markdown.contains("Switch ways 1–3 on, one after the other, and leave the rest off"),
        "{}",
        packet.markdown
    );
    assert!(packet.markdown.replace('\u{a0}', " ").contains("25.5 A"), "{}", packet.markdown);
}

/// No text of a kind tells anybody to switch on all there is: how much may be on is computed.
#[test]
fn no_step_switches_on_all_there_is() {
    let library = Library::load(crate::harness::house()).expect("kinds");
    let all = [
        "every load",
        "all loads on",
        "usual loads",
        "house loads on",
        "usually runs together",
        "normally runs together",
        "all ways on",
        "every way on",
        "all assigned ways on",
    ];
    let mut steps = 0;
    for kind in library.iter() {
        for task in kind.tasks.iter().filter(|t| t.stage == rigbinder::kinds::Stage::Commissioning) {
            let readings = task.readings.iter().flat_map(|r| [r.what.clone(), r.expected()]);
            for text in task.steps.iter().cloned().chain(readings) {
                // With the master off, or with the loads themselves off, nothing flows.
                let dead =
                    ["Turn the master off", "master off", "load is off", "loads off"].iter().any(|w| text.contains(w));
                let told = all.iter().find(|w| text.to_lowercase().contains(*w)).filter(|_| !dead);
                assert!(told.is_none(), "{}.{}: {text}", kind.id, task.id);
                steps += 1;
            }
        }
    }
    assert!(steps > 200, "{steps}");
}
