//! A van that others fitted out before: what comes out, what new work is joined to, what is wrong with the old.

use crate::harness::{house, refit_sheets, refit_worked, root, spec_syntax};
use rigbinder::compute::handover::Group;
use rigbinder::compute::weight::cases::CaseId;
use rigbinder::diag::{Finding, Severity};
use rigbinder::kinds::{Signer, Stage, TaskTemplate};
use rigbinder::pipeline::{self, Loaded, Only, Worked};
use std::collections::BTreeSet;

fn load(text: &str) -> Loaded {
    pipeline::load(house(), "refit.toml", text.as_bytes()).expect("kinds")
}

fn spec() -> String {
    std::fs::read_to_string(root().join("specs/refit.toml")).expect("spec")
}

/// The demo spec with a piece of it written otherwise.
fn with(was: &str, is: &str) -> Loaded {
    let text = spec();
    assert!(text.contains(was), "the spec does not say: {was}");
    load(&text.replacen(was, is, 1))
}

fn sheet(stem: &str) -> &'static str {
    let sheet = refit_sheets().iter().find(|s| s.stem == stem);
    sheet.map_or_else(|| panic!("no {stem}"), |s| s.markdown.as_str())
}

fn of_name<'w>(worked: &'w Worked<'_>, name: &str) -> Vec<&'w Finding> {
    worked.findings.iter().filter(|f| f.name == name).collect()
}

/// A van from which one of everything comes out.
const OUT: &str = r#"
spec = 2
build = { title = "Van", job = "refit", rules = "eu" }
place.bench = { about = "Bench" }
[component]
van     = { kind = "vehicle-prep", place = "bench" }
bank    = { kind = "battery-bank", scope = "removed", capacity = "100 Ah", place = "bench" }
array   = { kind = "solar-array", scope = "removed", power = "100 W", voc = "22 V", isc = "6 A", vmp = "18 V", imp = "5.5 A", place = "bench" }
fan     = { kind = "roof-fan", scope = "removed", place = "bench" }
outlet  = { kind = "ac-outlet", scope = "removed", place = "bench" }
invert  = { kind = "inverter", scope = "removed", power = "600 W", place = "bench" }
heater  = { kind = "air-heater", scope = "removed", fuel = "diesel", place = "bench" }
hob     = { kind = "cooktop-lpg", scope = "removed", place = "bench" }
line    = { kind = "lpg-line", scope = "removed", place = "bench" }
boiler  = { kind = "water-heater-fuel", scope = "removed", fuel = "lpg", place = "bench" }
tank    = { kind = "fresh-tank", scope = "removed", capacity = "60 L", place = "bench" }
grey    = { kind = "grey-tank", scope = "removed", capacity = "60 L", place = "bench" }
fridge  = { kind = "fridge", scope = "removed", place = "bench" }
air     = { kind = "air-compressor", scope = "removed", place = "bench" }
cabinet = { kind = "cabinet", scope = "removed", place = "bench" }
metal   = { kind = "metalwork", scope = "removed", place = "bench" }
"#;

