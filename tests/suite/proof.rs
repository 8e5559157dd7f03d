//! Hold points are proved, and handover asks for what its set says.

use crate::harness::{built_in, demo_specs, house, load, root, stem};
use rigbinder::build::Proved;
use rigbinder::catalogue::{Catalogue, Layer};
use rigbinder::compute::handover::{self, Group};
use rigbinder::kinds::{HandoverSet, Kind, Library, Network, Proof, System, TaskTemplate};
use rigbinder::pipeline::{self, Loaded};
use std::collections::{BTreeMap, BTreeSet};

fn holds(library: &Library) -> impl Iterator<Item = (&Kind, &TaskTemplate)> {
    library.iter().flat_map(|k| k.tasks.iter().map(move |t| (k, t))).filter(|(_, t)| t.hold.is_some())
}

/// Looking is no measurement: at most a third of the hold points rest on it, and their sentence says who looks at what.
#[test]
fn at_most_a_third_of_the_hold_points_rest_on_looking() {
    const LOOKS: [&str; 5] = ["checks", "inspects", "compares", "walks", "sign"];
    let library = Library::load(house()).expect("kinds");
    let (mut all, mut looked) = (0, 0);
    for (kind, task) in holds(&library) {
        all += 1;
        if task.proof == Proof::Inspection {
            looked += 1;
            let hold = task.hold.as_deref().unwrap_or_default();
            assert!(LOOKS.iter().any(|word| hold.contains(word)), "{}.{}: {hold}", kind.id, task.id);
        }
    }
    assert!(all > 100 && looked * 3 <= all, "{looked} of {all} hold points rest on looking");
}

/// What proves a hold point is there in the demo builds: a reading that a condition takes away would leave it unproved.
#[test]
fn every_hold_point_of_the_demo_builds_has_its_proof() {
    let mut found = 0;
    for spec in demo_specs() {
        let loaded = load(&spec);
        let worked = pipeline::work_out(&loaded).expect("profile");
        let proofs = worked.readings.proofs();
        for (id, hold) in &worked.build.holds {
            let template = worked.build.tasks[id].template;
            if template.is_none_or(|t| t.proof == Proof::Inspection) {
                continue;
            }
            let readings = proofs.readings(hold).count();
            let dead = proofs.dead_tests(&worked.build, hold).count();
            // A van without pipes, or one whose wiring another job did, has nothing to test behind its lining.
            let shared = hold.proof.iter().all(|p| match p {
                Proved::Tasks(every) => every.ids.iter().all(|task| task != id),
                Proved::DeadTests => true,
                Proved::Reading(_) => false,
            });
            assert!(readings + dead > 0 || shared, "{}: {id} is proved by nothing", stem(&spec));
            found += readings;
        }
    }
    assert!(found > 200, "{found}");
}

fn read(text: &str) -> Loaded {
    pipeline::load(house(), "test.toml", text.as_bytes()).expect("kinds")
}

fn with_set(text: &str, set: HandoverSet) -> String {
    let own = text.lines().filter(|l| !l.starts_with("handover_set")).collect::<Vec<_>>().join("\n");
    own.replacen("\n[build]\n", &format!("\n[build]\nhandover_set = \"{}\"\n", set.id()), 1)
}

/// What handover misses: tests of circuits one by one.
fn missing(text: &str) -> BTreeSet<(Group, String)> {
    let loaded = read(text);
    let worked = pipeline::work_out(&loaded).expect("profile");
    let one = |m: &handover::Missing| match m.group {
        Group::Circuits => {
            let table: toml::Table = m.write.parse().expect("TOML");
            let tests = table[&m.id].as_table().expect("tests").keys();
            tests.map(|test| (m.group, format!("{}.{test}", m.id))).collect()
        }
        _ => vec![(m.group, m.id.clone())],
    };
    worked.missing.iter().flat_map(one).collect()
}

