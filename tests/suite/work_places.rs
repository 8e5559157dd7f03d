//! Who works under the van, at height or where looms hang is told how not to be hurt; fuel and the bank go on in turn.

use crate::harness::{demo_specs, house, load, sheets};
use rigbinder::kinds::{Kind, Library, Stage, TaskTemplate, Through};

/// Steps that a person lies under the van for.
const UNDER: [&str; 5] =
    ["floor from below", "shut from below", "bolt from below", "bolts from below", "under the van"];
/// The same in what a caution asks for.
const ASKED: [&str; 3] = ["hole from below", "pilot from below", "point from below"];

fn warned(task: &TaskTemplate, words: &[&str]) -> bool {
    let texts = task.cautions.iter().flat_map(|c| [&c.hazard, &c.avoid]).map(|t| t.to_lowercase());
    texts.into_iter().any(|t| words.iter().any(|w| t.contains(w)))
}

/// `Kind.task` of all tasks that `wanted` holds for and `kept` does not, and of how many it holds.
fn faults(wanted: impl Fn(&Kind, &TaskTemplate) -> bool, kept: impl Fn(&TaskTemplate) -> bool) -> (usize, Vec<String>) {
    let library = Library::load(house()).expect("kinds");
    let tasks = library.iter().flat_map(|k| k.tasks.iter().map(move |t| (k, t)));
    let wanted: Vec<_> = tasks.filter(|(k, t)| wanted(k, t)).collect();
    let bad = wanted.iter().filter(|(_, t)| !kept(t)).map(|(k, t)| format!("{}.{}", k.id, t.id));
    (wanted.len(), bad.collect())
}

/// A load raised by a jack is cribbed or blocked at once (OSHA 29 CFR 1910.244(a)(2), from memory).
#[test]
fn who_works_under_the_van_has_stands_and_is_warned_of_the_jack() {
    let under = |_: &Kind, t: &TaskTemplate| {
        t.tools.iter().any(|tool| tool == "axle stands or lift")
            || t.steps.iter().any(|s| UNDER.iter().any(|w| s.contains(w)))
            || t.cautions.iter().any(|c| ASKED.iter().any(|w| c.avoid.contains(w)))
    };
    let stands = |t: &TaskTemplate| t.tools.iter().any(|tool| tool == "axle stands or lift") && warned(t, &["jack"]);
    let (all, bad) = faults(under, stands);
    assert!(all > 20, "{all} tasks");
    assert!(bad.is_empty(), "{bad:?}");
}

/// Falls of 6 ft (1.8 m) and more are guarded against (OSHA 29 CFR 1926.501(b)(1), from memory); roofs of vans are higher.
#[test]
fn who_cuts_the_roof_is_warned_of_the_fall() {
    let roof = |_: &Kind, t: &TaskTemplate| t.cut_outs.iter().any(|cut| cut.through == Some(Through::Roof));
    let (all, bad) = faults(roof, |t| warned(t, &["fall", "roof height", "at height"]));
    assert!(all > 6, "{all} tasks");
    assert!(bad.is_empty(), "{bad:?}");
}

/// Looms are drawn before the furniture stands (common practice, no source): who cuts it looks behind the mark.
#[test]
fn who_cuts_for_a_device_looks_for_looms() {
    let cuts = |k: &Kind, t: &TaskTemplate| {
        t.stage == Stage::Furniture && k.electric.is_some() && t.brings("opened") && t.brings("sawn")
    };
    let (all, bad) = faults(cuts, |t| warned(t, &["behind"]));
    assert!(all > 6, "{all} tasks");
    assert!(bad.is_empty(), "{bad:?}");
}

/// Rain and chips come in by a hole that waits for its part (common practice, no source).
#[test]
fn who_opens_the_skin_closes_it_until_its_part_is_there() {
    let opens = |_: &Kind, t: &TaskTemplate| t.brings("opened") && t.cuts_skin();
    let closed = ["Tape ", "Close the hole", "Cover the opening"];
    let (all, bad) = faults(opens, |t| t.steps.iter().any(|s| closed.iter().any(|w| s.contains(w))));
    assert!(all > 30, "{all} tasks");
    assert!(bad.is_empty(), "{bad:?}");
}

/// Negative last (common practice, no source): after it nothing of plus is worked on.
#[test]
fn the_negative_of_a_bank_is_joined_last() {
    let last = |t: &TaskTemplate| t.steps.iter().position(|s| s.contains(": negative last"));
    let (all, bad) = faults(
        |_, t| last(t).is_some(),
        |t| {
            let after = &t.steps[last(t).expect("there") + 1..];
            !after.iter().any(|s| ["positive", "sense", "plus "].iter().any(|w| s.contains(w)))
        },
    );
    assert!(all > 0, "no bank");
    assert!(bad.is_empty(), "{bad:?}");
}

/// One valve before several burners: one pick-up, cut before it is in, and each line begun behind the valve and joined.
#[test]
fn a_shut_off_has_one_pick_up_and_each_burner_is_joined_to_its_line() {
    let path = demo_specs().into_iter().find(|p| p.ends_with("heron.toml")).expect("heron");
    let told: String =
        sheets(&load(&path)).into_iter().filter(|s| s.stem.contains("packet")).map(|s| s.markdown).collect();
    let count = |words: &str| told.matches(words).count();
    assert_eq!(count("Take the pick-up"), 1);
    assert_eq!(count("Begin this line at the outlet or tee behind it"), 2);
    assert_eq!(count("Take the cap off the fuel line"), 2);
    assert!(told.contains("Give each circuit a valve and a tee of its own, side by side: cold, hot, suction."));
}
