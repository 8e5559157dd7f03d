//! Specs of an earlier version of the language, and the order that `needs` and `brings` of their tasks make.

use crate::harness::{findings, house, root};
use rigbinder::diag::Severity;
use rigbinder::pipeline::{self, Only};
use std::fs;

/// A spec as version 1 says it, and how many of its lines that changes.
fn as_version_one(text: &str) -> (String, usize) {
    const GOALS: [(&str, &str); 3] =
        [("nights", "nights_off_grid"), ("inside_temperature", "inside_temperature"), ("cool_to", "cool_to")];
    let (mut section, mut changed) = (String::new(), 0);
    let lines = text.lines().map(|line| {
        if line.starts_with('[') {
            line.clone_into(&mut section);
        }
        let named = |name: &str| line.strip_prefix(name).filter(|rest| rest.trim_start().starts_with('='));
        if let Some(rest) = named("needs").filter(|_| section.starts_with("[task.")) {
            changed += 1;
            return format!("after{rest}\n");
        }
        // What stood in [use] then stands behind it.
        let (goals, dotted) = (section == "[use.goals]", line.strip_prefix("goals."));
        for (is, was) in GOALS {
            let rest = if goals { named(is) } else { dotted.and_then(|line| line.strip_prefix(is)) };
            if let Some(rest) = rest {
                changed += 1;
                return format!("{was}{rest}\n");
            }
        }
        match line {
            "[use.goals]" => String::new(),
            _ if line.starts_with("spec = 2") => "spec = 1\n".to_owned(),
            // New in this version, and said as both say it.
            _ if goals && line.contains('=') => format!("goals.{line}\n"),
            _ => format!("{line}\n"),
        }
    });
    (lines.collect(), changed)
}

/// What is attached is the spec itself; everything else is the same, whichever version it is written in.
#[test]
fn version_one_gives_the_same_documents() {
    let mut translated = 0;
    for name in ["heron", "turnstone", "purfling", "basalt", "weekend"] {
        let text = fs::read_to_string(root().join(format!("specs/{name}.toml"))).expect("demo");
        assert!(text.lines().any(|line| line.starts_with("spec = 2")), "{name} is written in this version");
        let (earlier, changed) = as_version_one(&text);
        translated += changed;
        let all = |text: &str| {
            let loaded = pipeline::load(house(), "spec.toml", text.as_bytes()).expect("kinds");
            let worked = pipeline::work_out(&loaded).expect("profile");
            let told = worked.findings.iter().filter(|f| f.name == "earlier-form");
            // Where a goal stands already, a dotted name beside it might be no TOML: that one is put right by hand.
            let by_hand = |f: &rigbinder::diag::Finding| text.contains("goals.") && f.headline.contains("goals");
            assert!(told.clone().all(|f| f.severity == Severity::Warning && (f.fix.is_some() || by_hand(f))));
            let told = told.count();
            let sheets = pipeline::sheets(&worked, &Only::default()).expect("documents");
            (told, sheets.into_iter().map(|s| (s.stem, s.markdown)).collect::<Vec<_>>())
        };
        let ((none, now), (told, then)) = (all(&text), all(&earlier));
        assert_eq!((none, told), (0, changed), "{name}");
        for (now, then) in now.iter().zip(&then) {
            assert!(now == then, "{name}: {} differs", now.0);
        }
        assert_eq!(now.len(), then.len());
    }
    assert!(translated > 1, "no demo says what version 1 said otherwise");
}

const VAN: &str = r#"
spec = 2
[build]
title = "Van"
[place.galley]
about = "Galley"
[component]
bank = { kind = "battery-bank", place = "galley", capacity = "100 Ah" }
main = { kind = "main-fuse", fed_from = "bank", run = "0.1 m", place = "galley" }
panel = { kind = "fuse-panel", fed_from = "main", run = "1 m", place = "galley" }
pump = { kind = "water-pump", fed_from = "panel", run = "2 m", place = "galley" }
"#;

/// Tasks that each task of a van waits for.
fn waits(more: &str, task: &str) -> Vec<String> {
    let text = format!("{VAN}{more}");
    let loaded = pipeline::load(house(), "van.toml", text.as_bytes()).expect("kinds");
    let worked = pipeline::work_out(&loaded).expect("profile");
    let errors: Vec<_> =
        worked.findings.iter().filter(|f| f.name.contains("task") || f.name.contains("state")).collect();
    assert!(errors.is_empty(), "{errors:?}");
    worked.build.tasks[task].after.ids().map(str::to_owned).collect()
}

const TRY: &str = "[task.try]\nstage = \"commissioning\"\ntitle = \"Try it\"\nsteps = [\"Try it.\"]\n";