/// The essential set asks for nothing that the full one doesn't, and for less.
#[test]
fn the_essential_set_is_a_part_of_the_full_one() {
    for spec in demo_specs() {
        let text = std::fs::read_to_string(&spec).expect("spec");
        // As if nothing had been recorded.
        let bare = text.split("\n[recorded.").next().expect("spec");
        let [essential, full] = HandoverSet::ALL else { panic!("two sets") };
        let (small, large) = (missing(&with_set(bare, *essential)), missing(&with_set(bare, *full)));
        let beyond: Vec<_> = small.difference(&large).collect();
        assert!(beyond.is_empty(), "{}: {beyond:?}", stem(&spec));
        assert!(small.len() * 2 < large.len(), "{}: {} of {}", stem(&spec), small.len(), large.len());
        for group in [Group::Holds, Group::Readings, Group::Circuits] {
            assert!(small.iter().any(|(g, _)| *g == group), "{}: {group:?}", stem(&spec));
        }
    }
}

#[test]
fn a_small_van_is_handed_over_with_few_things() {
    let loaded = load(&root().join("specs/weekend.toml"));
    let worked = pipeline::work_out(&loaded).expect("profile");
    let count = handover::count(&worked.missing);
    assert!(count < 30, "{count}");
    let of: BTreeSet<&str> = worked.missing.iter().filter(|m| m.group == Group::Holds).map(|m| m.id.as_str()).collect();
    for m in worked.missing.iter().filter(|m| !m.of.is_empty()) {
        assert!(of.contains(m.of.as_str()), "{} goes with {}, which is not asked for", m.id, m.of);
    }
}

/// Alarms, protection against shock, gas, seats, wheels and brakes, ways out: whatever the set, nothing of them goes.
#[test]
fn what_safety_rests_on_is_essential() {
    const ROLES: [&str; 12] = [
        "co-alarm",
        "smoke-alarm",
        "lp-alarm",
        "rcd",
        "burner",
        "escape-route",
        "evidence",
        "inlet",
        "neutral-bond",
        "tyres",
        "ac-panel",
        "transfer",
    ];
    let library = Library::load(built_in()).expect("kinds");
    let mut seen = BTreeSet::new();
    for (kind, task) in holds(&library) {
        let role = ROLES.iter().find(|role| kind.roles.contains(role));
        let brakes = task.hold.as_deref().is_some_and(|hold| hold.contains("brake"));
        if role.is_none() && kind.system != System::Lpg && !brakes {
            continue;
        }
        seen.extend(role.copied());
        assert!(task.essential, "{}.{} is not essential", kind.id, task.id);
    }
    assert!(seen.len() >= 10, "{seen:?}");
    for kind in library.iter().filter(|k| k.serial.is_some()) {
        let asked = ["co-alarm", "smoke-alarm", "lp-alarm", "burner", "evidence", "bank"];
        if asked.iter().any(|role| kind.roles.contains(role)) && kind.id != "appliance" {
            assert_eq!(kind.serial, Some(HandoverSet::Essential), "{}", kind.id);
        }
    }
    // What is read of them is asked for in the essential set.
    for name in ["carbon monoxide", "trip time", "clear opening", "clear height"] {
        let readings = library.iter().flat_map(|k| k.tasks.iter().map(move |t| (k, t)));
        let of_name = readings.flat_map(|(k, t)| t.readings.iter().map(move |r| (k, t, r)));
        let mut count = 0;
        for (kind, task, reading) in of_name.filter(|(_, _, r)| r.what.to_lowercase().contains(name)) {
            let proves = task.essential
                && task.hold.is_some()
                && match &task.proof {
                    Proof::Own => true,
                    Proof::Inspection => false,
                    Proof::Of(list) => list.contains(&reading.id),
                };
            assert!(reading.essential || proves, "{}.{} is not essential", kind.id, reading.id);
            count += 1;
        }
        assert!(count > 0, "no reading tells of {name}");
    }
}

