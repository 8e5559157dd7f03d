//! Work that a builder with the packets alone found not done, done twice, or left open: each class by a law.

use crate::harness::{demo_specs, house, load, refit_sheets, refit_worked, sheets};
use crate::orders::{Placed, in_demos, late, placed};
use rigbinder::build::{ONE_LIFTS, Part};
use rigbinder::kinds::{Kind, Library, PlumbingRole, Stage, Tally, TaskTemplate};
use rigbinder::pipeline::{self, Sheet, Worked};
use std::collections::{BTreeMap, BTreeSet};

pub(crate) fn plumbing(part: &Part<'_>) -> Option<PlumbingRole> {
    part.kind.plumbing.as_ref().map(|w| w.role)
}

pub(crate) fn said(task: &Placed<'_>, words: &str) -> bool {
    task.template.is_some_and(|t| t.steps.iter().any(|s| s.contains(words)))
}

/// Each demo build with its sheets, and the refit.
fn every_build(mut with: impl FnMut(&Worked<'_>, &[Sheet])) {
    for path in demo_specs() {
        let loaded = load(&path);
        with(&pipeline::work_out(&loaded).expect("profile"), &sheets(&loaded));
    }
    with(refit_worked(), refit_sheets());
}

/// `Kind.task` of the tasks of all kinds that are not as they should be, and how many were looked at.
pub(crate) fn of_kinds(
    wanted: impl Fn(&Kind, &TaskTemplate) -> bool,
    kept: impl Fn(&Kind, &TaskTemplate) -> bool,
) -> usize {
    let library = Library::load(house()).expect("kinds");
    let tasks = library.iter().flat_map(|k| k.tasks.iter().map(move |t| (k, t)));
    let wanted: Vec<_> = tasks.filter(|(k, t)| wanted(k, t)).collect();
    let bad: Vec<_> = wanted.iter().filter(|(k, t)| !kept(k, t)).map(|(k, t)| format!("{}.{}", k.id, t.id)).collect();
    assert!(bad.is_empty(), "{bad:?}");
    wanted.len()
}

/// A text without its tags.
fn plain(text: &str) -> String {
    let mut out = String::new();
    let mut rest = text;
    while let Some(at) = rest.find('{') {
        out.push_str(&rest[..at]);
        let close = if rest[at..].starts_with("{{") { "}}" } else { "%}" };
        rest = rest[at..].find(close).map_or("", |end| &rest[at + end + 2..]);
    }
    out.push_str(rest);
    out
}

/// Hot and cold joined at one drain mix; each circuit has a valve, a tee and a hole of its own, all counted.
fn a_drain_of_several_circuits_is_several_valves(worked: &Worked<'_>, sheets: &[Sheet]) -> usize {
    let mut several = 0;
    let build = &worked.build;
    for valve in build.parts.values().filter(|p| plumbing(p) == Some(PlumbingRole::DrainValve) && p.is_worked_on()) {
        let of_tank = |p: &Part<'_>| match plumbing(p) {
            Some(PlumbingRole::FreshTank) => "suction",
            Some(PlumbingRole::GreyTank) => "waste",
            Some(PlumbingRole::Heater) => "hot",
            _ => p.roles.medium().text().unwrap_or_default().to_owned().leak(),
        };
        let drained = build.parts.values().filter(|p| valve.roles.drains().names(&p.id));
        let circuits: BTreeSet<&str> = drained.map(of_tank).collect();
        assert_eq!(build.tally(valve, Tally::DrainCircuits), circuits.len(), "{}", valve.id);
        assert_eq!(build.tally(valve, Tally::FurtherDrainCircuits), circuits.len() - 1, "{}", valve.id);
        let holes = rigbinder::compute::geometry::openings::openings(build);
        let holes = holes.iter().find(|o| o.part.id == valve.id).map(|o| o.holes);
        assert_eq!(holes, Some(circuits.len()), "{}: an outlet each", valve.id);
        let packet = sheets.iter().find(|s| s.stem == "packet-05-plumbing-rough-in").expect("packet 5");
        let row = format!("one for each circuit of water beyond the first | {} |", circuits.len() - 1);
        assert!(circuits.len() == 1 || packet.markdown.contains(&row), "{}: no {row}", valve.id);
        several += usize::from(circuits.len() > 1);
    }
    several
}