#[test]
fn a_task_of_the_spec_waits_for_states_and_tasks() {
    let library = rigbinder::kinds::Library::load(crate::harness::built_in()).expect("kinds");
    let pump = library.get("water-pump").expect("a kind");
    let mounts: Vec<_> = pump.tasks.iter().filter(|t| t.brings("mounted")).map(|t| format!("pump.{}", t.id)).collect();
    assert!(!mounts.is_empty());
    assert_eq!(waits(&format!("{TRY}needs = [\"pump.mounted\"]\n"), "try"), mounts);
    assert_eq!(waits(&format!("{TRY}component = \"pump\"\nneeds = [\"mounted\"]\n"), "try"), mounts);
    assert_eq!(waits(&format!("{TRY}needs = [{:?}]\n", mounts[0]), "try"), mounts[..1]);
    let live = waits(&format!("{TRY}needs = [\"panels-live\"]\n"), "try");
    assert!(live.iter().any(|task| task.starts_with("panel.")), "{live:?}");
    let own = format!("{TRY}needs = [\"look\"]\n{}", TRY.replace("task.try", "task.look"));
    assert_eq!(waits(&own, "try"), ["look"]);
}

#[test]
fn tasks_of_kinds_wait_for_what_a_task_of_the_spec_brings() {
    let runs = |task: &rigbinder::kinds::TaskTemplate, state: &str| task.needs.iter().any(|need| need == state);
    let library = rigbinder::kinds::Library::load(crate::harness::built_in()).expect("kinds");
    let pump = library.get("water-pump").expect("a kind");
    for (state, more) in [("panels-live", ""), ("mounted", "component = \"pump\"\n")] {
        let waiting = pump.tasks.iter().find(|t| runs(t, state)).expect("a task that needs it");
        let waiting = format!("pump.{}", waiting.id);
        let brings = format!("{TRY}{more}brings = [{state:?}]\n");
        assert!(waits(&brings, &waiting).contains(&"try".to_owned()), "{state}");
        assert!(!waits(TRY, &waiting).contains(&"try".to_owned()), "{state}");
    }
}

#[test]
fn what_no_task_can_need_or_bring_is_told_with_its_place() {
    for (line, name, at, help) in [
        ("needs = [\"pump.mountedd\"]", "unknown-task", "\"pump.mountedd\"", "pump.mounted"),
        ("needs = [\"panel-live\"]", "unknown-task", "\"panel-live\"", "panels-live"),
        ("needs = [\"mounted\"]", "unknown-task", "\"mounted\"", ""),
        ("brings = [\"close-in\"]", "unknown-state", "\"close-in\"", "closed-in"),
        ("brings = [\"mounted\"]", "unknown-state", "\"mounted\"", "component"),
    ] {
        let text = format!("{VAN}{TRY}{line}\n");
        let found = findings(&text);
        let found = found.iter().find(|f| f.name == name).unwrap_or_else(|| panic!("{line}: {found:?}"));
        assert_eq!(found.span.map(|s| s.start), text.rfind(at), "{line}");
        assert!(found.help.iter().any(|h| h.contains(help)), "{line}: {:?}", found.help);
    }
}

/// What version 1 said in [use] is a goal now; the edit that is proposed reads without a word, and of both at once the
/// earlier one is told as a field that is not known.
#[test]
fn what_was_wanted_in_use_is_a_goal_now() {
    let head = "spec = 2\n[build]\ntitle = \"Van\"\n[use]\npeople = 2\n";
    let of = |text: &str| {
        let loaded = pipeline::load(house(), "spec.toml", text.as_bytes()).expect("kinds");
        let worked = pipeline::work_out(&loaded).expect("profile");
        let goals = &worked.build.goals;
        let told: Vec<_> = loaded.findings.iter().map(|f| (f.name, f.fix.clone())).collect();
        (goals.nights.get(), goals.inside_temperature.get().map(|t| t.0), goals.cool_to.get().map(|t| t.0), told)
    };
    let was = format!("{head}nights_off_grid = 5\ninside_temperature = \"17 °C\"\ncool_to = \"24 °C\"\n");
    let (nights, inside, cool_to, told) = of(&was);
    assert_eq!((nights, inside, cool_to), (Some(5), Some(17.0), Some(24.0)));
    assert!(told.len() == 3 && told.iter().all(|(name, fix)| *name == "earlier-form" && fix.is_some()), "{told:?}");
    let mut mended = was;
    let mut fixes: Vec<_> = told.into_iter().filter_map(|(_, fix)| fix).collect();
    fixes.sort_by_key(|fix| std::cmp::Reverse(fix.span.start));
    for fix in fixes {
        mended.replace_range(fix.span.start..fix.span.end, &fix.replacement);
    }
    assert_eq!(of(&mended), (nights, inside, cool_to, Vec::new()), "{mended}");
    let both = format!("{head}nights_off_grid = 5\ngoals.nights = 3\n");
    let (nights, _, _, told) = of(&both);
    assert_eq!((nights, told.iter().map(|t| t.0).collect::<Vec<_>>()), (Some(3), vec!["unknown-field"]));
    let beside = format!("{head}nights_off_grid = 5\n[use.goals]\ncooling = \"3 h\"\n");
    let (nights, _, _, told) = of(&beside);
    assert_eq!((nights, told[0].0, told[0].1.is_some()), (Some(5), "earlier-form", false));
}