/// Every circuit's insulation is proved at one that is asked for, in the same network.
#[test]
fn insulation_is_asked_for_once_for_each_panel() {
    for spec in demo_specs() {
        let loaded = load(&spec);
        let worked = pipeline::work_out(&loaded).expect("profile");
        let tests: BTreeMap<&str, _> = worked.readings.circuits.iter().map(|t| (t.circuit.as_str(), t)).collect();
        let asked = |set| tests.values().filter(|t| t.asks_in("insulation", set)).count();
        for test in tests.values() {
            let lead = tests.get(test.proved_at.as_str()).unwrap_or_else(|| panic!("{} at no test", test.circuit));
            assert!(
                lead.asks_in("insulation", HandoverSet::Essential) && lead.network == test.network,
                "{}",
                test.circuit
            );
            assert_eq!(
                test.asks_in("continuity", HandoverSet::Essential),
                test.network == Network::Ac && test.asks("continuity")
            );
        }
        let (small, large) = (asked(HandoverSet::Essential), asked(HandoverSet::Full));
        assert!(small * 2 < large, "{}: {small} of {large}", stem(&spec));
    }
}

/// Who may sign and what is read with may stand in the shop's page.
#[test]
fn people_and_instruments_of_the_shop_count() {
    let page = "[shop]\nname = \"Alder Works\"\n[person.kit]\nname = \"Kit Lark\"\nsigns = \"technician\"\n\
                [instrument.gauge-1]\nnumber = \"7\"\ncalibrated_until = 2027-01-01\n";
    let shop = |page: &str| -> Catalogue {
        let files = [("shop.toml".to_owned(), page.as_bytes().to_vec())];
        built_in().with(Layer::of_shop("my-shop", files.into_iter().collect(), Vec::new()))
    };
    let spec = "spec = 2\n[build]\ntitle = \"T\"\n[place.van]\nabout = \"Van\"\n\
                [component]\nrack = { kind = \"lashing-rail\", place = \"van\" }\n\
                [recorded.readings]\nrack.bolts-marked = \"8\"\n\
                [recorded.taken]\nrack = { by = \"O. P.\", date = 2027-03-04, instruments = [\"gauge-1\"] }\n\
                [recorded.signed]\nrack.fit = { by = \"K. L.\", date = 2027-03-04 }\n";
    let told = |catalogue: &Catalogue, spec: &str| -> Vec<&'static str> {
        let loaded = pipeline::load(catalogue, "test.toml", spec.as_bytes()).expect("kinds");
        let names = ["signer-not-entitled", "calibration-lapsed", "unknown-instrument"];
        let worked = pipeline::work_out(&loaded).expect("profile");
        worked.findings.iter().map(|f| f.name).filter(|name| names.contains(name)).collect()
    };
    assert_eq!(told(&shop(page), spec), ["calibration-lapsed", "signer-not-entitled"]);
    // What the spec says of its own goes before the page.
    let own = "[person.kit]\nname = \"Kit Lark\"\nsigns = \"second-person\"\n\
               [instrument.gauge-1]\nnumber = \"7\"\ncalibrated_until = 2027-03-04\n";
    assert_eq!(told(&shop(page), &format!("{spec}{own}")), [""; 0]);
    assert_eq!(told(&shop("[shop]\nname = \"Alder Works\"\n"), spec), ["unknown-instrument"]);
}

