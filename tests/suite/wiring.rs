//! The conductors of a build: each has two ends, a closed path leads from every load to the bank and back, and every list
//! is a view of the one list.

use crate::harness::{demo_specs, load};
use petgraph::graph::{NodeIndex, UnGraph};
use rigbinder::build::{Build, Conductor, Part, RouteBy, VEHICLE};
use rigbinder::kinds::{Carries, Network, PostSide, Role};
use rigbinder::pipeline::{self, Only, Worked};
use std::collections::BTreeMap;

fn is_positive(carries: Carries) -> bool {
    matches!(carries, Carries::Positive | Carries::SwitchedPositive)
}

/// Parts and conductors as a graph, of the positives or of the negatives alone.
fn graph<'a>(
    build: &'a Build<'_>,
    wanted: impl Fn(&Conductor) -> bool,
) -> (UnGraph<&'a str, ()>, BTreeMap<&'a str, NodeIndex>) {
    let mut graph = UnGraph::new_undirected();
    let nodes: BTreeMap<&str, NodeIndex> =
        build.parts.keys().map(|id| (id.as_str(), graph.add_node(id.as_str()))).collect();
    for conductor in build.wiring.conductors.values().filter(|c| wanted(c)) {
        if conductor.ends().iter().any(|end| end.part == VEHICLE) {
            continue;
        }
        graph.add_edge(nodes[conductor.from.part.as_str()], nodes[conductor.to.part.as_str()], ());
    }
    (graph, nodes)
}

/// From every load on the house network a path of positives and a path of negatives leads to the bank; returns how many
/// loads there were.
pub(crate) fn paths_close(worked: &Worked<'_>) -> usize {
    let build = &worked.build;
    let banks: Vec<&str> =
        build.parts.values().filter(|p| p.role() == Some(Role::Bank)).map(|p| p.id.as_str()).collect();
    let bars_return = build.parts.values().filter(|p| p.roles.negative_bar.is_some());
    let bars_return = bars_return.into_iter().all(|p| !p.roles.returns_to().all().is_empty());
    let sides = [graph(build, |c| is_positive(c.carries)), graph(build, |c| c.carries == Carries::Negative)];
    let mut loads = 0;
    for part in build.parts.values().filter(|p| matches!(p.role(), Some(Role::Load | Role::Display))) {
        let own = build.circuits.get(&part.id).filter(|c| c.network == Network::Dc);
        let fed = own.is_some_and(|_| {
            build.upstream(&part.id).along(|c| c.owner == c.to).parts().any(|p| p.role() == Some(Role::Bank))
        });
        if !fed || !bars_return {
            continue;
        }
        loads += 1;
        for (side, (graph, nodes)) in ["positives", "negatives"].iter().zip(&sides) {
            let closes = banks
                .iter()
                .any(|bank| petgraph::algo::has_path_connecting(graph, nodes[part.id.as_str()], nodes[bank], None));
            assert!(closes, "{}: no path of {side} leads to the bank", part.id);
        }
    }
    loads
}

#[test]
fn every_load_has_a_closed_path() {
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        let loads = paths_close(&worked);
        assert!(loads > 2, "{}: {loads}", path.display());
    }
}

/// What a conductor carries is what the posts at both its ends take, and a post is there wherever a kind has such posts.
pub(crate) fn ends_fit(worked: &Worked<'_>) {
    let build = &worked.build;
    for (id, conductor) in &build.wiring.conductors {
        for end in conductor.ends() {
            // An end at the vehicle is told in words.
            let Some(part): Option<&Part<'_>> = build.parts.get(&end.part) else { continue };
            let Some(post) = part.post(end) else { continue };
            let alike = post.takes == conductor.carries
                || is_positive(post.takes) && is_positive(conductor.carries)
                || matches!(conductor.carries, Carries::Sense | Carries::Signal | Carries::Bond | Carries::Control)
                || end.switch.is_some();
            assert!(alike, "{id}: {:?} ends on {}, which takes {:?}", conductor.carries, end.show(build), post.takes);
        }
        assert_ne!(conductor.from, conductor.to, "{id} ends where it begins");
    }
}

