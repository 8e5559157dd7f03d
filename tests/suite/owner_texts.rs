//! The manual speaks of what this van has: no word of a thing that is not aboard, each text about its own part, and a
//! procedure for what would strand its owner.

use crate::harness::{demo_specs, load, root};
use rigbinder::build::{Build, Part};
use rigbinder::kinds::{PlumbingRole, Role};
use rigbinder::pipeline::{self, Loaded};

fn plumbing(part: &Part<'_>, role: PlumbingRole) -> bool {
    part.kind.plumbing.as_ref().is_some_and(|p| p.role == role)
}

fn played(part: &Part<'_>, role: Role) -> bool {
    part.role() == Some(role)
}

/// Whether a part is what a word means.
type Is = fn(&Part<'_>) -> bool;

/// Words of the manual, and the part that must be aboard for them.
const WORDS: &[(&str, Is)] = &[
    ("shore power", |p| played(p, Role::Inlet)),
    ("shore hose", |p| plumbing(p, PlumbingRole::CityInlet)),
    ("inverter", |p| played(p, Role::Inverter) || played(p, Role::InverterCharger)),
    ("shunt", |p| played(p, Role::Shunt)),
    ("the monitor", |p| played(p, Role::Shunt)),
    ("residual-current device", |p| played(p, Role::Rcd)),
    ("solar isolator", |p| played(p, Role::Disconnect) && p.kind.id == "pv-isolator"),
    ("dc-dc charger", |p| p.kind.id == "dc-dc-charger"),
    ("grey tank", |p| plumbing(p, PlumbingRole::GreyTank)),
    ("roof fan", |p| p.kind.id == "roof-fan"),
    ("roof vent", |p| p.kind.id == "roof-fan"),
    ("shower", |p| p.kind.id.contains("shower")),
    ("motorised valve", |p| plumbing(p, PlumbingRole::MotorValve)),
    ("manual valve", |p| plumbing(p, PlumbingRole::HandValve)),
    ("the gas cylinder", |p| p.kind.id == "lpg-locker"),
    ("the by-pass", |p| plumbing(p, PlumbingRole::Heater)),
];

/// Lines of the manual that speak of what is not aboard. What the spec itself says does not count.
fn strangers(build: &Build<'_>, spec: &str, manual: &str) -> Vec<String> {
    let spec = spec.to_lowercase();
    let absent = WORDS.iter().filter(|(word, is)| !build.parts.values().any(is) && !spec.contains(word));
    // The meaning of a word may tell of other things; a word is there only where the manual uses it.
    let manual = manual.split("{#glossary}").next().unwrap_or_default();
    let mut found = Vec::new();
    for (word, _) in absent {
        // What else people call a thing is for the search alone.
        let lines = manual.lines().filter(|l| l.to_lowercase().contains(word) && !l.starts_with("<!-- also: "));
        found.extend(lines.map(|l| format!("{word}: {l}")));
    }
    found
}

fn manual_of(loaded: &Loaded) -> String {
    let worked = pipeline::work_out(loaded).expect("profile");
    let only = pipeline::Only { documents: vec!["manual".to_owned()], stages: Vec::new() };
    pipeline::sheets(&worked, &only).expect("documents").remove(0).markdown
}

#[test]
fn the_manual_speaks_of_nothing_that_is_not_aboard() {
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        let text = std::fs::read_to_string(&path).expect("spec");
        let strangers = strangers(&worked.build, &text, &manual_of(&loaded));
        assert!(strangers.is_empty(), "{}:\n{}", path.display(), strangers.join("\n"));
    }
}

/// Kinds that are nothing without another part: a build that lacks it is incomplete, and they speak of it.
const BELONG: &[(&str, &str)] = &[
    ("inverter-charger", "shore power"),
    ("shore-charger", "shore power"),
    ("transfer-switch", "shore power"),
    ("neutral-earth-bond", "shore power"),
    ("neutral-earth-bond", "inverter"),
    ("neutral-earth-bond", "residual-current device"),
    ("lp-alarm", "the gas cylinder"),
];

/// Each kind alone in the small van, so that nothing else brings the words that its texts use.
#[test]
fn no_kind_alone_speaks_of_what_is_not_aboard() {
    let small = std::fs::read_to_string(root().join("specs/weekend.toml")).expect("spec");
    let (mut told, mut all) = (0, Vec::new());
    for kind in rigbinder::kinds::Library::ids(crate::harness::house()) {
        let fed = match rigbinder::kinds::Library::load_where(crate::harness::house(), |id| id == kind)
            .expect("kind")
            .get(&kind)
            .and_then(|k| k.electric)
        {
            Some(e)
                if matches!(e.role, Role::Load | Role::Display | Role::Panel | Role::SwitchPanel | Role::Control) =>
            {
                "fed_from = \"panel\"\nrun = \"1 m\"\n"
            }
            _ => "",
        };
        let more = format!("[component.alone]\nkind = \"{kind}\"\nname = \"Thing\"\nplace = \"bench\"\n{fed}");
        let text = format!("{small}\n{more}");
        let loaded = pipeline::load(crate::harness::house(), "test.toml", text.as_bytes()).expect("kinds");
        let worked = pipeline::work_out(&loaded).expect("profile");
        if !worked.build.parts.contains_key("alone") {
            continue;
        }
        let only = pipeline::Only { documents: vec!["manual".to_owned()], stages: Vec::new() };
        let Ok(sheets) = pipeline::sheets(&worked, &only) else { continue };
        told += 1;
        let strangers = strangers(&worked.build, &text, &sheets[0].markdown);
        let belongs = |s: &String| BELONG.iter().any(|(k, word)| *k == kind && s.starts_with(&format!("{word}: ")));
        all.extend(strangers.into_iter().filter(|s| !belongs(s)).map(|s| format!("{kind}: {s}")));
    }
    assert!(all.is_empty(), "{}", all.join("\n"));
    assert!(told > 80, "only {told} kinds told");
}