/// Isolate, prove dead, cap and label, drain, dispose: common practice of work on what others built, no source.
#[test]
fn each_part_comes_out_by_what_it_is() {
    let loaded = load(OUT);
    let worked = pipeline::work_out(&loaded).expect("profile");
    let build = &worked.build;
    let own = |part: &str| -> Vec<&str> {
        let tasks = build.tasks.values().filter(|t| t.part.as_deref() == Some(part));
        tasks.map(|t| t.id.split_once('.').expect("of a part").1).collect()
    };
    for (part, tasks) in [
        ("bank", &["disconnect", "take-out", "hand-in-battery"][..]),
        ("array", &["cover", "take-out", "hand-on"]),
        ("fan", &["prove-dead", "take-out", "hand-on"]),
        ("outlet", &["prove-dead-ac", "take-out", "hand-on"]),
        ("invert", &["prove-dead", "prove-dead-ac", "take-out", "hand-on"]),
        ("heater", &["prove-dead", "drain-fuel", "take-out", "hand-on"]),
        ("hob", &["cut-off-gas", "take-out", "hand-on"]),
        ("line", &["cut-off-gas", "take-out", "hand-on"]),
        ("boiler", &["prove-dead", "cut-off-gas", "drain", "take-out", "hand-on"]),
        ("tank", &["drain", "take-out", "hand-on"]),
        ("grey", &["drain-waste", "take-out", "hand-on"]),
        ("fridge", &["prove-dead", "take-out", "hand-in-cold"]),
        ("air", &["prove-dead", "let-air-out", "take-out", "hand-on"]),
        ("cabinet", &["take-out", "hand-on"]),
        // Work on the vehicle is no thing that could come out.
        ("metal", &[]),
    ] {
        assert_eq!(own(part), tasks, "{part}");
    }
    let order = worked.schedule.as_ref().expect("an order").order.iter().map(|s| s.id.as_str()).collect::<Vec<_>>();
    let at = |id: &str| order.iter().position(|o| *o == id).unwrap_or_else(|| panic!("{id} is in no order"));
    for task in build.tasks.values().filter(|t| t.part.as_deref().is_some_and(|p| build.removed.contains_key(p))) {
        let (part, own) = task.id.split_once('.').expect("of a part");
        let template = task.template.expect("of the register");
        for first in ["van.photograph", "van.weigh-in", "van.inspect"] {
            assert!(at(first) < at(&task.id), "{} before {first}", task.id);
        }
        if template.brings("isolated") || template.brings("emptied") {
            assert!(!template.cautions.is_empty(), "{own} warns of nothing");
            assert!(at(&task.id) < at(&format!("{part}.take-out")), "{} after it is out", task.id);
        }
        if own.starts_with("hand-") {
            assert!(at(&format!("{part}.take-out")) < at(&task.id), "{} before it is out", task.id);
        }
    }
    // Who may work on mains and gas signs for it.
    let signs = |id: &str| build.tasks[id].template.and_then(TaskTemplate::other_signer).map(Signer::id);
    assert_eq!(signs("outlet.prove-dead-ac"), Some("licensed-electrician"));
    assert_eq!(signs("hob.cut-off-gas"), Some("licensed-gas"));
    // What stays bears the ends: their readings are asked for.
    let asked: BTreeSet<&str> = worked.readings.tests.iter().map(|t| t.id.as_str()).collect();
    assert!(asked.contains("bank.open-ends") && asked.contains("fan.volts-dead") && asked.contains("tank.drips"));
}

/// By the law of the lever (statics of a beam on two supports), by hand: a mass at x of a wheelbase L loads the rear axle
/// with m · x/L.
#[test]
fn what_comes_out_leaves_the_axles() {
    let axles = |weighed: &str| {
        let text = format!(
            "spec = 2\nbuild = {{ title = \"Van\", job = \"refit\" }}\n\
             vehicle = {{ wheelbase = \"3 m\", front_axle_empty = \"1200 kg\", rear_axle_empty = \"800 kg\", weighed_as = \"{weighed}\" }}\n\
             [place]\nfront = {{ at = [\"0 m\", \"0 m\", \"0 m\"] }}\nmiddle = {{ at = [\"1.5 m\", \"0 m\", \"0 m\"] }}\nrear = {{ at = [\"3 m\", \"0 m\", \"0 m\"] }}\n\
             [component]\nstays = {{ kind = \"cabinet\", scope = \"existing\", mass = \"60 kg\", place = \"middle\" }}\n\
             unknown = {{ kind = \"cabinet\", scope = \"existing\", place = \"middle\" }}\n\
             out = {{ kind = \"cabinet\", scope = \"removed\", mass = \"30 kg\", place = \"rear\" }}\n\
             new = {{ kind = \"cabinet\", mass = \"20 kg\", place = \"front\" }}\n"
        );
        let loaded = load(&text);
        let worked = pipeline::work_out(&loaded).expect("profile");
        let built = worked.weight.case(CaseId::AsBuilt).expect("a case").axles;
        let missing = worked.weight.items.missing.clone();
        ((built.front.0 * 10.0).round() / 10.0, (built.rear.0 * 10.0).round() / 10.0, missing.join(","))
    };
    // The cabinet that stays rests on both axles alike; what comes out stood over the rear axle, the new one stands over
    // the front one. Where it was on the scales, nobody asks for the mass of what stays.
    assert_eq!(axles("bare"), (1250.0, 830.0, "unknown".to_owned()));
    assert_eq!(axles("stripped"), (1220.0, 800.0, String::new()));
    assert_eq!(axles("as-it-came"), (1220.0, 770.0, String::new()));
    let packet = sheet("packet-01-intake");
    let scales = packet.split("## Old and new on the scales").nth(1).expect("what is weighed");
    let scales = scales.split("\n## ").next().expect("a section");
    assert!(scales.contains("comes out: Old AGM bank") && scales.contains("stays: "), "{scales}");
    let finished = sheet("packet-11-commissioning").split("## Old and new on the scales").nth(1).expect("the weighing");
    assert!(finished.split("\n## ").next().expect("a section").contains("Not aboard: Old AGM bank"));
}