#[test]
fn conductors_end_on_posts_that_take_them() {
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        ends_fit(&worked);
        // A charger, an inverter, a panel: its input is not its output.
        for (id, conductor) in worked.build.wiring.conductors.iter().filter(|(_, c)| c.circuit.is_some()) {
            let part = &worked.build.parts[&conductor.to.part];
            let sided = part.post(&conductor.to).and_then(|post| post.side);
            let circuit = &worked.build.circuits[conductor.circuit.as_ref().expect("a circuit")];
            if !conductor.is_back() && conductor.to.part == circuit.to {
                assert!(sided != Some(PostSide::Out), "{}: {id} arrives at an output", path.display());
            }
        }
    }
}

/// Lines of a section of a document that are rows of its tables.
fn rows<'a>(markdown: &'a str, section: &str) -> Vec<&'a str> {
    let Some((_, rest)) = markdown.split_once(&format!("\n## {section}\n")) else { return Vec::new() };
    let section = rest.split("\n## ").next().unwrap_or(rest);
    section.lines().filter(|line| line.starts_with("| ☐ |") || line.starts_with("| `")).collect()
}

/// The conductors a row tells of: its label, and its label with each word before a sign.
fn told(row: &str) -> Vec<String> {
    let cells: Vec<&str> = row.trim_start_matches("| ").split(" | ").collect();
    let at = cells.iter().position(|cell| cell.starts_with('`')).expect("a label");
    let label = cells[at].trim_matches('`');
    let names = cells[at + 1].split(", ").map(|said| said.split(' ').next().unwrap_or(said));
    // By the rules of the United States earth is ground.
    let names = names.map(|name| name.replace("ground", "earth"));
    // The list of fuses in the line has shorter rows: it tells of no end.
    let whole = (cells.len() > 5).then(|| label.to_owned());
    names.map(|name| format!("{label} {name}")).chain(whole).collect()
}

/// Boxes to tick in a row: one for a cable that is pulled, one for each end that is made.
fn boxes(row: &str, section: &str) -> usize {
    if section == "Terminations" { row.matches('☐').count() } else { 1 }
}

/// Every conductor is pulled once and both its ends are terminated, each in one row; a holder in the line has two ends
/// more.
#[test]
fn each_conductor_is_in_one_pull_list_and_both_ends_in_one_terminate_list() {
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        let wanted: BTreeMap<String, usize> = worked
            .build
            .wiring
            .conductors
            .values()
            .filter(|c| worked.electrical.conductors.contains_key(&c.id))
            .filter(|c| worked.build.parts[&c.owner].is_worked_on())
            .map(|c| (c.circuit.as_ref().map_or_else(|| c.id.clone(), |circuit| format!("{circuit} {}", c.local)), 0))
            .collect();
        assert!(wanted.len() > 20, "{}: {}", path.display(), wanted.len());
        let sheets = pipeline::sheets(&worked, &Only::default()).expect("documents");
        for (section, also, times) in [("Wires to pull", "Links to cut", 1), ("Terminations", "", 2)] {
            let mut seen = wanted.clone();
            for sheet in sheets.iter().filter(|s| s.stem.starts_with("packet-")) {
                for row in rows(&sheet.markdown, section).into_iter().chain(rows(&sheet.markdown, also)) {
                    // The rows of fuses in the line are not about one conductor, and a head is about none.
                    if section == "Terminations" && !row.starts_with("| `") || !row.contains('`') {
                        continue;
                    }
                    for conductor in told(row) {
                        if let Some(count) = seen.get_mut(&conductor) {
                            *count += boxes(row, section);
                        }
                    }
                }
            }
            let wrong: Vec<_> = seen.iter().filter(|(_, n)| **n != times).collect();
            assert!(wrong.is_empty(), "{}, {section}: {wrong:?}", path.display());
        }
    }
}

