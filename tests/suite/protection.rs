//! Protection: what a short draws at each device, who says that it breaks it, and what stands before each user of AC.

use crate::harness::{demo_specs, findings, load, stem};
use rigbinder::build::{Circuit, Part};
use rigbinder::compute::electrical::interrupting::Interrupting;
use rigbinder::compute::network::{DeviceAt, Electrical, evidence};
use rigbinder::diag::Finding;
use rigbinder::kinds::{Network, Role};
use rigbinder::pipeline::{self, Only, Worked};
use rigbinder::tables::fuse_series::Family;
use rigbinder::units::Volts;
use std::collections::BTreeSet;

const BANK: &str = r#"
[component]
bank   = { kind = "battery-bank", capacity = "100 Ah", fault_current = "6400 A" }
fuse   = { kind = "main-fuse", fed_from = "bank", interrupting = "20 kA", interrupting_from = "data sheet" }
panel  = { kind = "fuse-panel", fed_from = "fuse", run = "1 m", conductor = "8 AWG" }
pump   = { kind = "water-pump", fed_from = "panel", run = "1 m" }
"#;

fn electrical(text: &str) -> Electrical {
    let loaded = pipeline::load(crate::harness::house(), "test.toml", text.as_bytes()).expect("kinds");
    pipeline::work_out(&loaded).expect("profile").figures.electrical
}

fn verdict(text: &str, circuit: &str) -> Option<Interrupting> {
    electrical(text).circuits[circuit].breaking
}

fn with(after: &str, more: &str) -> String {
    let text = BANK.replacen(after, &format!("{after}, {more}"), 1);
    assert_ne!(text, BANK);
    text
}

/// 12.8 V over 2 mΩ in the bank and 2 m of 8 AWG at 20 °C: 0.778 Ω/kft stranded and uncoated at 75 °C (NEC Chapter 9
/// Table 8), with its note 2 (α = 0.00323) 2.099 mΩ/m at 20 °C, so 12.8 V / (2 mΩ + 4.198 mΩ) = 2065 A. The main fuse
/// before it takes nothing off.
#[test]
fn a_short_is_judged_at_the_place_and_no_fuse_before_it_counts() {
    let short = electrical(BANK).circuits["pump"].fault.expect("a short").current.0;
    assert!((short - 2065.0).abs() < 5.0, "{short}");
    assert_eq!(verdict(BANK, "pump"), Some(Interrupting::Unproven));
    assert_eq!(verdict(BANK, "fuse"), Some(Interrupting::Enough));
}

#[test]
fn a_data_sheet_a_tested_pair_or_more_cable_closes_it() {
    let feed = "conductor = \"8 AWG\"";
    let sheet = with(feed, "way_interrupting = \"3 kA\", way_interrupting_from = \"data sheet\"");
    assert_eq!(verdict(&sheet, "pump"), Some(Interrupting::Enough));
    let no_source = with(feed, "way_interrupting = \"3 kA\"");
    assert_eq!(verdict(&no_source, "pump"), Some(Interrupting::Unproven));
    let blank = with(feed, "way_interrupting = \"3 kA\", way_interrupting_from = \" \"");
    assert_eq!(verdict(&blank, "pump"), Some(Interrupting::Unproven));
    let pair = "way_interrupting = \"10 kA\", way_interrupting_from = \"data sheet\", way_tested_with = ";
    assert_eq!(verdict(&with(feed, &format!("{pair}\"fuse\"")), "pump"), Some(Interrupting::TestedPair));
    // Tested with something that does not stand before it.
    assert_eq!(verdict(&with(feed, &format!("{pair}\"pump\"")), "pump"), Some(Interrupting::Unproven));
    let longer = BANK.replacen("run = \"1 m\", conductor", "run = \"3 m\", conductor", 1);
    assert_eq!(verdict(&longer, "pump"), Some(Interrupting::Enough));
    // The way's own word wins over the panel's.
    let weak = sheet.replacen("fed_from = \"panel\"", "fed_from = \"panel\", interrupting = \"1500 A\"", 1);
    assert_eq!(verdict(&weak, "pump"), Some(Interrupting::NotEnough));
}

