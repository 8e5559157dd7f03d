//! What no kind knows: the kind `appliance`, and tasks and upkeep of a spec itself.

use crate::harness::{findings, house};
use rigbinder::pipeline::{self, Loaded, Only, Worked};
use std::collections::BTreeMap;

/// A van with water, gas and alternating current.
const TURNSTONE: &str = include_str!("../../specs/turnstone.toml");

/// What is added to it.
const OWN: &str = r#"
[component.coffee]
kind      = "appliance"
name      = "Coffee machine"
what      = "A coffee machine for two cups {{ fuse }} and no more."
supply    = "dc"
draw      = "300 W"
hours     = "30 min"
used      = "meals"
water     = "in-and-out"
drains_to = "grey-tank"
fed_from  = "panel" # coffee
run       = "2.4 m"
place     = "galley"
mass      = "4.2 kg"
use       = ["Fill the grinder.", "Press the left key."]
normal    = ["It hums at about 9 bar."]
limits    = ["Never open it under pressure."]
trouble   = [{ symptom = "The coffee runs slowly.", do = ["Grind coarser."] }]

[component.coffee-pipe]
like   = "cold-pipe"
name   = "Cold, pump to coffee machine"
to     = "coffee"
length = "3.4 m"
place  = "floor"

[component.coffee-waste]
like   = "waste-pipe"
name   = "Waste, coffee machine to grey tank"
from   = "coffee"
place  = "under-floor"

[component.dryer]
kind       = "appliance"
name       = "Dryer"
what       = "Dries clothes."
supply     = "ac"
draw       = "500 W"
hours      = "20 min"
fed_from   = "consumer-unit"
run        = "2 m"
place      = "under-bed"
mass       = "7 kg"
heat_given = "60 W"
belongs_to = "people"

[component.stove]
kind          = "appliance"
name          = "Deck stove"
what          = "A small gas stove with a flue."
supply        = "none"
burns         = "lpg"
gas_per_hour  = "0.1 kg"
hours         = "1 h"
heat_output   = "1200 W"
place         = "entry"
mass          = "3 kg"

[component.chest]
kind   = "appliance"
what   = "A chest for tools."
supply = "none"
place  = "under-bed"
mass   = "6 kg"

[task.first-shot]
stage     = "commissioning"
title     = "Draw the first shot"
component = "coffee" # task
minutes   = 20
steps     = ["Let it heat for 15 minutes.", "Draw 40 mL and read the gauge."]
cautions  = [{ signal = "warning", hazard = "Hot water and steam.", consequence = "Scalds.", avoid = "Keep hands off the group." }]
readings  = [{ id = "group-pressure", what = "Pressure at the group", type = "pressure", is = "9 bar", within = "1 bar" }]
hold      = "Second person has tasted it."

[task.hose-test]
stage    = "commissioning"
title    = "Hose the roof down"
place    = "roof" # task
steps    = ["Let water run over the roof for 10 minutes."]
readings = [{ id = "drops", what = "Drops inside", type = "count", is = "0" }]

[upkeep.descale]
title     = "Descale the coffee machine"
component = "coffee"
every     = "1 month"
minutes   = 25
steps     = ["Citric acid, 20 g in 1 L.", "Rinse with 2 L."]
cautions  = [{ signal = "caution", hazard = "Acid burns the eyes.", consequence = "Pain.", avoid = "Wear glasses." }]
readings  = [{ id = "time", what = "Time for 40 mL", type = "duration", is = "25 s", within = "5 s" }]
hold      = "The water runs clear."

[upkeep.hoses]
title     = "Empty the coffee machine's hoses"
component = "coffee"
season    = "before-first-frost"
steps     = ["Open the drain below it."]

[upkeep.wax-roof]
title   = "Wax the roof"
place   = "roof"
every   = "6 months"
by      = "service"
steps   = ["Wash it.", "Wax it."]
"#;

fn van() -> String {
    let recorded = "[recorded.readings]\n";
    assert!(TURNSTONE.contains(recorded));
    // The coffee comes from an appliance here; two machines would ask for a thicker feeder.
    let (before, machine) = TURNSTONE.split_once("\n[component.espresso]\n").expect("a machine of the shop");
    let (_, after) = machine.split_once("\n[").expect("a table behind it");
    let without = format!("{before}\n[{after}");
    format!("{}{OWN}", without.replacen(recorded, "[recorded.readings]\ncoffee.group-pressure = \"9.2 bar\"\n", 1))
}