/// The worked example of the wiring: lengths by hand from the points of the channels.
const CHANNELS: &str = r#"
[channel.riser]
about = "Conduit behind the galley"
inside = "32 mm"
points = [["4.15 m", "0.80 m", "0.32 m"], ["4.15 m", "0.80 m", "0.95 m"], ["3.40 m", "0.80 m", "0.95 m"], ["3.40 m", "0.80 m", "1.38 m"]]
[channel.cross]
about = "Duct across the garage"
form = "duct"
inside = "40 mm"
points = [["4.15 m", "0.80 m", "0.32 m"], ["4.28 m", "0.80 m", "0.32 m"], ["4.28 m", "0.45 m", "0.10 m"], ["4.28 m", "-0.50 m", "0.10 m"]]
[place.board]
at = ["4.15 m", "0.74 m", "0.32 m"]
size = ["0.34 m", "0.25 m", "0.48 m"]
[place.galley-wall]
at = ["3.35 m", "0.70 m", "1.38 m"]
size = ["1.25 m", "0.32 m", "0.35 m"]
[place.garage-left]
at = ["4.62 m", "0.62 m", "0.05 m"]
size = ["0.60 m", "0.40 m", "0.40 m"]
[place.garage-right]
at = ["4.72 m", "-0.60 m", "0.03 m"]
size = ["0.78 m", "0.42 m", "0.50 m"]
[build]
title = "Van"
[component]
house-bank = { kind = "battery-bank", capacity = "280 Ah", place = "garage-left" }
monitor = { kind = "battery-monitor", returns_to = "house-bank", run = "0.5 m", place = "board", display_at = "galley-wall" }
main-fuse = { kind = "main-fuse", fed_from = "house-bank", run = "0.3 m", place = "garage-left" }
bar = { kind = "busbar", fed_from = "main-fuse", run = "0.5 m", place = "board" }
minus = { kind = "negative-busbar", mirrors = "bar", returns_to = "monitor", run = "0.4 m", place = "board" }
house-panel = { kind = "fuse-panel", fed_from = "bar", run = "0.4 m", place = "board" }
control-panel = { kind = "control-panel", fed_from = "house-panel", place = "galley-wall", switch.pump = { label = "WATER PUMP" } }
water-pump = { kind = "water-pump", fed_from = "house-panel", switched_at = "control-panel.pump", place = "garage-right" }
"#;

#[test]
fn lengths_come_from_the_channels() {
    let loaded = pipeline::load(crate::harness::house(), "test.toml", CHANNELS.as_bytes()).expect("kinds");
    let worked = pipeline::work_out(&loaded).expect("profile");
    let conductors = &worked.build.wiring.conductors;
    let told = |id: &str| {
        let route = &conductors[id].route;
        (format!("{:.2}", route.length.expect("a length").0), route.by, route.channels.join(", "))
    };
    assert_eq!(told("water-pump.supply"), ("1.84".to_owned(), RouteBy::Channels, "riser".to_owned()));
    assert_eq!(told("water-pump.leg"), ("4.00".to_owned(), RouteBy::Channels, "riser, cross".to_owned()));
    assert_eq!(told("water-pump.return").0, "2.28");
    assert_eq!(told("monitor.sense"), ("0.58".to_owned(), RouteBy::Straight, String::new()));
    assert_eq!(told("monitor.return"), ("0.50".to_owned(), RouteBy::Given, String::new()));
    let ends = |id: &str| conductors[id].ends().map(|end| end.show(&worked.build));
    assert_eq!(ends("water-pump.supply"), ["Fuse panel, way 2", "Control panel, WATER PUMP in"]);
    assert_eq!(ends("water-pump.leg"), ["Control panel, WATER PUMP out", "Water pump"]);
    assert_eq!(ends("monitor.return"), ["Battery monitor, battery", "Battery bank, minus"]);
    assert_eq!(ends("minus.return"), ["Negative busbar", "Battery monitor, load"]);
    // Half of the way there and back: what the drop is reckoned with.
    let run = worked.build.circuits["water-pump"].run.expect("a run").0;
    assert!((run - (1.84 + 4.00 + 2.28) / 2.0).abs() < 0.01, "{run}");
    let cut = worked.electrical.conductors["water-pump.leg"].cut.expect("a cut").0;
    assert!((cut - 4.30).abs() < 0.005, "{cut}");
}

/// One point of a channel moves: what lies there changes its length, and nothing else.
#[test]
fn a_moved_point_changes_just_its_conductors() {
    let lengths = |text: &str| {
        let loaded = pipeline::load(crate::harness::house(), "test.toml", text.as_bytes()).expect("kinds");
        let worked = pipeline::work_out(&loaded).expect("profile");
        let of = |c: &Conductor| (c.id.clone(), c.route.clone());
        worked.build.wiring.conductors.values().map(of).collect::<BTreeMap<_, _>>()
    };
    let before = lengths(CHANNELS);
    let after =
        lengths(&CHANNELS.replace("[\"4.28 m\", \"-0.50 m\", \"0.10 m\"]", "[\"4.28 m\", \"-0.55 m\", \"0.10 m\"]"));
    let changed: Vec<&str> =
        before.iter().filter(|(id, r)| after[*id].length != r.length).map(|(id, _)| id.as_str()).collect();
    assert_eq!(changed, ["water-pump.leg", "water-pump.return"]);
}
