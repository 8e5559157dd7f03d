//! Orders of work that must hold in every build: what is marked, cut, tested, closed, lit, and when.
//!
//! What a builder found who worked by the packets, number by number, and which test holds it:
//!
//! 1. Cuts before marks: `every_cut_waits_for_its_mark_and_for_whoever_confirms_it`.
//! 2. Pods and coating: the same, `openings::every_hole_is_cut_once_where_it_is`,
//!    `openings::the_coating_is_on_before_seals_and_wax`.
//! 3. What carries and what is carried: `what_carries_stands_before_what_it_carries`,
//!    `the_bank_comes_in_after_the_sawing`, `orders_fit::furniture_and_wheels_are_fitted_in_turn`.
//! 4. Burners: `alarm_air_and_fuel_come_before_the_flame`, `a_burner_gets_the_fuel_path_of_its_fuel`,
//!    `orders_fit::tanks_pipes_and_drains_are_fitted_in_turn`.
//! 5. Signatures without proof: `proof::every_hold_point_of_the_demo_builds_has_its_proof`, `specs/broken`
//!    `signed-before-proof`, `signed-without-proof` and `record-is-placeholder`.
//! 6. Holes after lining and coating: `openings::who_cuts_the_body_says_what_opening`,
//!    `openings::the_skin_is_cut_before_the_floor_is_laid`.
//! 7. Walls over what is not tested: `nothing_is_closed_over_an_untested_cable_or_pipe`.
//! 8. Ways out: `apt::a_barred_way_out_says_how_it_is_freed`, `specs/broken` `escape-route-missing`.
//! 9. Waste pipes: `a_pipe_is_tested_as_it_works`; a test printed again and again:
//!    `orders_fit::a_procedure_is_printed_once_in_a_packet`.
//! 10. Start currents: `loads::no_running_reading_expects_a_start_current`,
//!     `loads::a_heater_whose_glow_pin_stays_on_is_found`.
//! 11. Differences and units: all of `units_printed`.
//! 12. One torque a bolt: `torques::the_same_bolt_never_has_two_torques`.
//! 13. Openings with size and place: `openings::every_opening_stands_once_in_the_schedule_and_only_there`,
//!     `openings::the_surface_is_the_nearest_and_its_measures_are_those_of_the_place`.
//! 14. Texts that do not fit the part: all of `apt`.
//! 15. Handover in two sets, hours of circuits: `proof::a_small_van_is_handed_over_with_few_things`, all of `hours`.
//! 16. A replaced unit: `stale::a_replaced_unit_keeps_neither_serial_nor_readings_nor_hold_points`; a move told in each
//!     stage: `changes::a_part_is_moved_once_and_its_old_opening_is_closed`.

use crate::harness::{demo_specs, findings, load, sheets};
use rigbinder::compute::readings;
use rigbinder::fields::FieldType;
use rigbinder::kinds::{Kind, Library, Need, Role, SafetyRole, Stage, TaskTemplate};
use rigbinder::pipeline::{self, Worked};
use std::collections::{BTreeMap, BTreeSet};

/// A task at its place in the order of work.
pub(crate) struct Placed<'w> {
    pub(crate) id: &'w str,
    pub(crate) part: Option<&'w str>,
    pub(crate) stage: Stage,
    pub(crate) template: Option<&'w TaskTemplate>,
}

impl Placed<'_> {
    pub(crate) fn brings(&self, state: &str) -> bool {
        self.template.is_some_and(|t| t.brings(state))
    }
}

/// Tasks in the order of work; none where they run in a circle.
pub(crate) fn placed<'w>(worked: &'w Worked<'_>) -> Vec<Placed<'w>> {
    let order = worked.schedule.iter().flat_map(|s| &s.order);
    let task = |s: &'w rigbinder::compute::time::ScheduledTask| {
        let task = worked.build.tasks.get(&s.id)?;
        Some(Placed { id: &task.id, part: task.part.as_deref(), stage: task.stage, template: task.template })
    };
    order.filter_map(task).collect()
}