#[test]
fn joints_of_new_and_old_are_listed_and_tested() {
    let worked = refit_worked();
    let build = &worked.build;
    let section = sheet("packet-08-electrical-fit-off").split("## Joints of new and old").nth(1).expect("joints");
    let section = section.split("\n## ").next().expect("a section");
    let mut joints = 0;
    for conductor in build.wiring.conductors.values().filter(|c| build.joint(c).is_some()) {
        let label = conductor.circuit.as_ref().unwrap_or(&conductor.id);
        assert!(section.contains(&format!("| `{label}` {}", conductor.local)), "{} is in no row", conductor.id);
        joints += 1;
    }
    assert!(joints >= 5, "{joints}");
    // The old panel hangs on the new busbar: its cable stays, its end there is new, and it is tested.
    let tested = |id: &str| worked.readings.circuits.iter().any(|t| t.circuit == id);
    assert!(tested("panel") && tested("galley-lamp") && !tested("pump") && !tested("ceiling-lights"));
    assert!(!build.is_worked_on(&build.circuits["panel"]) && build.is_joined(&build.circuits["panel"]));
    let asked = |id: &str| worked.missing.iter().any(|m| m.group == Group::Circuits && m.id == id);
    assert!(!asked("pump"));
    let labels = pipeline::data(worked).expect("data");
    let labels = labels.iter().find(|f| f.name.ends_with("wire-labels.csv")).expect("labels");
    assert!(!String::from_utf8_lossy(&labels.bytes).contains("pump"), "nobody pulls the pump's cable");
}

#[test]
fn what_nobody_has_looked_at_is_listed_to_survey() {
    let section = sheet("packet-01-intake").split("## To survey").nth(1).expect("a list");
    let section = section.split("\n## ").next().expect("a section");
    let longer = "| length | 3.75 m, the worse side of 3.0 m |";
    for row in
        ["| USB outlet | Locker above the galley | conductor |", "a defect if thinner", "second protection", longer]
    {
        assert!(section.contains(row), "{row}: {section}");
    }
    assert!(!section.contains("Exterior light"), "its cable was read");
}

/// What is a guess counts at its worse side: common practice, no source.
#[test]
fn a_guess_is_reckoned_with_at_its_worse_side_and_told_as_one() {
    let known = |field: &str| format!("known      = {{ {field} = \"assumed\" }}\nfittings   = 4");
    let of_lights = |was: &str, is: &str, field: &str| {
        let text = spec().replacen("fittings   = 4", &known(field), 1);
        assert!(text.contains(was), "{was}");
        let loaded = load(&text.replacen(was, is, 1));
        let worked = pipeline::work_out(&loaded).expect("profile");
        let figures = &worked.electrical.circuits["ceiling-lights"];
        let size = figures.conductor().map(|sized| sized.size.to_string());
        let found = worked.findings.iter().filter(|f| f.subject.as_deref() == Some("ceiling-lights"));
        let found: Vec<String> = found.map(|f| format!("{}: {}", f.name, f.basis.join("; "))).collect();
        (size, figures.device.rating.map(|r| r.0), worked.build.circuits["ceiling-lights"].run.map(|r| r.0), found)
    };
    let (size, rating, run, found) = of_lights("2.5 mm2", "2.5 mm2", "conductor");
    assert_eq!((size.as_deref(), rating, run), (Some("1.5 mm²"), Some(10.0), Some(3.0)), "one size thinner");
    assert!(found.is_empty(), "{found:?}");
    let (_, rating, ..) = of_lights("2.5 mm2", "2.5 mm2", "protection");
    assert_eq!(rating, Some(15.0), "the next blade fuse above 10 A (ISO 8820-3)");
    let (.., run, _) = of_lights("2.5 mm2", "2.5 mm2", "run");
    assert_eq!(run, Some(3.75), "a quarter longer");
    // 20 A would do for 1.5 mm², 25 A does not: a defect, and it says that nobody has looked.
    let thin = "conductor  = \"1.5 mm2\"\nprotection = \"20 A\"\nknown";
    let (.., found) = of_lights("conductor  = \"2.5 mm2\"\nprotection = \"10 A\"\nknown", thin, "protection");
    assert!(found.iter().any(|f| f.contains("fuse-above-conductor") && f.contains("assumed, to survey")), "{found:?}");
}

