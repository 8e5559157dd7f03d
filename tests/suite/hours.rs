//! Hours of the stages: tasks, and what the work on each conductor takes.

use crate::harness::{built_in, demo_specs, house, load, root, sheets};
use rigbinder::catalogue::{Catalogue, Layer};
use rigbinder::compute::network;
use rigbinder::kinds::Stage;
use rigbinder::pipeline::{self, Worked};
use std::collections::BTreeSet;
use std::fs;

/// Minutes of one person in a stage.
fn minutes(worked: &Worked<'_>, stage: Stage) -> u64 {
    let schedule = worked.schedule.as_ref().expect("no circle");
    schedule.stages.iter().find(|s| s.stage == stage.id()).map_or(0, |s| s.person_minutes)
}

/// The weekend demo with its own `[times]`, every one that is not said 0.
fn weekend(catalogue: &Catalogue, times: &[(&str, &str)]) -> [u64; 3] {
    let demo = fs::read_to_string(root().join("specs/weekend.toml")).expect("demo");
    let mut text = format!("{demo}\n[times]\n");
    for field in ["cable", "metre", "end", "heavy_end", "dead_test", "circuit_test"] {
        match times.iter().find(|(name, _)| *name == field) {
            Some((_, "shop")) => {}
            Some((_, time)) => text += &[field, " = \"", time, "\"\n"].concat(),
            None => text += &[field, " = \"0 min\"\n"].concat(),
        }
    }
    let loaded = pipeline::load(catalogue, "weekend.toml", text.as_bytes()).expect("kinds");
    assert!(loaded.findings.iter().all(|f| f.severity != rigbinder::diag::Severity::Error), "{:?}", loaded.findings);
    let worked = pipeline::work_out(&loaded).expect("profile");
    [Stage::ElectricalRoughIn, Stage::ElectricalFitOff, Stage::Commissioning].map(|stage| minutes(&worked, stage))
}

/// Each conductor has two ends to make, each cable is drawn in once, each circuit measured once: the hours are these counts
/// times what one takes, counted here from the list of conductors alone.
#[test]
fn each_conductor_end_cable_and_circuit_counts_once() {
    let loaded = load(&root().join("specs/weekend.toml"));
    let worked = pipeline::work_out(&loaded).expect("profile");
    let electrical = &worked.figures.electrical;
    let ours: Vec<_> = worked
        .build
        .wiring
        .conductors
        .values()
        .filter(|c| network::is_worked_on(&worked.build, c) && electrical.conductors.contains_key(&c.id))
        .collect();
    let heavy = |id: &str| {
        let size = electrical.conductors[id].size;
        size.is_some_and(|size| size.area().0 > 13.0)
    };
    let heavy_ends = 2 * ours.iter().filter(|c| heavy(&c.id)).count() as u64;
    let ends = 2 * ours.len() as u64 - heavy_ends;
    let cables = ours.iter().map(|c| &c.cable).collect::<BTreeSet<_>>().len() as u64;
    assert!(ends > 40 && heavy_ends > 2 && cables > 10, "{ends} {heavy_ends} {cables}");
    let none = weekend(house(), &[]);
    let more = |times: &[(&str, &str)]| {
        let with = weekend(house(), times);
        [with[0] - none[0], with[1] - none[1], with[2] - none[2]]
    };
    assert_eq!(more(&[("end", "10 min")]), [0, 10 * ends, 0]);
    assert_eq!(more(&[("heavy_end", "1 h")]), [0, 60 * heavy_ends, 0]);
    // What stays on a board is cut and tested in the fit-off, all else is pulled before.
    let both = |times: &[(&str, &str)]| {
        let [pull, links, tests] = more(times);
        assert!(pull > links && tests == 0, "{pull} {links} {tests}");
        pull + links
    };
    assert_eq!(both(&[("cable", "7 min")]), 7 * cables);
    assert_eq!(both(&[("dead_test", "2 min")]), 2 * ours.len() as u64);
    let pull = both(&[("metre", "1 h")]);
    let mut seen = BTreeSet::new();
    let lengths = ours
        .iter()
        .filter(|c| seen.insert(&c.cable))
        .filter_map(|c| electrical.conductors[&c.id].cut.or(c.route.length).map(|length| length.0));
    let metres: f64 = lengths.sum();
    let pull = f64::from(u32::try_from(pull).expect("minutes of a van"));
    assert!((pull - metres * 60.0).abs() <= 1.0, "{pull} min for {metres} m");
    let [_, _, tests] = more(&[("circuit_test", "5 min")]);
    assert!(tests > 0 && tests % 5 == 0, "{tests}");
}

/// What a shop's page says counts where the spec says nothing.
#[test]
fn a_shop_that_times_its_work_is_believed() {
    let page = ("shop.toml".to_owned(), b"[shop]\nname = \"Alder Works\"\n[times]\nend = \"20 min\"\n".to_vec());
    let shop = built_in().with(Layer::of_shop("my-shop", [page].into(), Vec::new()));
    let (none, said) = (weekend(&shop, &[]), weekend(house(), &[("end", "20 min")]));
    assert_eq!(weekend(&shop, &[("end", "shop")]), said);
    assert!(said[1] > none[1]);
    assert_eq!(weekend(&shop, &[("end", "0 min")]), none, "the spec is nearer");
}

/// The first packet tells every stage with its hours, and what decides the handover.
#[test]
fn the_first_packet_has_the_calendar_of_the_build() {
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        let schedule = worked.schedule.as_ref().expect("no circle");
        let all = sheets(&loaded);
        let packets: Vec<_> = all.iter().filter(|s| s.stem.contains("packet")).collect();
        let with: Vec<_> = packets.iter().filter(|s| s.markdown.contains("## Calendar of the build")).collect();
        assert_eq!(with.len(), 1, "{}", path.display());
        let told = &with[0].markdown;
        let begin = told.find("## Calendar of the build").expect("there");
        let section = &told[begin..begin + told[begin..].find("\n## Before").expect("next")];
        let rows = section.lines().filter(|l| l.starts_with("| ") && l.as_bytes()[2].is_ascii_digit()).count();
        assert_eq!(rows, schedule.stages.iter().filter(|s| s.tasks > 0).count(), "{section}");
        assert!(section.contains("decided by these tasks") && section.matches("- **").count() >= 3, "{section}");
    }
}