/// Where one of `first` stands after one of `then`.
pub(crate) fn late(
    order: &[Placed<'_>],
    first: impl Fn(&Placed<'_>) -> bool,
    then: impl Fn(&Placed<'_>) -> bool,
) -> Vec<String> {
    // What is both comes before itself in its own steps.
    let Some(begin) = order.iter().position(|t| then(t) && !first(t)) else { return Vec::new() };
    let after = order[begin + 1..].iter().filter(|t| first(t) && !then(t));
    after.map(|t| format!("{} stands after {}", t.id, order[begin].id)).collect()
}

fn marked_and_confirmed_before_cut(order: &[Placed<'_>]) -> Vec<String> {
    let brings = |state: &'static str| move |t: &Placed<'_>| t.brings(state);
    let mut faults = late(order, brings("marked"), brings("cut"));
    faults.extend(late(order, brings("confirmed"), brings("cut")));
    let here = |state: &'static str| move |t: &Placed<'_>| t.brings(state) && t.stage == Stage::Openings;
    faults.extend(late(order, here("cut"), here("primed")));
    faults.extend(late(order, here("cut"), here("coated")));
    faults.extend(late(order, here("primed"), here("sealed")));
    faults
}

/// While the shop still builds furniture, no bank stands where chips fall.
fn sawn_before_the_bank(order: &[Placed<'_>]) -> Vec<String> {
    let sawn = |t: &Placed<'_>| (t.brings("sawn") || t.brings("cut")) && t.stage <= Stage::Furniture;
    late(order, sawn, |t| t.brings("bank-joined"))
}

fn tested_before_closed(worked: &Worked<'_>, order: &[Placed<'_>]) -> Vec<String> {
    let mut faults = late(order, |t| t.brings("proved-tight"), |t| t.brings("closed-in"));
    // Pipes by what they are, whatever their tasks say.
    let is_pipe = |t: &Placed<'_>| {
        let part = t.part.and_then(|p| worked.build.parts.get(p));
        part.and_then(|p| p.kind.plumbing.as_ref()).is_some_and(|p| p.role == rigbinder::kinds::PlumbingRole::Pipe)
    };
    faults.extend(late(order, |t| is_pipe(t) && t.stage <= Stage::PlumbingRoughIn, |t| t.brings("closed-in")));
    let pulled = !readings::is_skipped(&worked.build, Stage::ElectricalRoughIn) && !worked.readings.circuits.is_empty();
    let dead = readings::DEAD_TESTS.iter().map(|test| readings::stage_of(&worked.build, test)).max();
    let early = order.iter().filter(|t| t.brings("closed-in") && dead.is_some_and(|dead| t.stage <= dead));
    faults.extend(early.filter(|_| pulled).map(|t| format!("{} closes before the dead tests of cables", t.id)));
    faults
}

fn safe_before_lit(worked: &Worked<'_>, order: &[Placed<'_>]) -> Vec<String> {
    let brings = |state: &'static str| move |t: &Placed<'_>| t.brings(state);
    let mut faults = Vec::new();
    for first in ["detector-live", "ventilated", "fuel-open"] {
        faults.extend(late(order, brings(first), brings("burning")));
    }
    faults.extend(late(order, brings("detector-live"), brings("fuel-open")));
    // The first work on an alarm in commissioning is its test, that on a burner its first flame.
    let role = |t: &Placed<'_>| {
        let part = t.part.and_then(|p| worked.build.parts.get(p));
        part.and_then(|p| p.kind.safety.as_ref()).map(|s| s.role)
    };
    let mut first_of: BTreeMap<&str, usize> = BTreeMap::new();
    for (at, task) in order.iter().enumerate().filter(|(_, t)| t.stage == Stage::Commissioning) {
        first_of.entry(task.part.unwrap_or_default()).or_insert(at);
    }
    let firsts = |wanted: &'static [SafetyRole]| {
        let of_role = |at: &&usize| role(&order[**at]).is_some_and(|r| wanted.contains(&r));
        first_of.values().filter(of_role).copied().collect::<Vec<_>>()
    };
    let alarms = firsts(&[SafetyRole::CoAlarm, SafetyRole::LpAlarm, SafetyRole::SmokeAlarm]);
    let flame = firsts(&[SafetyRole::Burner]).into_iter().min();
    let late = alarms.into_iter().filter(|at| flame.is_some_and(|flame| *at > flame));
    faults.extend(late.map(|at| format!("{} comes after the first flame", order[at].id)));
    faults
}