#[test]
fn an_old_fuse_that_tells_its_rating_is_no_guess() {
    let more = "[component.old-fuse]\nkind = \"main-fuse\"\nscope = \"existing\"\nrating = \"60 A\"\nfed_from = \"busbar\"\n\
                run = \"0.3 m\"\nconductor = \"16 mm2\"\nknown = { rating = \"read\" }\nplace = \"board\"\n\n[component.starter]";
    let loaded = with("[component.starter]", more);
    let worked = pipeline::work_out(&loaded).expect("profile");
    let circuit = &worked.build.circuits["old-fuse"];
    assert_eq!(worked.build.known(circuit, "protection"), Some("read"));
    assert!(!worked.build.is_assumed(circuit, "protection"));
    assert_eq!(worked.electrical.circuits["old-fuse"].device.rating.map(|r| r.0), Some(60.0));
    // One that is a guess is: its cable is held against the next rating (JASO D 622 and makers, from memory: 60 A, 70 A).
    let loaded = with("[component.starter]", &more.replace("rating = \"read\"", "rating = \"assumed\""));
    let worked = pipeline::work_out(&loaded).expect("profile");
    let rating = worked.electrical.circuits["old-fuse"].device.rating.expect("a rating").0;
    assert!(rating > 60.0 && rating <= 80.0, "{rating}");
}

#[test]
fn a_defect_of_existing_work_is_told_and_signed_and_stops_nothing() {
    let worked = refit_worked();
    assert_eq!((worked.counts().0, worked.as_found()), (0, 1));
    let defect = worked.findings.iter().find(|f| f.severity == Severity::AsFound).expect("a defect");
    assert_eq!((defect.name, defect.subject.as_deref()), ("fuse-above-conductor", Some("awning-light")));
    for stem in ["packet-01-intake", "handover-binder"] {
        let section = sheet(stem).split("{#as-found}").nth(1).unwrap_or_else(|| panic!("{stem} tells of none"));
        assert!(section.contains(&defect.headline) && section.contains("T. Averley, 2027-05-03"), "{stem}");
    }
    let asks = |w: &Worked<'_>| w.missing.iter().any(|m| m.group == Group::AsFound);
    assert!(!asks(worked));
    let unsigned = with("as-found = { by = \"T. Averley\", date = 2027-05-03 }", "");
    let unsigned = pipeline::work_out(&unsigned).expect("profile");
    assert!(asks(&unsigned), "nobody signed");
    let line =
        pipeline::sheets(&unsigned, &Only { stages: vec![Stage::Intake], ..Only::default() }).expect("documents");
    assert!(line[0].markdown.contains("Owner: ____"), "no line to sign on");
}