/// Runs of one water that leave one part are one line with a tee for each beyond the first.
fn where_lines_branch_a_tee_is_on_the_list(worked: &Worked<'_>, sheets: &[Sheet]) -> usize {
    let mut branches = 0;
    let mut leaving: BTreeMap<(String, String), usize> = BTreeMap::new();
    for pipe in worked.build.parts.values().filter(|p| plumbing(p) == Some(PlumbingRole::Pipe) && p.is_worked_on()) {
        let Some(from) = pipe.roles.from().first() else { continue };
        let medium = pipe.roles.medium().text().unwrap_or_default().to_owned();
        *leaving.entry((from.to_owned(), medium)).or_default() += 1;
    }
    let tees: usize = leaving.values().map(|runs| runs - 1).sum();
    let row = format!("tee for a run of water pipe that branches off another | {tees} |");
    assert!(tees == 0 || sheets.iter().any(|s| s.markdown.contains(&row)), "no {row}");
    branches += tees;
    branches
}

/// A law over one build with its sheets: how often it bore.
type Law = fn(&Worked<'_>, &[Sheet]) -> usize;

/// The laws over all builds, and how often each bears at least.
const LAWS: &[(&str, Law, usize)] = &[
    ("valves of drains", a_drain_of_several_circuits_is_several_valves, 3),
    ("tees", where_lines_branch_a_tee_is_on_the_list, 4),
    ("steps told once", no_work_of_a_part_is_in_two_tasks, 2000),
    ("work of other parts", what_another_part_brings_is_not_done_by_this_one, 4),
    ("glands", a_gland_goes_into_its_hole, 5),
    ("heavy parts", who_lifts_a_heavy_part_is_warned, 10),
    ("lists to survey", what_stays_is_surveyed, 1),
];

#[test]
fn every_build_keeps_the_laws_of_work_that_is_done_once_and_done() {
    let mut bore = [0; LAWS.len()];
    every_build(|worked, sheets| {
        for (count, (_, law, _)) in bore.iter_mut().zip(LAWS) {
            *count += law(worked, sheets);
        }
    });
    for (count, (name, _, least)) in bore.iter().zip(LAWS) {
        assert!(count >= least, "{name}: {count}");
    }
}

/// A waste pipe falls towards a tank that hangs: before that nobody knows its fall.
fn tank_before_its_waste(worked: &Worked<'_>, order: &[Placed<'_>]) -> Vec<String> {
    let parts = &worked.build.parts;
    let leads_to = |t: &Placed<'_>, tank: &str| {
        t.brings("laid")
            && t.part
                .is_some_and(|p| plumbing(&parts[p]) == Some(PlumbingRole::Pipe) && parts[p].roles.to().names(tank))
    };
    let tanks = parts.values().filter(|p| plumbing(p) == Some(PlumbingRole::GreyTank));
    tanks
        .flat_map(|tank| late(order, |t| t.part == Some(&tank.id) && t.brings("hung"), |t| leads_to(t, &tank.id)))
        .collect()
}

#[test]
fn a_waste_pipe_is_laid_to_a_tank_that_hangs() {
    in_demos(tank_before_its_waste, "hung");
}

/// Ducts go through furniture that stands, and boxes into what is built.
fn furniture_before_what_goes_into_it(worked: &Worked<'_>, order: &[Placed<'_>]) -> Vec<String> {
    let build = &worked.build;
    let mut faults = late(order, |t| t.brings("furniture-stands"), |t| t.brings("ducted"));
    for place in build.places.keys() {
        let at = |t: &Placed<'_>| t.part.is_some_and(|p| build.parts[p].places.iter().any(|own| own == place));
        let into = |t: &Placed<'_>| at(t) && t.stage == Stage::Furniture && t.brings("opened") && t.brings("sawn");
        faults.extend(late(order, |t| at(t) && t.brings("built"), into));
    }
    faults
}