/// Nothing is fixed to what does not stand yet, and nothing is fitted into furniture that does not.
fn stands_before_it_carries(worked: &Worked<'_>, order: &[Placed<'_>]) -> Vec<String> {
    let build = &worked.build;
    let mounting = |part: &str, state: &str| {
        let all = order.iter().enumerate().filter(|(_, t)| t.part == Some(part) && t.brings(state));
        all.map(|(at, _)| at).collect::<Vec<_>>()
    };
    let mut faults = Vec::new();
    for (at, task) in order.iter().enumerate().filter(|(_, t)| t.brings("mounted") || t.brings("furnished")) {
        let Some(part) = task.part else { continue };
        let carrier = build.carriers(part).first().map(|c| c.id.clone());
        let carrier = carrier.filter(|c| !build.rests_on(c, part));
        let late = carrier.iter().flat_map(|c| mounting(c, "mounted")).filter(|first| *first > at);
        faults.extend(late.map(|first| format!("{} stands after {}, which rests on it", order[first].id, task.id)));
    }
    // A strut holds the lid of something.
    for (id, part) in &build.parts {
        let of = part.roles.strut.as_ref().and_then(|s| s.lid_of.first().map(str::to_owned));
        let Some(lid) = of else { continue };
        let first = mounting(id, "mounted").into_iter().min();
        let late = mounting(&lid, "furnished").into_iter().filter(|at| first.is_some_and(|first| first < *at));
        faults.extend(late.map(|at| format!("{} stands after the struts {id}", order[at].id)));
    }
    faults
}

/// What is wrong with the order of work of a build.
pub(crate) fn faults(worked: &Worked<'_>) -> Vec<String> {
    let order = placed(worked);
    let mut all = marked_and_confirmed_before_cut(&order);
    all.extend(sawn_before_the_bank(&order));
    all.extend(tested_before_closed(worked, &order));
    all.extend(safe_before_lit(worked, &order));
    all.extend(stands_before_it_carries(worked, &order));
    all.extend(crate::orders_first::faults(worked, &order));
    all.extend(crate::orders_fit::faults(worked, &order));
    all.extend(crate::orders_live::faults(worked, &order));
    all.extend(crate::orders_road::faults(worked, &order));
    all
}

pub(crate) fn in_demos(law: impl Fn(&Worked<'_>, &[Placed<'_>]) -> Vec<String>, state: &str) {
    let mut seen = 0;
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        let order = placed(&worked);
        seen += order.iter().filter(|t| t.brings(state)).count();
        let faults = law(&worked, &order);
        assert!(faults.is_empty(), "{}: {}", path.display(), faults.join("\n"));
    }
    assert!(seen > 0, "no demo build has a task that brings this: {state}");
}

#[test]
fn every_cut_waits_for_its_mark_and_for_whoever_confirms_it() {
    in_demos(|_, order| marked_and_confirmed_before_cut(order), "cut");
}

#[test]
fn the_bank_comes_in_after_the_sawing() {
    in_demos(|_, order| sawn_before_the_bank(order), "bank-joined");
}

#[test]
fn nothing_is_closed_over_an_untested_cable_or_pipe() {
    in_demos(tested_before_closed, "closed-in");
}

/// A load runs when every panel that feeds it is live, and nobody drives or starts the engine of a van whose battery is off.
fn live_before_it_runs(worked: &Worked<'_>, order: &[Placed<'_>]) -> Vec<String> {
    let build = &worked.build;
    let at = |part: &str| {
        let live = |t: &Placed<'_>| t.brings("panels-live") || t.brings("sub-panels-live");
        order.iter().position(|t| t.part == Some(part) && live(t))
    };
    let mut faults = Vec::new();
    let loads = order.iter().enumerate().filter(|(_, t)| {
        let role = t.part.and_then(|p| build.parts.get(p)).and_then(rigbinder::build::Part::role);
        t.stage == Stage::Commissioning && t.template.is_some() && matches!(role, Some(Role::Load | Role::Display))
    });
    for (place, task) in loads {
        // What feeds it, and what feeds that.
        let mut open: Vec<&str> = task.part.into_iter().collect();
        let mut seen: BTreeSet<&str> = BTreeSet::new();
        while let Some(part) = open.pop().filter(|part| seen.insert(part)) {
            open.extend(build.arriving(part).map(|c| c.from.as_str()));
        }
        let late = seen.iter().filter(|p| Some(**p) != task.part).filter(|p| at(p).is_some_and(|live| live > place));
        faults.extend(late.map(|panel| format!("{} runs before {panel} is live", task.id)));
    }
    let drives = |t: &Placed<'_>| {
        let steps = t.template.map(|t| t.steps.as_slice()).unwrap_or_default();
        t.stage == Stage::Commissioning
            && steps.iter().any(|s| s.starts_with("Drive ") || s.contains("tart the engine"))
    };
    faults.extend(late(order, |t| t.brings("vehicle-live"), drives));
    faults
}