#[test]
fn what_is_left_open_breaks_by_its_standard_what_its_place_draws() {
    let chain = |run: &str, draw: &str| {
        format!(
            "{BANK}bar = {{ kind = \"busbar\", fed_from = \"fuse\", run = \"{run}\", conductor = \"8 AWG\" }}\n\
             far = {{ kind = \"fridge\", fed_from = \"bar\", run = \"1 m\", draw = \"{draw}\" }}\n"
        )
    };
    let family = |run: &str, draw: &str| electrical(&chain(run, draw)).circuits["far"].device.family.map(Family::word);
    assert_eq!(family("4 m", "60 W"), Some("blade"), "below 1000 A");
    assert_eq!(family("1 m", "60 W"), Some("class-t"), "2065 A");
}

#[test]
fn each_device_is_told_of_and_accepted_by_itself() {
    let own = |text: &str| -> Vec<Finding> {
        findings(text).into_iter().filter(|f| f.name == "interrupting-unproven").collect()
    };
    let bare = BANK.replacen(", interrupting = \"20 kA\", interrupting_from = \"data sheet\"", "", 1);
    let subjects: Vec<_> = own(&bare).into_iter().filter_map(|f| f.subject).collect();
    assert_eq!(subjects, ["fuse", "panel.ways"]);
    let accepted = |about: &str| {
        let entry = format!(
            "\n[[accepted]]\nfinding = \"interrupting-unproven\"\n{about}reason = \"it is so\"\nby = \"R. H.\"\n"
        );
        own(&format!("{bare}{entry}")).iter().map(|f| f.accepted.is_some()).collect::<Vec<_>>()
    };
    assert_eq!(accepted(""), [false, false]);
    assert_eq!(accepted("about = \"panel.ways\"\n"), [false, true]);
}

/// The three demo builds with a shore inlet, the fourth and every build drawn at random.
#[test]
fn demo_builds_are_protected_as_their_documents_say() {
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        assert!(judged_as_told(&worked) > 0, "{}", stem(&path));
        let ac = ac_is_protected_or_told(&worked);
        // These two have no mains.
        assert!(ac > 0 || ["weekend", "ember"].contains(&stem(&path)), "{}", stem(&path));
        let open = worked
            .findings
            .iter()
            .filter(|f| f.name.starts_with("interrupting-") || f.name == "fault-current-unsourced");
        assert_eq!(open.count(), 0, "{}", stem(&path));
        let only = Only { documents: vec!["schedule".to_owned()], ..Only::default() };
        let sheets = pipeline::sheets(&worked, &only).expect("documents");
        listed_once(&worked, &sheets[0].markdown);
    }
}

/// The shore side of one demo build has a main breaker, a residual-current device and a rated way.
#[test]
fn the_way_of_a_shore_input_is_a_breaker() {
    let path = demo_specs().into_iter().find(|p| stem(p) == "turnstone").expect("turnstone");
    let loaded = load(&path);
    let worked = pipeline::work_out(&loaded).expect("profile");
    let way = &worked.electrical.circuits["inverter-charger.shore"].device;
    assert_eq!((&way.at, way.rating.map(|r| r.0)), (&DeviceAt::Way, Some(13.0)));
    let only = Only { documents: vec!["schedule".to_owned()], ..Only::default() };
    let schedule = &pipeline::sheets(&worked, &only).expect("documents")[0].markdown;
    assert!(!schedule.contains("by its supply, 10 A"), "{schedule}");
    assert_eq!(
        schedule.lines().filter(|l| l.contains("main breaker |") && l.contains("16 A 2-pole B breaker")).count(),
        2
    );
}

/// What the figures say of a device is what is known of it, and what is not shown has a finding. Gives how many.
pub(crate) fn judged_as_told(worked: &Worked<'_>) -> usize {
    let mut judged = 0;
    for (id, figures) in &worked.electrical.circuits {
        let (Some(breaking), Some(short)) = (figures.breaking, figures.fault) else { continue };
        judged += 1;
        let circuit = &worked.build.circuits[id];
        let family = figures.device.family.and_then(|f| f.series().breaks_at(Volts(figures.nominal.0), None));
        let proof = evidence(&worked.build, circuit, &figures.device);
        let given = proof.as_ref().and_then(|e| e.figure.get());
        let source = proof.as_ref().and_then(|e| e.source());
        let enough = |amps: f64| amps >= short.current.0 * (1.0 - 1e-9);
        let shown = given.map_or_else(|| family.is_some_and(|b| enough(b.amps)), |g| enough(g.0));
        assert!(!breaking.is_kept() || shown, "{id}: {breaking:?} at {short:?}");
        let beyond = family.is_none_or(|b| !enough(b.amps));
        assert!(!(breaking.is_kept() && beyond) || source.is_some(), "{id}: kept without a source");
        let subject = match &figures.device.at {
            DeviceAt::Way => format!("{}.ways", circuit.from),
            DeviceAt::Component(part) => part.clone(),
            _ => id.clone(),
        };
        let told = |name: &str, about: &str| {
            worked.findings.iter().any(|f| f.name == name && f.subject.as_deref() == Some(about))
        };
        match breaking {
            Interrupting::Unproven => assert!(told("interrupting-unproven", &subject), "{id}: nobody is told"),
            Interrupting::NotEnough => {
                assert!(told("interrupting-below-fault", &circuit.owner), "{id}: nobody is told");
            }
            Interrupting::Enough | Interrupting::TestedPair => {}
        }
    }
    judged
}

