//! What the documents say of switches is true of this van: which one cuts what off, in which order, and by which verb.

use crate::harness::{demo_specs, load, root, sheets};
use rigbinder::build::Build;
use rigbinder::compute::isolation::{cut_by, main_switches, switches_of};
use rigbinder::compute::network::{DeviceAt, Electrical};
use rigbinder::documents::fact_book::FactBook;
use rigbinder::documents::facts::Voice;
use rigbinder::kinds::Role;
use rigbinder::pipeline::{self, Loaded, Sheet};
use rigbinder::tables::fuse_series::Family;

fn weekend_with(more: &str) -> String {
    let small = std::fs::read_to_string(root().join("specs/weekend.toml")).expect("spec");
    format!("{small}\n{more}")
}

fn load_text(text: &str) -> Loaded {
    pipeline::load(crate::harness::house(), "test.toml", text.as_bytes()).expect("the library of kinds holds together")
}

fn document(all: &[Sheet], name: &str) -> String {
    all.iter().find(|s| s.stem.contains(name)).map(|s| s.markdown.clone()).unwrap_or_default()
}

/// A second fuse and switch at the bank that feed an inverter alone, before or after those of the house.
fn two_switches(inverter_first: bool) -> String {
    let inverter = r#"
[component.inverter-fuse]
kind = "main-fuse"
name = "Fuse of the inverter"
fed_from = "battery"
run = "0.2 m"
place = "bench"
[component.inverter-switch]
kind = "battery-disconnect"
name = "Switch of the inverter"
fed_from = "inverter-fuse"
run = "0.2 m"
place = "bench"
[component.inverter]
kind = "inverter"
name = "Small inverter"
power = "500 W"
fed_from = "inverter-switch"
run = "0.5 m"
place = "bench"
"#;
    let small = weekend_with("");
    if inverter_first {
        small.replace("[component.battery]", &format!("{inverter}\n[component.battery]"))
    } else {
        format!("{small}{inverter}")
    }
}

/// With two main switches each text names the one that its part hangs on, in whatever order the spec has them.
#[test]
fn the_switch_that_is_named_is_the_one_upstream() {
    for inverter_first in [false, true] {
        let loaded = load_text(&two_switches(inverter_first));
        let worked = pipeline::work_out(&loaded).expect("profile");
        let facts = FactBook::of(&worked.build, &worked.electrical, &worked.ledger, Voice::Owner);
        let main = |part: &str| facts.part(part)["main_disconnect"].clone();
        for (part, wanted) in [
            ("inverter", "Switch of the inverter"),
            ("inverter-fuse", "Switch of the inverter"),
            ("inverter-switch", "Switch of the inverter"),
            ("main-fuse", "Battery disconnect"),
            ("panel", "Battery disconnect"),
            ("fridge", "Battery disconnect"),
            ("dc-dc", "Battery disconnect"),
            ("disconnect", "Battery disconnect"),
        ] {
            assert_eq!(main(part), wanted, "{part}, inverter first: {inverter_first}");
        }
        // What stands before both, and what is in no circuit, hangs on both.
        for part in ["battery", "sink", "co-alarm"] {
            for name in ["Switch of the inverter", "Battery disconnect"] {
                assert!(main(part).contains(name), "{part}: {}", main(part));
            }
        }
        assert_eq!(facts.part("inverter-switch")["cuts"], "Small inverter");
        let cuts = &facts.part("disconnect")["cuts"];
        assert!(cuts.contains("all on Fuse panel") && !cuts.contains("everything"), "{cuts}");
        assert_eq!(facts.part("disconnect")["cuts_all"], "no");

        let all = sheets(&loaded);
        let manual = document(&all, "owners-manual");
        assert!(manual.contains("If you cannot reach it, turn Switch of the inverter off"), "{inverter_first}");
        assert!(!manual.contains("everything at 12 V"), "neither switch turns everything off");
        let packet =
            all.iter().map(|s| &s.markdown).find(|m| m.contains("Put the fuse in and tighten")).expect("packet");
        let fits: Vec<&str> = packet.lines().filter(|l| l.contains("Look once more")).collect();
        assert!(fits.iter().any(|l| l.contains("Switch of the inverter OFF")), "{fits:?}");
        assert!(fits.iter().any(|l| l.contains("Battery disconnect OFF")), "{fits:?}");
    }
}