/// One is no several.
#[test]
fn one_is_not_told_as_several() {
    for path in demo_specs() {
        let manual = manual_of(&load(&path)).replace('\u{a0}', " ");
        for wrong in [
            " 1 bikes",
            " 1 boats",
            " 1 burners",
            " 1 people",
            " 1 modules",
            " 1 solar modules",
            " 1 lashing points",
            " 1 animals",
        ] {
            assert!(!manual.contains(wrong), "{}:{wrong}", path.display());
        }
    }
}

/// The section of a heading, without those that follow.
fn section(manual: &str, id: &str) -> String {
    let Some((_, rest)) = manual.split_once(&format!("{{#{id}}}")) else { return String::new() };
    rest.split("\n### ").next().unwrap_or_default().replace('\u{a0}', " ")
}

/// A bank that is empty together with the starter battery, and one that is too cold: each with its procedure, cautions
/// first, and with this van's own chargers.
#[test]
fn both_batteries_empty_and_a_cold_bank_have_a_procedure() {
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        let manual = manual_of(&loaded);
        let empty = section(&manual, "if-both-empty");
        let (caution, step) = (empty.find("[!WARNING]"), empty.find("\n1. "));
        assert!(caution.is_some() && step.is_some() && caution < step, "{}: {empty}", path.display());
        assert!(empty.contains("Never join"), "{}", path.display());
        let named = |role: Role| worked.build.parts.values().filter(move |p| p.role() == Some(role));
        for charger in named(Role::Charger).filter(|p| ["dc-dc-charger", "shore-charger"].contains(&p.kind.id.as_str()))
        {
            assert!(empty.contains(charger.name.as_str()), "{}: {} in {empty}", path.display(), charger.name);
            let current =
                charger.record.quantity("output_current", rigbinder::units::Dimension::Current).expect("current");
            assert!(empty.contains(&current.said(worked.build.prints())), "{}: {}", path.display(), charger.name);
        }
        assert_eq!(empty.contains("plug in at"), named(Role::Inlet).next().is_some(), "{}", path.display());
        let cold = section(&manual, "if-bank-cold");
        let lithium = named(Role::Bank).any(|b| b.record.text("chemistry") != Some("agm"));
        assert_eq!(!cold.is_empty(), lithium, "{}", path.display());
        if !lithium {
            continue;
        }
        let (caution, step) = (cold.find("[!WARNING]"), cold.find("\n1. "));
        assert!(caution.is_some() && caution < step, "{}: {cold}", path.display());
        for pad in worked.build.parts.values().filter(|p| p.kind.id == "bank-heater") {
            assert!(cold.contains(&format!("The bank feeds {}", pad.name)), "{}: {cold}", path.display());
        }
        for heater in worked.build.parts.values().filter(|p| p.kind.id == "air-heater") {
            let least = 11.5 * worked.build.dc_network_of(&heater.id).twelves();
            let least = format!("{} V", rigbinder::units::number(least));
            assert!(cold.contains(&heater.name) && cold.contains(&least), "{}: {cold}", path.display());
        }
    }
}

/// A hand valve is said to stand in for the motorised one on its own outlet, and for no other.
#[test]
fn a_hand_valve_stands_in_for_its_own_motor_valve_alone() {
    let small = std::fs::read_to_string(root().join("specs/weekend.toml")).expect("spec");
    let valves = r#"
[component.motor]
kind = "dump-valve"
name = "Grey motor"
tank = "grey"
fed_from = "panel"
run = "1 m"
place = "galley"
[component.beside]
kind = "manual-valve"
name = "Grey hand valve"
bypass_of = "motor"
place = "galley"
[component.other]
kind = "manual-valve"
name = "Fresh hand valve"
tank = "water"
place = "galley"
"#;
    let loaded =
        pipeline::load(crate::harness::house(), "test.toml", format!("{small}\n{valves}").as_bytes()).expect("kinds");
    let manual = manual_of(&loaded);
    assert_eq!(manual.matches("Use it when Grey motor does not work").count(), 1, "one valve stands in for it");
    assert!(
        manual.contains("Grey hand valve does the same by hand") && !manual.contains("Fresh hand valve does the same")
    );
}