/// Whatever uses AC has a breaker and a residual-current device on every path from a source, or a finding names it.
/// Gives how many paths there were.
pub(crate) fn ac_is_protected_or_told(worked: &Worked<'_>) -> usize {
    let mut seen = 0;
    for part in worked.build.parts.values() {
        let on_ac = part.electric().is_some_and(|e| e.network == Network::Ac);
        let uses = match part.role() {
            Some(Role::Outlet | Role::Load | Role::Display | Role::Charger) => on_ac,
            role => role == Some(Role::InverterCharger),
        };
        if !uses {
            continue;
        }
        for (breaker, residual) in paths(worked, part, (false, false), &mut BTreeSet::new()) {
            seen += 1;
            let told = |names: &[&str]| {
                worked
                    .findings
                    .iter()
                    .any(|f| names.contains(&f.name) && f.subject.as_deref() == Some(part.id.as_str()))
            };
            assert!(breaker || told(&["main-breaker-missing"]), "{}: no breaker and no finding", part.id);
            let names = ["outlet-without-residual-current-protection", "wet-outlet-unprotected"];
            assert!(residual || told(&names), "{}: no residual-current device and no finding", part.id);
        }
    }
    seen
}

/// Each path from a part up to a source of AC: whether a breaker and whether a residual-current device stands on it.
fn paths(worked: &Worked<'_>, part: &Part<'_>, met: (bool, bool), on: &mut BTreeSet<String>) -> Vec<(bool, bool)> {
    let mut found = Vec::new();
    if !on.insert(part.id.clone()) {
        return found;
    }
    let arriving: Vec<&Circuit> =
        worked.build.arriving(&part.id).filter(|c| c.network == Network::Ac && c.to == part.id).collect();
    for circuit in arriving {
        let from = &worked.build.parts[&circuit.from];
        let own = worked.electrical.circuits[&circuit.id].device.is_own();
        let rcd = from.role() == Some(Role::Rcd);
        let holds = from.role() == Some(Role::AcPanel) || (rcd && from.record.flag("with_overcurrent"));
        let met = (met.0 || own || holds, met.1 || rcd);
        match from.role() {
            Some(Role::Inlet | Role::Inverter | Role::InverterCharger) => found.push(met),
            // It brings a breaker of its own.
            Some(Role::Generator) => found.push((true, met.1)),
            _ => found.extend(paths(worked, from, met, on)),
        }
    }
    on.remove(&part.id);
    found
}

/// Every protective device stands in one row of the schedule's list, under the label of its circuit or its own id.
fn listed_once(worked: &Worked<'_>, schedule: &str) {
    let list = schedule.split("## Fuses and breakers").nth(1).expect("the list").split("\n## ").next().expect("text");
    let labels: Vec<&str> = list
        .lines()
        .filter(|l| l.starts_with("| ") && !l.starts_with("| Device") && !l.starts_with("| ---"))
        .filter_map(|l| l.trim_end_matches(" |").rsplit(" | ").next())
        .flat_map(|cell| cell.split(", "))
        .collect();
    let mut devices: Vec<String> = Vec::new();
    for (id, figures) in &worked.electrical.circuits {
        if figures.device.is_own() && figures.device.rating.is_some() {
            devices.push(id.clone());
        }
    }
    for part in worked.build.parts.values() {
        match part.role() {
            Some(Role::AcPanel) => devices.push(format!("{} (main breaker)", part.id)),
            Some(Role::Rcd) => devices.push(part.id.clone()),
            _ => {}
        }
    }
    assert!(devices.len() > 3);
    // A way and the device it feeds may share a label: two devices, two rows.
    for device in &devices {
        let rows = labels.iter().filter(|l| l.replace('`', "") == *device).count();
        assert_eq!(rows, devices.iter().filter(|d| *d == device).count(), "{device} in {labels:?}");
    }
}