#[test]
fn panels_and_the_vehicle_are_live_before_what_needs_them() {
    in_demos(live_before_it_runs, "sub-panels-live");
}

#[test]
fn what_carries_stands_before_what_it_carries() {
    in_demos(stands_before_it_carries, "mounted");
}

/// A tank on a bed frame can't be fixed before the frame stands, so it slips to the stage that builds it, and what waits
/// for the tank goes with it; where no stage lets it wait, the fault is told.
#[test]
fn a_task_slips_as_far_as_its_kind_lets_it_and_no_further() {
    let spec = |on: &str| {
        format!(
            "spec = 2\n[build]\ntitle = \"Slip\"\nrules = \"eu\"\n[place]\nrear = {{ about = \"Rear\" }}\n[component]\n\
             bed = {{ kind = \"bed-platform\", place = \"rear\" }}\nrack = {{ kind = \"roof-rack\", place = \"rear\" }}\n\
             tank = {{ kind = \"fresh-tank\", place = \"rear\", volume = \"70 L\", on = \"{on}\" }}\n"
        )
    };
    let text = spec("bed");
    let loaded = pipeline::load(crate::harness::house(), "slip.toml", text.as_bytes()).expect("kinds");
    let worked = pipeline::work_out(&loaded).expect("profile");
    let order = placed(&worked);
    let at = |id: &str| order.iter().position(|t| t.id == id).unwrap_or_else(|| panic!("no {id}"));
    assert!(at("bed.fit") < at("tank.mount") && at("tank.mount") < at("tank.connect"));
    assert_eq!([order[at("tank.mount")].stage, order[at("tank.connect")].stage], [Stage::Furniture; 2]);
    let told = findings(&spec("rack"));
    let late: Vec<_> = told.iter().filter(|f| f.name == "task-after-later-stage").collect();
    assert!(late.iter().any(|f| f.headline.contains("tank.mount") && f.headline.contains("rack.fit")), "{late:?}");
}

/// Same place first, then same tools: between one task and the next of its stage the shop seldom changes either, less often
/// than in the order of the file.
#[test]
fn the_order_keeps_to_a_place_and_to_its_tools() {
    let changes = |tasks: &[(&str, &[String])]| {
        let pairs = tasks.windows(2);
        pairs.fold((0, 0), |(places, tools), pair| {
            (places + usize::from(pair[0].0 != pair[1].0), tools + usize::from(pair[0].1 != pair[1].1))
        })
    };
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        let build = &worked.build;
        let told = |t: &Placed<'_>| -> (String, Vec<String>) {
            let place = t.part.and_then(|p| build.parts[p].places.first().cloned()).unwrap_or_default();
            (place, t.template.map(|t| t.tools.clone()).unwrap_or_default())
        };
        let order = placed(&worked);
        let mut by_file: Vec<&Placed<'_>> = order.iter().collect();
        by_file.sort_by_key(|t| (t.stage, build.tasks.get_index_of(t.id)));
        let told_of = |tasks: Vec<(String, Vec<String>)>| {
            let tasks: Vec<(&str, &[String])> = tasks.iter().map(|(p, t)| (p.as_str(), t.as_slice())).collect();
            changes(&tasks)
        };
        let ours = told_of(order.iter().map(told).collect());
        let file = told_of(by_file.into_iter().map(told).collect());
        println!("{}: places {} of {}, tools {} of {}", path.display(), ours.0, file.0, ours.1, file.1);
        assert!(ours.0 <= file.0, "{}: {ours:?}, in the order of the file {file:?}", path.display());
    }
}

#[test]
fn alarm_air_and_fuel_come_before_the_flame() {
    in_demos(safe_before_lit, "burning");
}

/// All tasks of all kinds.
fn tasks(library: &Library) -> Vec<(&Kind, &TaskTemplate)> {
    library.iter().flat_map(|k| k.tasks.iter().map(move |t| (k, t))).collect()
}