/// One that runs on direct or alternating current, or on gas.
const THREE_WAY: &str = r#"
[component.cold-box]
kind          = "appliance"
name          = "Three-way cold box"
what          = "Cools by a flame, by 12 V or by mains."
supply        = "dc"
second_supply = "ac"
burns         = "lpg"
gas_per_hour  = "0.02 kg"
hours         = "8 h"
draw          = "120 W"
second_draw   = "138 W"
second_run    = "2.2 m"
fed_from      = ["panel", "consumer-unit"]
run           = "2.6 m"
place         = "galley"
mass          = "24 kg"
"#;

#[test]
fn one_with_several_supplies_has_a_circuit_for_each() {
    let text = with_cold_box();
    let loaded = read(&text);
    let worked = pipeline::work_out(&loaded).expect("worked out");
    let errors: Vec<_> = worked.findings.iter().filter(|f| f.severity == rigbinder::diag::Severity::Error).collect();
    assert!(errors.is_empty(), "{errors:?}");
    // 120 W / 12 V = 10 A; 138 W / 230 V = 0.6 A.
    let circuit = |id: &str| (&worked.build.circuits[id], &worked.electrical.circuits[id]);
    let (first, second) = (circuit("cold-box"), circuit("cold-box.2"));
    assert!((first.1.demand.load.0 - 10.0).abs() < 0.01 && first.0.from == "panel", "{:?}", first.1.demand);
    assert!((second.1.demand.load.0 - 0.6).abs() < 0.001 && second.0.from == "consumer-unit", "{:?}", second.1.demand);
    assert_ne!(first.0.network, second.0.network);
    assert_eq!((first.0.run.map(|r| r.0), second.0.run.map(|r| r.0)), (Some(2.6), Some(2.2)));
    let sheets = sheets(&worked);
    assert!(sheets["owners-manual"].contains("It has two supplies."), "who opens it must know");
    let one = text.replace("[\"panel\", \"consumer-unit\"]", "\"panel\"");
    assert!(findings(&one).iter().any(|f| f.name == "not-fed" && f.subject.as_deref() == Some("cold-box")));
    let twice = text.replace("second_supply = \"ac\"\n", "");
    assert!(
        findings(&twice).iter().any(|f| f.name == "load-fed-twice"),
        "without a second supply one feeder is enough"
    );
}

/// Both supplies count in the energy account, by hand: 120 W for 8 h at 12 V are 960 Wh; 138 W for 8 h at 230 V are
/// 1104 Wh, and at the bank that divided by the efficiency of the inverter.
#[test]
fn the_energy_account_counts_both_supplies() {
    let day = |hours: &rigbinder::compute::energy::Hours| hours.iter().sum::<f64>();
    let needs = |text: &str| {
        let loaded = read(text);
        let worked = pipeline::work_out(&loaded).expect("worked out");
        let seasons = worked.energy.seasons.values().map(|s| [&s.need.dc, &s.need.ac, &s.need.inverter_loss].map(day));
        let loss = worked.build.parts["inverter-charger"].roles.efficiency().get().expect("an efficiency").0;
        let runs = worked.energy.run_times.get("cold-box").map(|run| (run.power.0, run.at_bank.0));
        (seasons.collect::<Vec<_>>(), loss, runs)
    };
    let (without, efficiency, _) = needs(TURNSTONE);
    let (with, _, runs) = needs(&with_cold_box());
    assert!(!with.is_empty());
    let more = [960.0, 1104.0, 1104.0 / efficiency - 1104.0];
    for (with, without) in with.iter().zip(&without) {
        for ((with, without), more) in with.iter().zip(without).zip(more) {
            assert!((with - without - more).abs() < 1e-6, "{with} W h, {without} W h, {more} W h");
        }
    }
    // Alone on the bank it takes from both, and the inverter's own use once.
    let (power, at_bank) = runs.expect("a run time");
    assert!((power - 258.0).abs() < 1e-9 && at_bank >= 120.0 + 138.0 / efficiency, "{power} W, {at_bank} W");
}

/// What it gives off into the room a cooler takes out again.
#[test]
fn heat_given_off_is_part_of_what_a_cooler_takes_out() {
    let load = |text: &str| {
        let loaded = read(text);
        let worked = pipeline::work_out(&loaded).expect("worked out");
        worked.climate_days.cooling.as_ref().and_then(|c| c.load).expect("a van with a cooler and a shell")
    };
    let heron = std::fs::read_to_string(crate::harness::root().join("specs/heron.toml")).expect("spec");
    let with = "\n[component.kiln]\nkind = \"appliance\"\nwhat = \"A kiln.\"\nsupply = \"none\"\nheat_given = \"150 W\"\ncount = 2\n";
    let more = load(&format!("{heron}{with}")) - load(&heron);
    assert!((more - 300.0).abs() < 1e-6, "{more}");
}