/// What proves a hold point may have been read in other tasks, days before: the lining waits for every dead test, and one
/// that comes later, or is missing, is told at each signature that stands on it.
#[test]
fn what_other_tasks_proved_is_held_against_the_signature_too() {
    let text = std::fs::read_to_string(root().join("specs/heron.toml")).expect("demo");
    let told = |text: &str, name: &str| -> BTreeSet<String> {
        let loaded = read(text);
        let worked = pipeline::work_out(&loaded).expect("profile");
        worked.findings.iter().filter(|f| f.name == name).filter_map(|f| f.subject.clone()).collect()
    };
    let of = |ids: &[&str]| -> BTreeSet<String> { ids.iter().map(|id| (*id).to_owned()).collect() };
    let tested = "electrical-rough-in = { by = \"I. M.\", date = 2027-03-09";
    let late = text.replacen(tested, &tested.replace("03-09", "03-19"), 1);
    assert_ne!(late, text);
    let lined = ["floor-system.subfloor", "wall-panels.fit", "headliner.fit"];
    let found = told(&late, "signed-before-proof");
    assert!(of(&lined).is_subset(&found) && !found.contains("main-fuse.check"), "{found:?}");
    // The last day counts.
    let same = text.replacen(tested, &tested.replace("03-09", "03-18"), 1);
    assert!(of(&lined).is_disjoint(&told(&same, "signed-before-proof")));
    // A pressure test that nobody recorded.
    let fall = text.lines().find(|l| l.starts_with("cold-galley.pressure-fall")).expect("reading");
    let found = told(&text.replacen(&format!("{fall}\n"), "", 1), "signed-without-proof");
    assert_eq!(found, of(&[lined[0], lined[1], lined[2], "cold-galley.pressure"]));
    // One that failed; accepted with its reason it counts as good.
    let bad = text.replacen(fall, "cold-galley.pressure-fall = \"9 psi\"", 1);
    assert_eq!(told(&bad, "signed-without-proof"), found);
    let accepted = format!(
        "{bad}\n[[accepted]]\nfinding = \"reading-out-of-tolerance\"\nabout = \"cold-galley\"\nreason = \"Gauge.\"\nby = \"J. P.\"\n"
    );
    assert_eq!(told(&accepted, "signed-without-proof"), of(&[]));
}

/// A coating that cures for a week and is sprayed on the 17th is hard on the 24th: nothing is sealed into it before. By the
/// calendar, by hand.
#[test]
fn what_cures_is_signed_for_after_it_has_cured() {
    let text = std::fs::read_to_string(root().join("specs/heron.toml")).expect("demo");
    let told = |text: &str| -> Vec<String> {
        let loaded = read(text);
        let worked = pipeline::work_out(&loaded).expect("profile");
        let of = worked.findings.iter().filter(|f| f.name == "signed-before-prerequisite");
        of.map(|f| f.headline.clone()).collect()
    };
    assert!(told(&text).is_empty(), "{:?}", told(&text));
    let sprayed = text.lines().find(|l| l.starts_with("coating.spray ")).expect("signed");
    let late = text.replacen(sprayed, "coating.spray = { by = \"D. W.\", date = 2027-02-17 }", 1);
    let found = told(&late);
    let window =
        "`entry-window.fit` is signed on 2027-02-23, before `coating.spray` (2027-02-17) has cured, on 2027-02-24";
    assert!(found.iter().any(|f| f == window), "{found:?}");
}

/// Who drew it answers for the drawing, and is no second person; a second person answers for no drawing.
#[test]
fn who_designs_is_no_second_person() {
    let text = std::fs::read_to_string(root().join("specs/heron.toml")).expect("demo");
    let signed = |id: &str, by: &str| {
        let line = text.lines().find(|l| l.starts_with(&format!("{id} "))).expect("signed");
        let day = line.split("date").nth(1).expect("a day");
        let loaded = read(&text.replacen(line, &format!("{id} = {{ by = \"{by}\", date{day}"), 1));
        let worked = pipeline::work_out(&loaded).expect("profile");
        let told = worked.findings.iter().filter(|f| f.name == "signer-not-entitled");
        told.filter_map(|f| f.subject.clone()).collect::<Vec<_>>()
    };
    assert_eq!(signed("exit-rear.confirm", "R. A."), [""; 0]);
    assert_eq!(signed("exit-rear.confirm", "D. W."), ["exit-rear.confirm"]);
    assert_eq!(signed("rear-bed.fit", "R. A."), ["rear-bed.fit"]);
}
