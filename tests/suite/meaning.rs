//! What people call things leads to their kinds: `also`, the message on an unknown kind, `rigbinder kinds WORDS`.

use crate::harness::{built_in, rigbinder, root};
use rigbinder::kinds::Library;
use rigbinder::pipeline;
use std::collections::BTreeMap;

/// What a stranger may type, and a kind that must be among those told.
const WORDS: &[(&str, &str)] = &[
    ("switch", "switch-panel"),
    ("hatch", "roof-fan"),
    ("hatch", "window"),
    ("boiler", "water-heater"),
    ("solar charger", "solar-controller"),
    ("battery", "battery-bank"),
    ("tap", "tap"),
    ("faucet", "tap"),
    ("loo", "toilet"),
    ("composting toilet", "toilet-dry"),
    ("diesel heater", "air-heater"),
    ("gas bottle", "lpg-locker"),
    ("propane tank", "lpg-locker"),
    ("fuse box", "fuse-panel"),
    ("fusebox", "fuse-panel"),
    ("breaker box", "consumer-unit"),
    ("hob", "cooktop-lpg"),
    ("induction hob", "cooktop-induction"),
    ("stove", "cooktop-lpg"),
    ("wet room", "shower"),
    ("outdoor shower", "exterior-shower"),
    ("extractor", "range-hood-fan"),
    ("cooker hood", "range-hood-fan"),
    ("refrigerator", "fridge"),
    ("cool-box", "fridge"),
    ("freezer", "fridge"),
    ("solar panel", "solar-array"),
    ("solar_panels", "solar-array"),
    ("photovoltaic", "solar-array"),
    ("folding solar panel", "portable-array"),
    ("mppt", "solar-controller"),
    ("b2b", "dc-dc-charger"),
    ("split charger", "dc-dc-charger"),
    ("battery charger", "shore-charger"),
    ("hook-up", "shore-inlet"),
    ("shore power", "shore-inlet"),
    ("leisure batteries", "battery-bank"),
    ("lithium battery", "battery-bank"),
    ("car battery", "starter-battery"),
    ("shunt", "battery-monitor"),
    ("isolator switch", "battery-disconnect"),
    ("earth strap", "chassis-bond"),
    ("grounding", "chassis-bond"),
    ("rcd", "residual-current-device"),
    ("GFCI", "residual-current-device"),
    ("mains socket", "ac-outlet"),
    ("receptacle", "ac-outlet"),
    ("cigarette lighter", "dc-socket"),
    ("phone charger", "usb-outlet"),
    ("ceiling lights", "light-zone"),
    ("led strip", "strip-light"),
    ("light switch", "two-way-switch"),
    ("gray tank", "grey-tank"),
    ("waste water tank", "grey-tank"),
    ("water tank", "fresh-tank"),
    ("pump", "water-pump"),
    ("basin", "sink"),
    ("hose", "pipe-run"),
    ("air con", "air-conditioner"),
    ("aircon", "air-conditioner"),
    ("skylight", "window"),
    ("blinds", "window-cover"),
    ("cupboard", "cabinet"),
    ("wardrobe", "cabinet"),
    ("countertop", "worktop"),
    ("bunk", "bed"),
    ("mattress", "bed-platform"),
    ("dinette", "bench-seat"),
    ("passenger seat", "travel-seat"),
    ("swivel", "seat-swivel"),
    ("bike rack", "bike-carrier"),
    ("spare tire", "spare-wheel-carrier"),
    ("tyres", "wheel-set"),
    ("bull bar", "front-bumper"),
    ("running boards", "side-step"),
    ("safe", "secure-locker"),
    ("smoke detector", "smoke-alarm"),
    ("co detector", "co-alarm"),
    ("carbon monoxide sensor", "co-alarm"),
    ("gas detector", "lp-alarm"),
    ("wifi", "router"),
    ("dog crate", "pet-station"),
    ("reversing camera", "camera"),
    ("television", "monitor-screen"),
    ("voltmeter", "volt-display"),
    ("plywood", "wall-panels"),
    ("flooring", "floor-system"),
    ("sheep's wool", "insulation"),
    ("bulkhead", "partition"),
    ("ventilator", "circulation-fan"),
];

