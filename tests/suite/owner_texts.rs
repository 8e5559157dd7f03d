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
        let lines = manual.lines().filter(|l| l.to_lowercase().contains(word));
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

/// What must be shut, tied or cold before one drives is on the list that one goes through before one drives.
#[test]
fn what_must_not_be_driven_with_is_on_the_list_of_driving_off() {
    const ONLY: [&str; 5] = ["never drive with", "drive only with", "do not drive with", "never travel with", "drives open"];
    const LISTED: [&str; 4] = ["before you drive", "before driving", "before you push", "to leave"];
    let library = rigbinder::kinds::Library::load(crate::harness::house()).expect("kinds");
    let mut found = 0;
    for kind in library.iter() {
        let owner = &kind.owner;
        let warned = owner.cautions.iter().flat_map(|c| [&c.hazard, &c.avoid]).chain(&owner.limits).chain(&owner.usage);
        let told = warned.map(|text| text.to_lowercase()).find(|text| ONLY.iter().any(|words| text.contains(words)));
        let Some(told) = told else { continue };
        found += 1;
        let mut listed = owner.usage.iter().chain(&owner.limits).map(|text| text.to_lowercase());
        assert!(listed.any(|text| LISTED.iter().any(|words| text.contains(words))), "{}: {told}", kind.id);
    }
    assert!(found >= 4, "{found}");
}

/// The engine of the standing van runs for the need of the cold alone: to charge, one drives.
#[test]
fn the_engine_of_the_standing_van_does_not_run_to_charge() {
    for path in demo_specs() {
        let manual = manual_of(&load(&path)).replace('\u{a0}', " ");
        let need = section(&manual, "emergency-cold").replace("[", "");
        assert!(need.contains("Run the engine of the standing van for heat in this need alone"), "{need}");
        for line in manual.lines() {
            let runs = ["run the engine", "let the engine run", "leave the engine running"];
            let told = runs.iter().any(|words| line.to_lowercase().contains(words));
            assert!(!told || line.contains("in this need alone"), "{}: {line}", path.display());
        }
    }
}

/// Frost work has one order, that of the manual: the calendar leads there and lists nothing of it.
#[test]
fn work_of_a_season_has_one_order() {
    let mut seasons = 0;
    for path in demo_specs() {
        let all = crate::harness::sheets(&load(&path));
        let calendar = &all.iter().find(|s| s.stem == "maintenance-calendar").expect("calendar").markdown;
        for round in calendar.split("\n### ").skip(1) {
            let round = round.split("\n## ").next().unwrap_or_default();
            let lines: Vec<&str> = round.lines().filter(|l| l.contains("(owners-manual.md#season-")).collect();
            let own = round.contains("{#round-before-the-first-frost}");
            assert!(!own || lines.len() == 1, "{}: {round}", path.display());
            seasons += usize::from(own);
        }
    }
    assert!(seasons >= 4, "{seasons}");
}

/// An owner's book names ways, places and papers by what is printed on them.
#[test]
fn the_owner_is_told_no_stand_ins() {
    const STAND_INS: [&str; 9] = [
        "way N",
        "its panel:",
        "in the table",
        "Sticker of Fuse of",
        "Nothing given yet",
        "the spec names",
        "tie it shut",
        "power power",
        "in this panel way",
    ];
    for path in demo_specs() {
        let all = crate::harness::sheets(&load(&path));
        for sheet in all.iter().filter(|s| ["owners-manual", "maintenance-calendar", "handover-binder"].contains(&&*s.stem))
        {
            for line in sheet.markdown.replace('\u{a0}', " ").lines() {
                let said = STAND_INS.iter().find(|words| line.contains(**words) && !line.contains("Only fit the rating"));
                assert!(said.is_none(), "{} {}: {said:?}: {line}", path.display(), sheet.stem);
            }
        }
    }
}

/// Spares aboard are fuses that an owner can fit: pushed in by hand, not bolted to a torque.
#[test]
fn spare_fuses_of_the_owner_are_pushed_in_by_hand() {
    let mut told = 0;
    for path in demo_specs() {
        let manual = manual_of(&load(&path));
        for line in section(&manual, "spares").lines().filter(|l| l.starts_with("- [ ]")) {
            told += 1;
            assert!(line.contains("blade fuse"), "{}: {line}", path.display());
        }
    }
    assert!(told > 15, "{told}");
}

/// A word is explained where it is used, and only there.
#[test]
fn the_glossary_explains_what_the_manual_says() {
    for path in demo_specs() {
        let loaded = load(&path);
        let manual = manual_of(&loaded);
        let (body, rest) = manual.split_once("{#glossary}").expect("glossary");
        let words = rest.split("\n## ").next().unwrap_or_default();
        let comments = body.split("<!--").map(|piece| piece.split_once("-->").map_or(piece, |(_, behind)| behind));
        let body: String = comments.collect();
        for foreign in ["LPG", "split-phase"].iter().filter(|word| words.contains(&format!("**{word}:**"))) {
            let used = body.lines().filter(|l| !l.starts_with("Not fitted")).any(|l| l.contains(foreign) || l.contains("line 2"));
            assert!(used, "{}: {foreign}", path.display());
        }
    }
}

/// The index knows what people call a thing: in the words of the rules, and the jump start that nobody calls otherwise.
#[test]
fn the_index_knows_what_people_call_things() {
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        let manual = manual_of(&loaded);
        let index = manual.split("{#index}").nth(1).expect("index");
        let entry = |term: &str| index.lines().any(|l| l.starts_with(&format!("- [{term}]")) || l.starts_with(&format!("- {term}:")));
        assert!(entry("Jump start"), "{}", path.display());
        let us = worked.build.about.rules.text() != Some("eu");
        if worked.build.parts.values().any(|p| played(p, Role::Rcd)) {
            assert!(entry("RCD") && entry("GFCI") == us, "{}", path.display());
        }
        if worked.build.parts.values().any(|p| p.kind.id == "wheel-set") {
            let comment = "tyre pressure for sand";
            assert!(manual.contains(comment), "{}: the search knows no {comment}", path.display());
        }
        assert!(manual.matches("<!-- also: ").count() > 20, "{}", path.display());
    }
}