/// A van with a bank, a panel and an appliance that says this of itself.
fn small(says: &str) -> String {
    format!(
        "[build]\ntitle = \"T\"\nhandover = 2027-04-09\n[place.bench]\nabout = \"Bench\"\n[component]\n\
         bank = {{ kind = \"battery-bank\", capacity = \"100 Ah\", place = \"bench\" }}\n\
         main = {{ kind = \"main-fuse\", fed_from = \"bank\", run = \"1 m\", place = \"bench\" }}\n\
         panel = {{ kind = \"fuse-panel\", fed_from = \"main\", run = \"1 m\", place = \"bench\" }}\n\
         thing = {{ kind = \"appliance\", what = \"A thing.\", place = \"bench\", {says} }}\n"
    )
}

/// Turnstone with the cold box on a panel that has a way left for it.
fn with_cold_box() -> String {
    let panel = "ways      = 16\n";
    assert_eq!(TURNSTONE.matches(panel).count(), 1);
    format!("{}{THREE_WAY}", TURNSTONE.replace(panel, "ways      = 18\n"))
}

fn read(text: &str) -> Loaded {
    pipeline::load(house(), "appliance.toml", text.as_bytes()).expect("kinds")
}

fn sheets(worked: &Worked<'_>) -> BTreeMap<String, String> {
    let sheets = pipeline::sheets(worked, &Only::default()).expect("documents");
    sheets.into_iter().map(|s| (s.stem.clone(), s.markdown.replace('\u{a0}', " "))).collect()
}

/// The calendar of the phone.
fn worked_ics(worked: &Worked<'_>) -> String {
    let sheets = pipeline::sheets(worked, &Only::default()).expect("documents");
    let mut beside = sheets.into_iter().flat_map(|s| s.beside);
    let (_, text) = beside.find(|(name, _)| name.ends_with(".ics")).expect("a calendar");
    text.replace("\r\n ", "")
}

/// The findings of a spec that are errors, and warnings of some names.
fn names(text: &str) -> Vec<String> {
    findings(text).iter().map(|f| format!("{} {}", f.name, f.subject.as_deref().unwrap_or(""))).collect()
}

#[test]
fn an_appliance_takes_part_in_all_that_it_says() {
    let text = van();
    let loaded = read(&text);
    let worked = pipeline::work_out(&loaded).expect("worked out");
    let errors: Vec<_> = worked.findings.iter().filter(|f| f.severity == rigbinder::diag::Severity::Error).collect();
    assert!(errors.is_empty(), "{errors:?}");

    // The bank is of lead: 12 V. 300 W / 12 V = 25 A; 500 W / 230 V = 2.17 A.
    let load = |id: &str| worked.electrical.circuits[id].demand.load.0;
    assert!(
        (load("coffee") - 25.0).abs() < 0.01 && (load("dryer") - 2.174).abs() < 0.01,
        "{} {}",
        load("coffee"),
        load("dryer")
    );
    for id in ["stove", "chest"] {
        assert!(!worked.build.circuits.contains_key(id), "what takes no electricity has no circuit");
    }
    let mass = |id: &str| worked.weight.items.all.iter().filter(|i| i.part == id).map(|i| i.mass.0).sum::<f64>();
    assert!((mass("chest") - 6.0).abs() < 1e-9, "{}", mass("chest"));
    // 0.1 kg of propane in its hour a day, 46.35 MJ/kg (lower heating value): 1288 Wh.
    let plain = read(TURNSTONE);
    let before = pipeline::work_out(&plain).expect("worked out");
    let day = |w: &Worked<'_>| w.climate_days.fuels["lpg"].need / w.climate_days.fuels["lpg"].nights;
    assert!((day(&worked) - day(&before) - 1288.0).abs() < 10.0, "{} {}", day(&worked), day(&before));
    assert!(worked.water.outlets.iter().any(|o| o.part == "coffee"), "water reaches the coffee machine");
    assert!(worked.build.parts["coffee"].roles.load.is_some() && worked.build.parts["coffee"].roles.burner.is_none());
    assert!(worked.build.parts["stove"].roles.burner.is_some() && worked.build.parts["stove"].roles.load.is_none());
}