#[test]
fn the_owner_is_told_of_a_defect_what_may_happen_and_what_to_do() {
    let manual = sheet("owners-manual");
    let table = manual.split("{#defects}").nth(1).expect("defects").split("\n## ").next().expect("a section");
    assert!(table.contains("[Exterior light]") && table.contains("burns before the fuse"), "{table}");
    assert!(table.contains("Take its fuse out") && !table.contains("awning-light:"), "{table}");
    assert_eq!(spec_syntax(refit_sheets()), Vec::<String>::new());
    // Nowhere is the owner told to fit a fuse that is too large, nor to keep one.
    let lines: Vec<&str> = manual.lines().filter(|l| l.contains("30 A blade fuse")).collect();
    assert!(lines.len() >= 3, "{lines:?}");
    for line in lines {
        assert!(
            line.contains("too large for its cable") || line.contains("Too large") || table.contains(line),
            "{line}"
        );
    }
}

#[test]
fn a_finding_names_the_new_part_that_makes_it_an_error_again() {
    // The old panel's cable is too thin for its fuse, and the lamp over the galley gets a new feed from it.
    let loaded = with("conductor             = \"16 mm2\"", "conductor             = \"6 mm2\"");
    let worked = pipeline::work_out(&loaded).expect("profile");
    let found = of_name(&worked, "fuse-above-conductor");
    let panel = found.iter().find(|f| f.subject.as_deref() == Some("panel")).expect("told");
    assert_eq!(panel.severity, Severity::Error);
    assert!(panel.help.iter().any(|help| help.contains("galley-lamp rests on it")), "{:?}", panel.help);
}

#[test]
fn what_comes_out_is_told_once_for_all_that_names_it() {
    let loaded = with(
        "kind                  = \"fuse-panel\"\nscope                 = \"existing\"",
        "kind                  = \"fuse-panel\"\nscope                 = \"removed\"",
    );
    let worked = pipeline::work_out(&loaded).expect("profile");
    let found = of_name(&worked, "names-removed");
    assert_eq!(found.len(), 1, "{found:#?}");
    assert!(["galley-lamp", "pump", "lp-alarm"].iter().all(|id| found[0].headline.contains(id)), "{found:#?}");
}

#[test]
fn what_is_told_of_a_second_supply_counts() {
    let loaded = with(
        "second_run    = \"2.2 m\"\nknown         = { second_run = \"assumed\", second_conductor = \"assumed\", second_protection = \"assumed\" }",
        "second_run    = \"2.2 m\"\nsecond_conductor = \"1.5 mm2\"\nsecond_protection = \"32 A\"",
    );
    let worked = pipeline::work_out(&loaded).expect("profile");
    let found = of_name(&worked, "breaker-above-small-conductor");
    let more = of_name(&worked, "fuse-above-conductor");
    let fridge = found.iter().chain(&more).any(|f| f.subject.as_deref() == Some("fridge"));
    assert!(fridge, "32 A on 1.5 mm²: {:#?}", worked.findings.iter().map(|f| &f.headline).collect::<Vec<_>>());
}

#[test]
fn a_signature_is_older_than_a_defect_that_is_found_later() {
    let before = pipeline::whole_snapshot(refit_worked()).expect("snapshot");
    let found = |was: &str, is: &str| {
        let loaded = with(was, is);
        let worked = pipeline::work_out_after(&loaded, Some(&before)).expect("profile");
        let about = |f: &&Finding| f.subject.as_deref() == Some("as-found");
        let stale = of_name(&worked, "recorded-before-change");
        stale.iter().copied().filter(about).map(|f| f.headline.clone()).collect::<Vec<_>>()
    };
    assert!(found("flow          = \"10 L/min\"", "flow          = \"9 L/min\"").is_empty(), "nothing was found");
    let pump = "conductor     = \"4 mm2\"\nprotection    = \"15 A\"";
    let thin = "conductor     = \"1.5 mm2\"\nprotection    = \"30 A\"";
    let told = found(pump, thin);
    assert!(told.len() == 1 && told[0].contains("pump: a 30 A"), "{told:?}");
}

#[test]
fn nobody_accepts_a_defect_of_existing_work() {
    let entry = "\n[[accepted]]\nfinding = \"fuse-above-conductor\"\nabout = \"awning-light\"\nreason = \"it was so\"\nby = \"E. O.\"\n";
    let loaded = load(&format!("{}{entry}", spec()));
    let worked = pipeline::work_out(&loaded).expect("profile");
    assert_eq!(of_name(&worked, "accepted-error").len(), 1);
    assert!(worked.findings.iter().all(|f| f.accepted.is_none()));
}