/// Whoever adds a kind with a hole in it says so, or the hole is cut before it is marked.
#[test]
fn a_task_with_a_hole_a_flame_or_an_alarm_says_what_it_does() {
    let library = Library::load(crate::harness::house()).expect("kinds");
    for (kind, task) in tasks(&library).into_iter().filter(|(_, t)| t.stage <= Stage::Furniture) {
        let saw = |tool: &String| ["saw", "router", "step drill"].iter().any(|word| tool.contains(word));
        let holed = !task.cut_outs.is_empty() || task.tools.iter().any(saw);
        let said = task.brings("cut") || task.brings("sawn");
        assert!(!holed || said, "{}.{} makes a hole and does not say so", kind.id, task.id);
        if task.stage == Stage::Openings && holed {
            assert!(task.brings("cut"), "{}.{} cuts the body and does not say so", kind.id, task.id);
        }
    }
    for kind in library.iter() {
        let brings = |state: &str| kind.tasks.iter().any(|t| t.stage == Stage::Commissioning && t.brings(state));
        match kind.safety.as_ref().map(|s| s.role) {
            Some(SafetyRole::Burner) => assert!(brings("burning"), "{} is lit and does not say so", kind.id),
            Some(SafetyRole::CoAlarm | SafetyRole::LpAlarm | SafetyRole::SmokeAlarm) => {
                assert!(brings("detector-live"), "{} is proven and does not say so", kind.id);
            }
            _ => {}
        }
    }
}

/// No stage stands in the way of an order that must be kept.
/// A state that one kind brings and one other needs is an id in disguise: few may be.
#[test]
fn few_states_join_two_kinds_alone() {
    let library = Library::load(crate::harness::house()).expect("kinds");
    let mut brought: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
    let mut needed: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
    for (kind, task) in tasks(&library) {
        for state in &task.brings {
            brought.entry(state).or_default().insert(&kind.id);
        }
        for need in &task.needs {
            needed.entry(Need::read(need).state()).or_default().insert(&kind.id);
        }
    }
    let joins_two = |(state, by): &(&&str, &BTreeSet<&str>)| {
        let of_others: BTreeSet<&str> =
            needed.get(**state).into_iter().flatten().copied().filter(|kind| !by.contains(kind)).collect();
        by.len() == 1 && of_others.len() == 1
    };
    let ids: Vec<&str> = brought.iter().filter(joins_two).map(|(state, _)| *state).collect();
    assert!(!ids.is_empty() && ids.len() <= 10, "{ids:?}");
}

#[test]
fn what_must_come_first_never_has_a_later_stage() {
    let library = Library::load(crate::harness::house()).expect("kinds");
    let all = tasks(&library);
    let pairs = library.states.iter().flat_map(|(then, state)| state.after.iter().map(move |first| (first, then)));
    for (first, then) in pairs {
        for (kind, task) in all.iter().filter(|(_, t)| t.brings(first)) {
            let latest = all.iter().filter(|(_, t)| t.brings(then) && !t.brings(first));
            let early = latest.filter(|(_, t)| t.stage < task.stage).map(|(k, t)| format!("{}.{}", k.id, t.id));
            let early: Vec<_> = early.collect();
            assert!(early.is_empty(), "{}.{} must come before {early:?}", kind.id, task.id);
        }
    }
}

/// A hold point that asks for something before the cut, or before it is closed, stands before the steps that do it.
#[test]
fn a_hold_before_the_work_is_printed_before_it() {
    let library = Library::load(crate::harness::house()).expect("kinds");
    let mut before = 0;
    for (kind, task) in tasks(&library) {
        let Some(hold) = task.hold.as_deref() else { continue };
        let cut = ["before the first cut", "before the cut", "before the face is cut"];
        let asks = task.brings("closed-in")
            || (task.brings("cut") || task.brings("sawn")) && cut.iter().any(|c| hold.contains(c));
        assert!(!asks || task.hold_first, "{}.{}: the hold point comes after its work: {hold}", kind.id, task.id);
        before += usize::from(asks);
    }
    assert!(before >= 5, "only {before} hold points stand before their work");
}

fn packets(spec: &str) -> String {
    let head = "spec = 2\n[build]\ntitle = \"One\"\nhandover = 2027-05-14\n[place.here]\nabout = \"Here\"\n";
    let loaded =
        pipeline::load(crate::harness::house(), "one.toml", format!("{head}{spec}").as_bytes()).expect("kinds");
    let all = sheets(&loaded).into_iter().filter(|s| s.stem.contains("packet"));
    all.map(|s| s.markdown).collect()
}