#[test]
fn each_of_its_choices_asks_for_what_it_needs() {
    let has = |says: &str, name: &str| names(&small(says)).iter().any(|n| n == name);
    for fuel in ["lpg", "diesel", "petrol", "wood"] {
        let says = format!("supply = \"none\", burns = \"{fuel}\"");
        assert!(names(&small(&says)).iter().any(|n| n.starts_with("co-alarm-missing")), "{fuel}");
        assert_eq!(names(&small(&says)).iter().any(|n| n.starts_with("lpg-locker-missing")), fuel == "lpg");
    }
    let none = names(&small("supply = \"none\""));
    assert!(
        !none.iter().any(|n| n.starts_with("co-alarm") || n.ends_with(" thing") && !n.starts_with("mass")),
        "{none:?}"
    );
    for water in ["out", "in-and-out"] {
        assert!(has(&format!("supply = \"none\", water = \"{water}\""), "basin-drains-nowhere thing"), "{water}");
    }
    assert!(
        !has("supply = \"none\", water = \"in\"", "basin-drains-nowhere thing"),
        "what gives none back drains nowhere"
    );
    assert!(has("supply = \"none\", fed_from = \"panel\"", "fed-without-supply thing"));
    assert!(has("supply = \"dc\", draw = \"20 W\"", "not-fed thing"));
    assert!(!has("supply = \"dc\", draw = \"20 W\", fed_from = \"panel\", run = \"1 m\"", "not-fed thing"));
}

#[test]
fn its_texts_are_told_as_they_stand() {
    let text = van();
    let loaded = read(&text);
    let worked = pipeline::work_out(&loaded).expect("worked out");
    let sheets = sheets(&worked);
    let manual = &sheets["owners-manual"];
    for text in [
        "A coffee machine for two cups \\{\\{ fuse \\}\\} and no more",
        "Fill the grinder.",
        "It hums at about 9 bar.",
        "Never open it under pressure.",
        "The coffee runs slowly.",
        "Grind coarser.",
        "Dries clothes.",
    ] {
        let plain = manual.replace('\\', "");
        assert!(plain.contains(&text.replace('\\', "")), "{text} is not in the manual");
    }
    assert!(!manual.contains("{{ said"), "a fact has no name in a document");
    // Each stands under a heading of its own, in its own system.
    assert!(manual.contains("Coffee machine") && manual.contains("Dryer"), "headings");
    let packets: String =
        sheets.iter().filter(|(stem, _)| stem.starts_with("packet-")).map(|(_, t)| t.as_str()).collect();
    for text in ["Connect the gas of", "Connect the water of", "Light and test", "carbon monoxide"] {
        assert!(packets.contains(text), "{text} is in no packet");
    }
}

#[test]
fn tasks_and_upkeep_of_a_spec_are_told_like_those_of_kinds() {
    let text = van();
    let loaded = read(&text);
    let worked = pipeline::work_out(&loaded).expect("worked out");
    let all = sheets(&worked);
    let packets: String = all.iter().filter(|(stem, _)| stem.starts_with("packet-")).map(|(_, t)| t.as_str()).collect();
    for text in [
        "Draw the first shot",
        "Hot water and steam.",
        "Pressure at the group",
        "± 1 bar",
        "Second person has tasted it.",
        "Hose the roof down",
        "Roof",
    ] {
        assert!(packets.contains(text), "{text} is in no packet");
    }
    // The caution stands before the steps.
    let at = |text: &str| packets.find(text).unwrap_or_else(|| panic!("{text}"));
    assert!(at("Hot water and steam.") < at("Let it heat for 15 minutes."));
    // Readings: recorded, judged, missing at handover where they are not.
    assert_eq!(worked.readings.results["coffee.group-pressure"].recorded, "9.2 bar");
    let missing: Vec<&str> = worked.missing.iter().map(|m| m.id.as_str()).collect();
    assert!(missing.contains(&"hose-test.drops") && missing.contains(&"first-shot"), "{missing:?}");
    assert!(!missing.contains(&"coffee.group-pressure"));
    assert!(all["test-record"].contains("Pressure at the group") && all["test-record"].contains("9.2 bar"));
    let out = findings(&text.replace("9.2 bar", "12 bar"));
    assert!(out.iter().any(|f| f.name == "reading-out-of-tolerance"), "12 bar is not 9 ± 1 bar");

    // Upkeep: monthly in calendar and iCalendar, by season in the manual.
    let plan = worked.due_dates().expect("a plan");
    let days: Vec<String> =
        plan.dated.iter().filter(|d| d.upkeep == "descale").map(|d| d.date.to_string()).take(3).collect();
    assert_eq!(days, ["2027-10-30", "2027-11-30", "2027-12-30"]);
    let calendar = &all["maintenance-calendar"];
    for text in
        ["Descale the coffee machine", "Acid burns the eyes.", "Citric acid, 20 g in 1 L", "Wax the roof", "Roof"]
    {
        assert!(calendar.contains(text), "{text} is not in the calendar");
    }
    assert!(all["owners-manual"].contains("Empty the coffee machine's hoses"), "work before the frost");
    let ics = worked_ics(&worked);
    assert!(ics.contains("Descale the coffee machine") && ics.contains("Wax the roof"), "{ics}");
}