#[test]
fn new_work_on_a_defect_makes_it_an_error_again() {
    // Fed from a new busbar, worked on itself, with a new lamp behind it, or carrying something new.
    let lamp = "draw       = \"8 W\"\nplace      = \"entry\"";
    for (was, is) in [
        (
            "scope      = \"existing\"\nfed_from   = \"panel\"\nrun        = \"3.2 m\"",
            "scope      = \"existing\"\nfed_from   = \"busbar\"\nrun        = \"3.2 m\"",
        ),
        (
            "kind                  = \"fuse-panel\"\nscope                 = \"existing\"",
            "kind                  = \"fuse-panel\"\nscope                 = \"altered\"",
        ),
        (
            "kind       = \"exterior-light\"\nscope      = \"existing\"",
            "kind       = \"exterior-light\"\nscope      = \"altered\"",
        ),
        (
            lamp,
            "draw       = \"8 W\"\nplace      = \"entry\"\n\n[component.hook]\nkind = \"camera\"\non   = \"awning-light\"\nplace = \"entry\"",
        ),
    ] {
        let loaded = with(was, is);
        let worked = pipeline::work_out(&loaded).expect("profile");
        let found = of_name(&worked, "fuse-above-conductor");
        let awning: Vec<_> = found.iter().filter(|f| f.subject.as_deref() == Some("awning-light")).collect();
        assert!(awning.iter().any(|f| f.severity == Severity::Error), "{is}: {awning:?}");
    }
}

/// A new lithium bank drives more through a short than old fuses can break: that is no defect of the old work.
#[test]
fn what_the_new_bank_does_to_old_fuses_is_an_error() {
    let weak = with(
        "way_interrupting      = \"3000 A\"\nway_tested_with       = \"panel\"",
        "way_interrupting      = \"500 A\"",
    );
    let worked = pipeline::work_out(&weak).expect("profile");
    let found = of_name(&worked, "interrupting-below-fault");
    let unproven = of_name(&worked, "interrupting-unproven");
    assert!(!found.is_empty() || !unproven.is_empty(), "the old panel breaks whatever comes");
    assert!(found.iter().all(|f| f.severity != Severity::AsFound), "{found:?}");
}

#[test]
fn better_knowledge_is_no_work_in_a_notice() {
    let text = spec();
    let notice = |old: &str, new: &str| {
        let (old, new) = (load(old), load(new));
        let before = pipeline::work_out(&old).expect("profile");
        let before = pipeline::whole_snapshot(&before).expect("snapshot");
        let worked = pipeline::work_out_after(&new, Some(&before)).expect("profile");
        let after = pipeline::whole_snapshot(&worked).expect("snapshot");
        pipeline::change_notice(&worked, &before, &after).expect("notice").0.markdown
    };
    let lamps = "run        = \"3.0 m\"\nconductor  = \"2.5 mm2\"";
    let known = text.replacen(lamps, "run        = \"4.0 m\"\nconductor  = \"4 mm2\"", 1);
    assert_ne!(known, text);
    let told = notice(&text, &known);
    assert!(told.contains("4 mm²"), "what is known now is told: {told}");
    assert!(
        !told.contains("pull again") && !told.contains("## Wires") && !told.contains("Ends and protection"),
        "{told}"
    );
    // The same of what this job fits is work.
    let lamp =
        text.replacen("run      = \"2.4 m\"\ndraw     = \"10 W\"", "run      = \"6.4 m\"\ndraw     = \"10 W\"", 1);
    assert_ne!(lamp, text);
    assert!(notice(&text, &lamp).contains("pull again"));
}

/// What hangs on the inverter alone is measured on the inverter: no cable brings it shore power.
#[test]
fn no_test_asks_for_a_source_that_does_not_reach_the_part() {
    let packet = sheet("packet-11-commissioning");
    assert!(packet.contains("On Inverter: measure its trip time"), "the residual-current device is measured");
    for what in ["measure its trip time", "measure that it holds", "check polarity"] {
        assert!(!packet.contains(&format!("On shore power: {what}")), "no shore power reaches what is new");
    }
}
