//! Fitting as it can be worked: what goes onto a part goes on while it is on the bench, and nothing is cut, covered or joined
//! before what it waits for.

use crate::harness::{demo_specs, load, sheets};
use crate::orders::{Placed, in_demos, late};
use rigbinder::kinds::{Library, PlumbingRole, TaskTemplate};
use rigbinder::pipeline::Worked;
use std::collections::BTreeMap;

fn says(task: &Placed<'_>, words: &str) -> bool {
    task.template.is_some_and(|t| t.steps.iter().any(|s| s.contains(words)))
}

fn plumbing(worked: &Worked<'_>, task: &Placed<'_>) -> Option<PlumbingRole> {
    let part = task.part.and_then(|p| worked.build.parts.get(p));
    part.and_then(|p| p.kind.plumbing.as_ref()).map(|p| p.role)
}

/// Pads and senders go on while the tank is loose, insulation over the heating cable, drains on pipes that lie.
fn plumbed_in_turn(worked: &Worked<'_>, order: &[Placed<'_>]) -> Vec<String> {
    let is = |t: &Placed<'_>, roles: &[PlumbingRole]| plumbing(worked, t).is_some_and(|r| roles.contains(&r));
    let on_tank = |t: &Placed<'_>| {
        is(t, &[PlumbingRole::Pad, PlumbingRole::Sender]) && (t.brings("laid") || t.brings("attached"))
    };
    let strapped = |t: &Placed<'_>| is(t, &[PlumbingRole::FreshTank, PlumbingRole::GreyTank]) && t.brings("mounted");
    let mut faults = late(order, on_tank, strapped);
    let traced = |t: &Placed<'_>| is(t, &[PlumbingRole::Trace]) && t.brings("laid");
    faults.extend(late(order, traced, |t| is(t, &[PlumbingRole::Pipe]) && says(t, "Sleeve the pipe")));
    let drained = |t: &Placed<'_>| is(t, &[PlumbingRole::DrainValve]) && t.brings("mounted");
    faults.extend(late(order, |t| is(t, &[PlumbingRole::Pipe]) && t.brings("laid"), drained));
    faults
}

/// A worktop is made, gets its cut-outs and then lies; a groove is routed before its board hangs; wheels go on the springs that stay.
fn built_in_turn(worked: &Worked<'_>, order: &[Placed<'_>]) -> Vec<String> {
    let build = &worked.build;
    let at = |t: &Placed<'_>, place: &str| t.part.is_some_and(|p| build.parts[p].places.iter().any(|own| own == place));
    let into = |t: &TaskTemplate| t.cut_outs.iter().any(|cut| cut.what.contains("in the worktop"));
    let mut faults = Vec::new();
    for place in build.places.keys() {
        let made = |t: &Placed<'_>| at(t, place) && says(t, "Template the wall");
        let lies = |t: &Placed<'_>| at(t, place) && says(t, "from below through slotted brackets");
        let cut = |t: &Placed<'_>| at(t, place) && t.template.is_some_and(into);
        // One that drills its own hole once the top lies, as a tap does, fits itself with it.
        let apart = |t: &Placed<'_>| cut(t) && !t.brings("mounted");
        faults.extend(late(order, made, apart));
        faults.extend(late(order, apart, lies));
        let is_built = |t: &TaskTemplate| t.needs.iter().any(|need| need == "built");
        let hung = |t: &Placed<'_>| at(t, place) && t.brings("furnished") && t.template.is_some_and(is_built);
        faults.extend(late(order, |t| at(t, place) && t.brings("grooved"), hung));
    }
    let wheels = |t: &Placed<'_>| says(t, "Hang the wheel and start every nut by hand");
    faults.extend(late(order, |t| t.brings("sprung"), wheels));
    faults
}

/// What is wrong with the order in which a build is fitted.
pub(crate) fn faults(worked: &Worked<'_>, order: &[Placed<'_>]) -> Vec<String> {
    let mut all = plumbed_in_turn(worked, order);
    all.extend(built_in_turn(worked, order));
    all
}

#[test]
fn tanks_pipes_and_drains_are_fitted_in_turn() {
    in_demos(plumbed_in_turn, "attached");
}

#[test]
fn furniture_and_wheels_are_fitted_in_turn() {
    in_demos(built_in_turn, "sprung");
}

/// A size in a list of openings that no step cuts is cut by nobody.
#[test]
fn whoever_lists_a_cut_out_cuts_it() {
    let library = Library::load(crate::harness::house()).expect("kinds");
    let mut seen = 0;
    for kind in library.iter() {
        for task in kind.tasks.iter().filter(|t| !t.cut_outs.is_empty()) {
            let cuts = |s: &String| {
                let lower = s.to_lowercase();
                ["cut", "drill", "rout", "hole", "vents"].iter().any(|word| lower.contains(word))
            };
            assert!(task.steps.iter().any(cuts), "{}.{} lists a cut-out and cuts nothing", kind.id, task.id);
            seen += 1;
        }
    }
    assert!(seen > 50, "{seen}");
}

/// Strings of another voltage or polarity feed each other as soon as they are joined: they are joined once each was measured.
#[test]
fn strings_are_measured_before_they_are_joined() {
    let library = Library::load(crate::harness::house()).expect("kinds");
    let mut joined = 0;
    for kind in library.iter() {
        for task in &kind.tasks {
            let Some(at) = task.steps.iter().position(|s| s.contains("branch plugs, plus to plus")) else { continue };
            let measured = task.steps.iter().position(|s| s.contains("open-circuit voltage of each string"));
            assert!(measured.is_some_and(|m| m < at), "{}.{}", kind.id, task.id);
            joined += 1;
        }
    }
    assert!(joined > 0);
}

/// A procedure stands in a packet once; whatever else does it refers to the task that tells it.
#[test]
fn a_procedure_is_printed_once_in_a_packet() {
    let (mut told, mut referred) = (0, 0);
    for path in demo_specs() {
        for sheet in sheets(&load(&path)).iter().filter(|s| s.stem.starts_with("packet-")) {
            let mut known: BTreeMap<Vec<&str>, &str> = BTreeMap::new();
            let Some((_, tasks)) = sheet.markdown.split_once("\n## Tasks\n") else { continue };
            for task in tasks.split("\n## ").next().unwrap_or_default().split("\n### ").skip(1) {
                let title = task.lines().next().unwrap_or_default();
                let numbered = |line: &&str| line.split_once(". ").is_some_and(|(n, _)| n.parse::<u32>().is_ok());
                let steps: Vec<&str> = task.lines().skip(1).filter(numbered).collect();
                referred += usize::from(task.contains("The steps of task ") || task.contains("Do the steps of task "));
                if steps.len() >= 3 {
                    told += 1;
                    let other = known.insert(steps, title);
                    assert_eq!(other, None, "{}: {}: the steps of {title}", path.display(), sheet.stem);
                }
            }
        }
    }
    assert!(told > 300 && referred > 10, "{told} told, {referred} referred to");
}