/// A switch below the main one is not called the main one, and says what it cuts.
#[test]
fn a_switch_of_a_branch_is_no_main_switch() {
    let branch = r#"
[component.aux-switch]
kind = "battery-disconnect"
name = "Aux switch"
fed_from = "busbar"
run = "0.4 m"
place = "bench"
[component.aux-panel]
kind = "fuse-panel"
name = "Aux panel"
fed_from = "aux-switch"
run = "0.4 m"
ways = 4
place = "bench"
[component.aux-light]
kind = "exterior-light"
name = "Work light"
fed_from = "aux-panel"
run = "2 m"
place = "galley"
"#;
    let loaded = load_text(&weekend_with(branch));
    let worked = pipeline::work_out(&loaded).expect("profile");
    let build = &worked.build;
    let mains = main_switches(build);
    assert_eq!(mains.iter().map(|m| m.id.as_str()).collect::<Vec<_>>(), ["disconnect"]);
    let aux = &build.parts["aux-switch"];
    assert_eq!(cut_by(build, &mains, aux).what, ["all on Aux panel"]);
    assert!(cut_by(build, &mains, &build.parts["disconnect"]).all);
    let of = |id: &str| switches_of(build, &mains, &build.parts[id]).iter().map(|p| p.id.clone()).collect::<Vec<_>>();
    assert_eq!(of("aux-light"), ["aux-switch"]);
    assert_eq!(of("fridge"), ["disconnect"]);
    let facts = FactBook::of(build, &worked.electrical, &worked.ledger, Voice::Owner);
    assert_eq!(facts.part("aux-light")["disconnects"], "Battery disconnect and Aux switch");
    let manual = document(&sheets(&loaded), "owners-manual");
    assert!(manual.contains("This switch turns off: all on Aux panel"));
    assert!(manual.contains("This switch turns off: everything at 12 V"));
}

/// What hangs on the bank past the switch is named as staying live.
#[test]
fn what_the_main_switch_leaves_on_is_said() {
    let past = "[component.past]\nkind = \"dc-socket\"\nname = \"Odd socket\"\nfed_from = \"battery\"\nrun = \"1 m\"\nplace = \"bench\"\n";
    let loaded = load_text(&weekend_with(past));
    let manual = document(&sheets(&loaded), "owners-manual");
    assert!(manual.contains("It does not turn off: Odd socket."), "not told");
    assert!(!manual.contains("This switch turns off: everything at 12 V"));
}

fn is_breaker(family: Family) -> bool {
    matches!(family, Family::DcBreaker | Family::AcBreakerUs | Family::AcBreakerEu)
}