/// Text in a spec is data: what looks like a template or a mark is printed as it stands.
#[test]
fn hostile_texts_are_printed_as_they_stand() {
    let hostile = "{{ name }} {% if x %} {# c #} <b>*x*</b> [l](u) | `c`";
    let text = van()
        .replace("Fill the grinder.", hostile)
        .replace("Citric acid, 20 g in 1 L.", hostile)
        .replace("Let it heat for 15 minutes.", hostile)
        .replace("Never open it under pressure.", hostile);
    let loaded = read(&text);
    let worked = pipeline::work_out(&loaded).expect("worked out");
    let all = sheets(&worked);
    for (stem, markdown) in &all {
        for alive in ["<b>*x*", "[l](u)"] {
            assert!(!markdown.contains(alive), "{stem} holds {alive}");
        }
    }
    for stem in ["owners-manual", "maintenance-calendar", "packet-11-commissioning"] {
        let plain = all[stem].replace('\\', "");
        assert!(plain.contains("{{ name }} {% if x %} {# c #}"), "{stem} prints it as it stands");
    }
}

#[test]
fn what_is_wrong_in_a_list_of_tables_is_told_at_its_place() {
    let told = |from: &str, to: &str| {
        assert!(OWN.contains(from), "{from}");
        let text = van().replacen(from, to, 1);
        let loaded = read(&text);
        let worked = pipeline::work_out(&loaded).expect("worked out");
        let found: Vec<(String, String)> = worked
            .findings
            .iter()
            .map(|f| (f.name.to_owned(), f.span.map_or(String::new(), |s| loaded.file.slice(s).to_owned())))
            .collect();
        found
    };
    for (from, to, name, at) in [
        ("signal = \"warning\"", "signal = \"panic\"", "unknown-choice", "\"panic\""),
        ("hazard = ", "hazzard = ", "unknown-field", "hazzard"),
        ("consequence = \"Scalds.\", ", "", "missing-field", "{"),
        ("is = \"9 bar\"", "is = \"9 V\"", "reading-unclear", "\"9 V\""),
        ("type = \"pressure\", ", "", "reading-unclear", "\"9 bar\""),
        ("is = \"9 bar\", within = \"1 bar\"", "", "reading-unclear", "\"group-pressure\""),
        ("id = \"group-pressure\"", "id = \"Group pressure\"", "id-not-plain", "\"Group pressure\""),
        ("component = \"coffee\" # task", "component = \"cofee\"", "unknown-component", "\"cofee\""),
        ("place    = \"roof\" # task", "place = \"rof\"", "unknown-place", "\"rof\""),
        ("do = [\"Grind coarser.\"]", "do = \"Grind coarser.\"", "wrong-type", "\"Grind coarser.\""),
        ("minutes   = 20", "minutes = \"20\"", "wrong-type", "\"20\""),
    ] {
        let found = told(from, to);
        assert!(found.iter().any(|(n, s)| n == name && s.starts_with(at)), "{to}: {found:?}");
    }
    let upkeep = |from: &str, to: &str| {
        assert!(OWN.contains(from), "{from}");
        let text = van().replacen(from, to, 1);
        let loaded = read(&text);
        let worked = pipeline::work_out(&loaded).expect("worked out");
        let found: Vec<String> = worked
            .findings
            .iter()
            .filter(|f| f.name == "upkeep-unreadable")
            .map(|f| loaded.file.slice(f.span.expect("a place")).to_owned())
            .collect();
        found
    };
    assert_eq!(upkeep("every     = \"1 month\"", "every = \"often\""), ["\"often\""]);
    assert_eq!(upkeep("every     = \"1 month\"", "every = \"1 month\"\nonce = \"2 months\""), ["\"2 months\""]);
    assert_eq!(upkeep("every     = \"1 month\"", "distance = \"far\""), ["\"far\""]);
    assert_eq!(upkeep("every     = \"1 month\"\n", "").len(), 1);
    assert!(upkeep("every     = \"1 month\"", "distance = \"500 km\"").is_empty());
}