#[test]
fn nothing_is_cut_into_furniture_that_is_not_built() {
    in_demos(furniture_before_what_goes_into_it, "ducted");
    let looked = of_kinds(|_, t| t.brings("furnished"), |k, _| k.tasks.iter().any(|t| t.brings("built")));
    assert!(looked > 6, "{looked}");
}

/// Readings that ask for a charge of the bank come when something counts it.
#[test]
fn the_monitor_counts_before_a_reading_asks_for_a_charge() {
    let asks = |t: &Placed<'_>| {
        ["Bring the bank below", "bank is below", "bank below 80", "Charge the bank above"].iter().any(|w| said(t, w))
            || ["shore-charging", "engine-charging", "solar-charging"].iter().any(|s| t.brings(s))
    };
    let counts = |t: &Placed<'_>| t.brings("monitor-set");
    in_demos(|_, order| late(order, counts, asks), "monitor-set");
    assert_eq!(late(&placed(refit_worked()), counts, asks), Vec::<String>::new());
}

/// Whoever opens an isolator for a test closes it again, or says that it stays open.
#[test]
fn an_isolator_that_a_test_opens_is_closed_again() {
    let opens = |s: &String| s.contains("pen the isolator");
    let looked = of_kinds(
        |_, t| t.stage == Stage::Commissioning && t.steps.iter().any(opens),
        |_, t| {
            let at = t.steps.iter().rposition(opens).expect("there");
            let rest = t.steps[at..].join(" ");
            ["lose it again", "lose the isolator", "Close it", "isolator open:"].iter().any(|w| rest.contains(w))
        },
    );
    assert!(looked >= 3, "{looked}");
}

/// A diaphragm pump wears without water (its own kind says so): what was emptied in a task is filled before the pump runs.
#[test]
fn no_test_runs_the_pump_on_an_empty_tank() {
    let lets_out = |s: &&String| plain(s).starts_with("Open all ") || plain(s).starts_with("Open the valve");
    let runs = |s: &String| s.contains("un the pump");
    let looked = of_kinds(
        |k, t| {
            k.plumbing.as_ref().is_some_and(|w| w.role == PlumbingRole::DrainValve)
                && t.steps.iter().any(|s| lets_out(&s))
                && t.steps.iter().any(runs)
        },
        |_, t| {
            let out = t.steps.iter().position(|s| lets_out(&s)).expect("there");
            let run = t.steps.iter().position(runs).expect("there");
            t.steps[out..run].iter().any(|s| s.contains("Fill the fresh tank"))
        },
    );
    assert!(looked > 0);
}

/// What was full is emptied before it is filled by measure, and a valve on a tank is tried with water that a step brings.
#[test]
fn a_tank_is_empty_before_it_is_filled_by_measure() {
    let empty = |t: &TaskTemplate| {
        t.steps
            .iter()
            .position(|s| s.contains("'empty'") || s.contains("the empty point") || s.contains("metered volume"))
    };
    let looked = of_kinds(
        |k, t| k.plumbing.is_some() && t.stage == Stage::Commissioning && empty(t).is_some(),
        |_, t| t.steps[..=empty(t).expect("there")].iter().any(|s| s.contains("Drain ")),
    );
    assert!(looked >= 2, "{looked}");
    let with = |s: &String| s.contains("With 10 L in the tank");
    assert_eq!(of_kinds(|_, t| t.steps.iter().any(with), |_, _| false), 0);
}

/// Sealant that has not set lets water by, and the water keeps it from setting (common practice, no source).
#[test]
fn sealant_cures_before_it_is_hosed() {
    let bedded = |t: &TaskTemplate| t.steps.iter().position(|s| plain(s).contains("ealant"));
    let hosed = |t: &TaskTemplate| {
        t.steps.iter().rposition(|s| {
            let s = plain(s);
            ["Spray it", "Hose it", "hose it"].iter().any(|w| s.contains(w))
        })
    };
    let looked = of_kinds(
        |_, t| bedded(t).zip(hosed(t)).is_some_and(|(a, b)| a <= b),
        |_, t| {
            let between = t.steps[bedded(t).expect("there")..=hosed(t).expect("there")].join(" ");
            ["cure", "curing", "After 24"].iter().any(|w| between.contains(w))
        },
    );
    assert!(looked >= 5, "{looked}");
}