/// What holds the way `number` of the panel called `panel`: "fuse", "breaker", "switch"; "" where there is no such way.
fn holder(build: &Build<'_>, electrical: &Electrical, number: &str, panel: &str) -> &'static str {
    let way = build
        .circuits
        .values()
        .find(|c| c.way.is_some_and(|w| w.to_string() == number) && build.name(&c.from) == panel);
    let Some(circuit) = way else { return "" };
    let device = &electrical.circuits[&circuit.id].device;
    match build.parts[&circuit.from].role() {
        Some(Role::SwitchPanel) => "switch",
        _ if device.at == DeviceAt::Way && device.family.is_some_and(is_breaker) => "breaker",
        _ => "fuse",
    }
}

/// The ways that a text tells to pull or to switch: (verb, way, panel). `panels` are the names there are, longest first.
fn orders(text: &str, panels: &[String]) -> Vec<(&'static str, String, String)> {
    const VERBS: &[(&str, &str)] = &[
        ("ull the fuse of way ", "fuse"),
        ("it the fuse of way ", "fuse"),
        ("witch the breaker of way ", "breaker"),
        ("witch way ", "switch"),
    ];
    let mut found = Vec::new();
    for (words, verb) in VERBS {
        for (at, _) in text.match_indices(words) {
            let Some((way, rest)) = text[at + words.len()..].split_once(" in ") else { continue };
            let ways = way.split(" (").next().unwrap_or(way);
            // "way N in its panel" points to the table beside it.
            if ways == "N" {
                continue;
            }
            let panel = panels.iter().find(|p| rest.starts_with(p.as_str())).cloned().unwrap_or_default();
            // Several panels in a row belong to several ways.
            if rest[panel.len()..].starts_with(" / ") {
                continue;
            }
            found.extend(ways.split(" / ").map(|way| (*verb, way.to_owned(), panel.clone())));
        }
    }
    found
}

/// Nothing tells anyone to switch a fuse or to pull a breaker.
fn verbs_fit(loaded: &Loaded, what: &str) -> usize {
    let worked = pipeline::work_out(loaded).expect("profile");
    let is_panel = |id: &&String| worked.build.parts[*id].role().is_some_and(Role::has_ways);
    let mut panels: Vec<String> =
        worked.build.parts.keys().filter(is_panel).map(|id| worked.build.name(id).to_owned()).collect();
    panels.sort_by_key(|name| std::cmp::Reverse(name.len()));
    let mut seen = 0;
    for sheet in sheets(loaded) {
        for (verb, way, panel) in orders(&sheet.markdown.replace('\\', ""), &panels) {
            let is = holder(&worked.build, &worked.electrical, &way, &panel);
            assert_eq!(is, verb, "{what}, {}: way {way} in {panel:?}", sheet.stem);
            seen += 1;
        }
        for line in sheet.markdown.lines() {
            let lower = line.to_lowercase();
            for loose in [
                "switch it off: way",
                "switch it on: way",
                "at its way",
                "switch its way",
                "pull the way",
                "pull the breaker",
            ] {
                assert!(!lower.contains(loose), "{what}, {}: {line}", sheet.stem);
            }
        }
    }
    seen
}

#[test]
fn a_fuse_is_pulled_and_a_breaker_is_switched_in_the_demo_builds() {
    let mut seen = 0;
    for spec in demo_specs() {
        seen += verbs_fit(&load(&spec), &spec.display().to_string());
    }
    assert!(seen > 20, "only {seen} orders found");
}

/// Every family that a panel can hold.
#[test]
fn a_fuse_is_pulled_and_a_breaker_is_switched_for_every_family() {
    for family in ["blade", "mini-blade", "maxi-blade", "breaker"] {
        let spec = weekend_with("")
            .replace("{ kind = \"fuse-panel\",", &format!("{{ kind = \"fuse-panel\", family = \"{family}\","));
        assert!(verbs_fit(&load_text(&spec), family) > 5, "{family}");
        let manual = document(&sheets(&load_text(&spec)), "owners-manual");
        let stop = if family == "breaker" { "Switch the breaker of way" } else { "Pull the fuse of way" };
        assert!(manual.contains(stop), "{family}");
        assert_eq!(manual.contains("Pull the fuse and look at its bridge"), family != "breaker", "{family}");
    }
    let switched = r#"
[component.aux]
kind = "switch-panel"
name = "Switch board"
fed_from = "busbar"
run = "1 m"
place = "galley"
[component.step-light]
kind = "exterior-light"
name = "Step light"
fed_from = "aux"
run = "1 m"
place = "galley"
[component.compressor]
kind = "air-compressor"
name = "Tyre compressor"
fed_from = "aux"
run = "1 m"
place = "galley"
"#;
    let loaded = load_text(&weekend_with(switched));
    verbs_fit(&loaded, "switch panel");
    let worked = pipeline::work_out(&loaded).expect("profile");
    let facts = FactBook::of(&worked.build, &worked.electrical, &worked.ledger, Voice::Owner);
    assert_eq!(facts.part("compressor")["off"], "Switch way 2 in Switch board off");
}

/// A text of a kind tells how a part is switched by the facts for it, never by its own verb and a number.
#[test]
fn no_text_of_a_kind_switches_a_way_by_its_number() {
    let mut texts = 0;
    for path in crate::harness::files("templates/kinds", "toml") {
        let text = std::fs::read_to_string(&path).expect("kind");
        for (n, line) in text.lines().enumerate() {
            texts += 1;
            for sentence in line.split('"').flat_map(|text| text.split(". ")).filter(|s| s.contains("{{ way }}")) {
                let lower = sentence.to_lowercase();
                let orders =
                    ["switch way", "switch its way", "way {{ way }} off", "way {{ way }} on", "}} is on", "pull "];
                let order = orders.iter().find(|o| lower.contains(*o));
                assert!(order.is_none(), "{}:{}: {sentence}", path.display(), n + 1);
            }
        }
    }
    assert!(texts > 1000);
}

/// The numbered steps that follow the heading of storage, in one list.
fn storage_steps(manual: &str) -> Vec<String> {
    let (_, section) = manual.split_once("{#storing}").expect("storage");
    let section = section.split("Back to use").next().unwrap_or_default();
    section.lines().filter(|l| l.starts_with(|c: char| c.is_ascii_digit())).map(str::to_owned).collect()
}

/// Every source is cut off before the bank is, and comes back after it.
#[test]
fn storage_cuts_every_source_off_before_the_bank() {
    for spec in demo_specs() {
        let loaded = load(&spec);
        let worked = pipeline::work_out(&loaded).expect("profile");
        let build = &worked.build;
        let all = sheets(&loaded);
        let steps = storage_steps(&document(&all, "owners-manual"));
        let at = |name: &str| steps.iter().position(|s| s.contains(name));
        let mains = main_switches(build);
        assert!(!mains.is_empty(), "{}", spec.display());
        let turns_off = |s: &String| mains.iter().any(|m| s.contains(&m.name)) && s.contains("turn it OFF, after");
        let last_own = steps.iter().position(turns_off).expect("the main switch has its step");
        assert!(steps[last_own..].iter().all(|s| s.contains("turn it OFF, after")), "{steps:?}");
        let mut sources = 0;
        for part in build.parts.values() {
            let isolator = part.role() == Some(Role::Disconnect)
                && !mains.iter().any(|m| m.id == part.id)
                && part.kind.id == "pv-isolator";
            let charger = part.kind.id == "dc-dc-charger" || part.role() == Some(Role::Inlet);
            if isolator || charger {
                sources += 1;
                let place = at(&part.name)
                    .unwrap_or_else(|| panic!("{}: {} has no step: {steps:?}", spec.display(), part.name));
                assert!(place < last_own, "{}: {} after the bank: {steps:?}", spec.display(), part.name);
            }
        }
        assert!(sources > 0, "{}", spec.display());
        // Nowhere else is the bank turned off for storage.
        for sheet in &all {
            for line in sheet.markdown.lines() {
                let both =
                    line.contains("or storage") && mains.iter().any(|m| line.contains(&format!("turn {} off", m.name)));
                assert!(!both, "{}: {line}", sheet.stem);
            }
        }
    }
}

/// An array without an isolator: nobody is told to turn the bank off first.
#[test]
fn an_array_without_an_isolator_is_no_work_for_the_owner() {
    let spec = weekend_with("")
        .replace(
            "isolator   = { kind = \"pv-isolator\", fed_from = \"solar\", run = \"2.5 m\", place = \"bench\" }\n",
            "",
        )
        .replace("fed_from = \"isolator\", run = \"0.5 m\"", "fed_from = \"solar\", run = \"0.5 m\"");
    assert!(!spec.contains("pv-isolator"), "taken out");
    let manual = document(&sheets(&load_text(&spec)), "owners-manual");
    let steps = storage_steps(&manual);
    assert!(steps.iter().any(|s| s.contains("no isolator. Have a workshop part its plugs")), "{steps:?}");
}

/// Every list of steps that turns a main switch off has cut the sources off before.
#[test]
fn no_work_turns_the_bank_off_under_a_charger() {
    let library = rigbinder::kinds::Library::load(crate::harness::house()).expect("kinds");
    let mut seen = 0;
    for kind in library.iter() {
        for upkeep in &kind.upkeep {
            let off = upkeep.steps.iter().position(|s| s.contains("Turn {{ main_disconnect }} off"));
            let cut = upkeep.steps.iter().position(|s| s.contains("sources_off"));
            if let Some(off) = off {
                seen += 1;
                assert!(cut.is_some_and(|cut| cut < off), "{}.{}: {:?}", kind.id, upkeep.id, upkeep.steps);
                assert!(upkeep.steps.iter().skip(off).any(|s| s.contains("sources_on")), "{}.{}", kind.id, upkeep.id);
            }
        }
    }
    assert!(seen >= 6, "{seen}");
}