/// Gas comes in a line that is tested and connected by who may; liquid fuel comes from a pick-up through a pump.
#[test]
fn a_burner_gets_the_fuel_path_of_its_fuel() {
    let library = Library::load(crate::harness::house()).expect("kinds");
    let fuelled = library.iter().filter(|k| k.safety.as_ref().is_some_and(|s| s.role == SafetyRole::Burner));
    let mut tried = 0;
    for kind in fuelled {
        let Some(choices) = kind.fields.get("fuel").filter(|f| f.ty == FieldType::Choice).map(|f| &f.choices) else {
            continue;
        };
        for fuel in choices {
            let text = format!("[component.x]\nkind = \"{}\"\nplace = \"here\"\nfuel = \"{fuel}\"\n", kind.id);
            let told = packets(&text);
            let liquid = ["pick-up", "metering pump", "hose clamps for fuel line"].map(|word| told.contains(word));
            let gas = ["LPG where local codes", "own shut-off valve in reach"].map(|word| told.contains(word));
            let is_gas = fuel == "lpg";
            assert_eq!(liquid, [!is_gas; 3], "{} with {fuel}", kind.id);
            assert!(gas[1] == is_gas, "{} with {fuel}", kind.id);
            tried += 1;
        }
    }
    assert!(tried >= 6, "{tried} fuels tried");
}

/// What works without pressure is never pumped up; what works under pressure is.
#[test]
fn a_pipe_is_tested_as_it_works() {
    let library = Library::load(crate::harness::house()).expect("kinds");
    let media = &library.get("pipe-run").expect("pipes").fields.get("medium").expect("a medium").choices;
    for medium in media {
        let text =
            format!("[component.x]\nkind = \"pipe-run\"\nplace = \"here\"\nlength = \"2 m\"\nmedium = \"{medium}\"\n");
        let told = packets(&text);
        let pumped = medium == "cold" || medium == "hot";
        assert_eq!(told.contains("Pump to 4 bar") || told.contains("Pump to 58 psi"), pumped, "{medium}");
        assert_eq!(told.contains("Fill the pipe with water to its highest point"), !pumped, "{medium}");
    }
}

/// A controller that starts without a bank, or on an array joined the wrong way round, is destroyed.
#[test]
fn nothing_charges_before_the_bank_is_on_and_each_array_is_measured() {
    let mut started = 0;
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        let order = placed(&worked);
        let with = |words: &[&str]| -> Vec<usize> {
            let says = |t: &TaskTemplate| t.steps.iter().any(|s| words.iter().all(|w| s.to_lowercase().contains(w)));
            let live = |t: &(usize, &Placed<'_>)| t.1.stage == Stage::Commissioning && t.1.template.is_some_and(says);
            order.iter().enumerate().filter(live).map(|(at, _)| at).collect()
        };
        let (on, starts) = (with(&["turn {{ main_disconnect }} on"]), with(&["close the isolator."]));
        let polarity: Vec<usize> = with(&["polarity"])
            .into_iter()
            .filter(|at| order[*at].part.is_some_and(|p| worked.build.parts[p].role() == Some(Role::Array)))
            .collect();
        for start in starts {
            assert!(on.first().is_some_and(|on| *on < start), "{}: {}", path.display(), order[start].id);
            let late: Vec<_> = polarity.iter().filter(|p| **p > start).map(|p| order[*p].id).collect();
            assert!(late.is_empty(), "{}: {late:?} after {}", path.display(), order[start].id);
            started += 1;
        }
    }
    assert!(started >= 5, "{started}");
}

/// What was locked out at intake stays so until commissioning brings it back.
#[test]
fn the_vehicle_battery_stays_off_until_it_is_brought_back() {
    let library = Library::load(crate::harness::house()).expect("kinds");
    let words = ["Fit the negative clamp", "negative back", "connect the battery"];
    let puts_back = |s: &String| words.iter().any(|w| s.contains(w));
    let early: Vec<_> = library
        .iter()
        .flat_map(|k| k.tasks.iter().map(move |t| (k, t)))
        .filter(|(_, t)| t.stage < Stage::Commissioning && t.steps.iter().any(puts_back))
        .map(|(k, t)| format!("{}.{}", k.id, t.id))
        .collect();
    assert!(early.is_empty(), "{early:?}");
    let running = |s: &String| s.contains("engine running");
    let dead =
        library.iter().flat_map(|k| &k.tasks).filter(|t| t.stage > Stage::Intake && t.stage < Stage::Commissioning);
    assert!(!dead.flat_map(|t| &t.steps).any(running), "no engine runs while its battery is locked out");
}