/// A cable goes through its gland before the gland is closed on it and hosed.
#[test]
fn a_gland_is_closed_on_its_cable() {
    let library = Library::load(house()).expect("kinds");
    let mut looked = 0;
    for kind in library.iter() {
        let glands =
            kind.tasks.iter().flat_map(|t| &t.cut_outs).any(|c| c.through.is_some() && c.what.contains("gland"));
        if !glands || !kind.tasks.iter().any(|t| t.steps.iter().any(|s| s.contains("gland"))) {
            continue;
        }
        let closed = |s: &String| s.contains("lose the gland") || s.contains("close its gland");
        assert!(kind.tasks.iter().any(|t| t.steps.iter().any(closed)), "{}: no gland is closed", kind.id);
        let listed = kind.tasks.iter().flat_map(|t| &t.takes).any(|taken| taken.what.contains("gland"));
        assert!(listed, "{}: its gland is on no list", kind.id);
        looked += 1;
    }
    assert!(looked >= 5, "{looked}");
}

/// A reading that no step takes stays a blank, or is guessed: its words are in a step of its task.
#[test]
fn every_reading_is_taken_by_a_step() {
    let heads = |text: &str| -> BTreeSet<String> {
        let text = plain(text).to_lowercase();
        let words = text.split(|c: char| !c.is_ascii_alphabetic()).filter(|w| w.len() >= 4);
        let common = ["with", "from", "that", "this", "than", "then", "each", "what", "where", "over", "under", "into"];
        words.filter(|w| !common.contains(w)).map(|w| w[..w.len().min(4)].to_owned()).collect()
    };
    let by_word = ["ake the reading", "ake all readings", "ake both readings", "ake volts", "ead the current"];
    let looked = of_kinds(
        |_, t| !t.readings.is_empty(),
        |_, t| {
            let steps = t.steps.join(" ");
            let told = heads(&steps);
            let is_taken = |what: &str| !heads(what).is_disjoint(&told) || by_word.iter().any(|w| steps.contains(w));
            t.readings.iter().all(|r| is_taken(&r.what))
        },
    );
    assert!(looked > 80, "{looked}");
}

/// The same words in two tasks of one part are the same work, told twice; looking again is no work.
fn no_work_of_a_part_is_in_two_tasks(worked: &Worked<'_>, _: &[Sheet]) -> usize {
    let looks = ["Check", "Look", "Measure", "Wipe", "Wait", "Expect", "Write", "Drill, catching"];
    let mut steps = 0;
    let mut known: BTreeMap<(&str, &str), &str> = BTreeMap::new();
    let order = placed(worked);
    for task in order.iter().filter(|t| t.stage < Stage::Commissioning) {
        let (Some(template), Some(part)) = (task.template, task.part) else { continue };
        for step in template.steps.iter().filter(|s| !looks.iter().any(|w| s.starts_with(w))) {
            let other = known.insert((part, step), task.id);
            assert!(other.is_none_or(|o| o == task.id), "{} and {other:?}: {step}", task.id);
            steps += 1;
        }
    }
    steps
}