#[test]
fn a_word_a_stranger_types_finds_its_kind() {
    let lost: Vec<String> = WORDS
        .iter()
        .map(|(word, kind)| (word, kind, built_in().meant(word)))
        .filter(|(_, kind, meant)| !meant.iter().any(|m| m.id == **kind))
        .map(|(word, kind, meant)| {
            format!("{word}: {kind} is not among {:?}", meant.iter().map(|m| &m.id).collect::<Vec<_>>())
        })
        .collect();
    assert!(lost.is_empty(), "{}", lost.join("\n"));
}

/// The name of a kind, its id with spaces and each of its words leads to it, in whatever order and number.
#[test]
fn every_kind_is_found_by_each_of_its_own_words() {
    let library = Library::load(built_in()).expect("kinds");
    let mut lost = Vec::new();
    for kind in library.iter() {
        let own = [kind.id.replace('-', " "), kind.name.clone(), kind.name.to_uppercase()];
        for word in own.into_iter().chain(kind.also.iter().flat_map(|word| {
            let backwards = word.split(' ').rev().collect::<Vec<_>>().join("-");
            [Some(word.clone()), word.contains(' ').then_some(backwards)].into_iter().flatten()
        })) {
            let meant = built_in().meant(&word);
            if !meant.iter().any(|m| m.id == kind.id) {
                lost.push(format!(
                    "{word}: {} is not among {:?}",
                    kind.id,
                    meant.iter().map(|m| &m.id).collect::<Vec<_>>()
                ));
            }
        }
    }
    assert!(lost.is_empty(), "{} words are lost:\n{}", lost.len(), lost.join("\n"));
}

#[test]
fn no_word_leads_to_more_kinds_than_are_told() {
    let library = Library::load(built_in()).expect("kinds");
    let mut leads: BTreeMap<String, Vec<&str>> = BTreeMap::new();
    for kind in library.iter() {
        for word in &kind.also {
            assert!(!word.trim().is_empty() && word.len() <= 48, "{}: {word:?}", kind.id);
            leads.entry(word.to_lowercase()).or_default().push(&kind.id);
        }
    }
    assert!(leads.len() > 1000, "{} words", leads.len());
    let many: Vec<_> = leads.iter().filter(|(_, kinds)| kinds.len() > 4).collect();
    assert!(many.is_empty(), "{many:?}");
    let twice: Vec<_> = leads.iter().filter(|(_, kinds)| kinds.windows(2).any(|pair| pair[0] == pair[1])).collect();
    assert!(twice.is_empty(), "stands twice: {twice:?}");
}

fn told(kind: &str) -> (Vec<String>, Option<String>) {
    let text = format!("[build]\ntitle = \"T\"\n[component.thing]\nkind = {kind:?}\n");
    let loaded = pipeline::load(crate::harness::house(), "t.toml", text.as_bytes()).expect("kinds");
    let found = loaded.findings.iter().find(|f| f.name == "unknown-kind").expect("unknown");
    (found.help.clone(), found.fix.as_ref().map(|f| f.replacement.clone()))
}

#[test]
fn an_unknown_kind_is_told_with_those_that_are_meant_and_what_to_do_otherwise() {
    let (help, fix) = told("hatch");
    assert!(
        help[0].starts_with("did you mean \"") && help[0].contains("\"roof-fan\" (Roof vent with a fan"),
        "{help:?}"
    );
    assert!(help[0].contains("\"window\"") && help[0].matches(" (").count() <= 4, "{help:?}");
    assert!(help[1].contains("rigbinder new --kind hatch"), "{help:?}");
    assert_eq!(fix, None, "which of several is for a person to say");
    assert_eq!(told("refrigerator").1.as_deref(), Some("\"fridge\""));
    assert_eq!(told("fridg").1.as_deref(), Some("\"fridge\""));
    let (help, fix) = told("xyzzy");
    assert!(help.len() == 1 && help[0].contains("rigbinder kinds"), "{help:?}");
    assert_eq!(fix, None);
}

#[test]
fn kinds_finds_by_words() {
    let run = |args: &[&str]| {
        let output = rigbinder(&root(), args);
        (output.status.code(), String::from_utf8_lossy(&output.stdout).into_owned())
    };
    let (code, out) = run(&["kinds", "solar", "charger"]);
    assert!(code == Some(0) && out.contains("solar-controller"), "{code:?} {out}");
    let (code, out) = run(&["kinds", "fridge"]);
    assert!(code == Some(0) && out.contains("Also called: refrigerator"), "{out}");
    assert_eq!(run(&["kinds", "xyzzy"]), (Some(2), String::new()));
}