/// A pipe under a heating cable has the insulation of that, a strainer and a waste pipe that are parts are fitted as such, and
/// the valves of a tank come once.
fn what_another_part_brings_is_not_done_by_this_one(worked: &Worked<'_>, sheets: &[Sheet]) -> usize {
    let mut told = 0;
    let has = |role: PlumbingRole| worked.build.parts.values().any(|p| plumbing(p) == Some(role));
    let all: String = sheets.iter().filter(|s| s.stem.starts_with("packet-")).map(|s| s.markdown.as_str()).collect();
    if has(PlumbingRole::Trace) {
        told += usize::from(all.contains("It is the insulation of this pipe."));
    }
    if has(PlumbingRole::Strainer) {
        assert!(!all.contains("Fit the strainer on the inlet side"));
        told += 1;
    }
    let wastes = worked.build.parts.values().filter(|p| p.roles.medium().text() == Some("waste"));
    if wastes.filter(|p| p.is_worked_on()).any(|p| plumbing(p) == Some(PlumbingRole::Pipe)) {
        assert!(all.contains("Join the trap to the waste pipe that lies"));
        told += 1;
    }
    told
}

/// A second body (a remote switch, a control, a display) has a task that fits it.
#[test]
fn a_second_body_is_fitted_by_a_task() {
    let library = Library::load(house()).expect("kinds");
    let mut looked = 0;
    for kind in library.iter() {
        for post in &kind.posts {
            let Some(field) = post.place_from.as_deref() else { continue };
            let cut = |t: &TaskTemplate| t.cut_outs.iter().any(|c| c.place_from.as_deref() == Some(field));
            let of_place = kind.posts.iter().filter(|p| p.place_from.as_deref() == Some(field));
            let bodies: Vec<&str> = of_place
                .flat_map(|p| p.id.split('-'))
                .map(|word| if word == "dish" { "antenna" } else { word })
                .filter(|w| {
                    ["switch", "display", "regulator", "antenna", "key", "control", "controller", "lamp"].contains(w)
                })
                .collect();
            let fits =
                |t: &TaskTemplate| t.steps.iter().any(|s| bodies.iter().any(|body| s.to_lowercase().contains(body)));
            let other = matches!(field, "second_place" | "between" | "inlet_at");
            assert!(other || kind.tasks.iter().any(|t| cut(t) || fits(t)), "{}: nothing fits {}", kind.id, post.id);
            looked += 1;
        }
    }
    assert!(looked >= 12, "{looked}");
}

/// A single battery has no second one to differ from; of several each is charged and measured.
#[test]
fn batteries_are_compared_where_there_are_several() {
    let told = |sheets: &[Sheet]| -> String {
        sheets.iter().filter(|s| s.stem.starts_with("packet-")).map(|s| s.markdown.as_str()).collect()
    };
    let single = told(refit_sheets());
    assert!(!single.contains("Highest less lowest battery") && !single.contains("between the batteries' currents"));
    let path = demo_specs().into_iter().find(|p| p.ends_with("heron.toml")).expect("heron");
    let three = told(&sheets(&load(&path)));
    for text in ["Measure each battery and take the spread", "Measure the current of each battery", "bench charger for"]
    {
        assert!(three.contains(text), "{text}");
    }
}

/// A metric gland goes through a hole of its thread or more (ISO 262: M16 measures 16 mm), in every unit.
fn a_gland_goes_into_its_hole(_: &Worked<'_>, sheets: &[Sheet]) -> usize {
    let mut glands = 0;
    for row in sheets.iter().flat_map(|s| s.markdown.lines()).filter(|l| l.contains("for an M") && l.contains("gland"))
    {
        let thread = row.split("for an M").nth(1).and_then(|r| r.split(' ').next()).and_then(|m| m.parse::<f64>().ok());
        let size =
            row.split(" | ").find_map(|cell| cell.split(" diameter").next().filter(|_| cell.contains(" diameter")));
        let (Some(thread), Some(size)) = (thread, size.filter(|s| s.ends_with("in") || s.ends_with("mm"))) else {
            continue;
        };
        let (number, unit) = size.rsplit_once(' ').expect("a unit");
        let value = number.split_once('/').map_or_else(
            || number.parse::<f64>().expect("a number"),
            |(top, bottom)| top.parse::<f64>().expect("top") / bottom.parse::<f64>().expect("bottom"),
        );
        let hole = if unit == "in" { value * 25.4 } else { value };
        assert!(hole >= thread, "{row}");
        glands += 1;
    }
    glands
}

/// Who lifts a heavy part is told how. One person lifts 25 kg (common practice, no source).
fn who_lifts_a_heavy_part_is_warned(worked: &Worked<'_>, _: &[Sheet]) -> usize {
    let (mut heavy, mut bad) = (0, Vec::new());
    for task in placed(worked) {
        let (Some(template), Some(part)) = (task.template, task.part.and_then(|p| worked.build.parts.get(p))) else {
            continue;
        };
        let weighs = part.own_mass().is_some_and(|mass| mass.0 > ONE_LIFTS.0);
        if !weighs || !template.brings("mounted") {
            continue;
        }
        heavy += 1;
        let warned = template.cautions.iter().any(|c| {
            let text = format!("{} {} {}", c.hazard, c.consequence, c.avoid).to_lowercase();
            ["heavy", "lift", "weigh", "hoist", "fall", "drops"].iter().any(|w| text.contains(w))
        });
        if !warned {
            bad.push(task.id.to_owned());
        }
    }
    assert!(bad.is_empty(), "{bad:?}");
    heavy
}

/// What nobody has looked at has a task that looks.
fn what_stays_is_surveyed(_: &Worked<'_>, sheets: &[Sheet]) -> usize {
    let Some(intake) = sheets.iter().find(|s| s.stem == "packet-01-intake") else { return 0 };
    let listed = intake.markdown.contains("\n## To survey");
    assert!(!listed || intake.markdown.contains("Read or measure each row of “To survey”"));
    usize::from(listed)
}

/// A lining that is opened goes back when all behind it is proved.
#[test]
fn linings_are_closed_again_when_all_behind_is_proved() {
    let order = placed(refit_worked());
    let at = |words: &str| order.iter().position(|t| said(t, words)).unwrap_or_else(|| panic!("nobody says {words}"));
    let dead = order.iter().position(|t| t.brings("vehicle-dead")).expect("made safe");
    let (open, close) = (at("Take off linings, covers and fronts"), at("Put each lining back"));
    assert!(dead < open && open < close, "{dead} {open} {close}");
    let fitted = order.iter().position(|t| t.stage >= Stage::Furniture).expect("furniture");
    assert!(close < fitted, "linings close before furniture");
}

/// What comes off the body for the coating goes back on, and is tried.
#[test]
fn what_comes_off_for_a_coating_goes_back() {
    let off = |t: &Placed<'_>| said(t, "Take off trims, lamps and mud flaps");
    let back = |t: &Placed<'_>| said(t, "Put trims, lamps and mud flaps back");
    let tried = |t: &Placed<'_>| said(t, "Try every lamp that was off");
    in_demos(
        |_, order| {
            let count = |is: &dyn Fn(&Placed<'_>) -> bool| order.iter().filter(|t| is(t)).count();
            let mut faults = late(order, off, back);
            faults.extend(late(order, back, tried));
            if count(&off) != count(&back) || count(&off) != count(&tried) {
                faults.push("not as many go back as come off".to_owned());
            }
            faults
        },
        "coated",
    );
}

/// An edge is primed once, by who cuts it; the task of all edges looks for what was missed. A drilled floor lies under the new
/// one until who fits the part drills up through it.
#[test]
fn who_cuts_the_skin_primes_its_edge_and_finds_the_hole_again() {
    let opens = |_: &Kind, t: &TaskTemplate| t.brings("opened") && t.cuts_skin();
    let primes = |_: &Kind, t: &TaskTemplate| {
        let steps = t.steps.join(" ");
        ["rime", "aint", "eal the edge"].iter().any(|w| steps.contains(w))
    };
    assert!(of_kinds(opens, primes) > 30);
    let covered = |_: &Kind, t: &TaskTemplate| t.steps.iter().any(|s| s.contains("the floor will lie over it"));
    let found = |k: &Kind, _: &TaskTemplate| {
        k.tasks.iter().flat_map(|t| &t.steps).any(|s| s.contains("Drill the floor from below, through its holes"))
    };
    assert!(of_kinds(covered, found) >= 4);
}
