//! The task graph: order, times, critical path and every fault.

use super::tasks::*;

fn task(id: &str, stage: &str, minutes: u32, after: &[&str]) -> Task {
    let after = after.iter().map(|a| (*a).to_owned()).collect();
    let (id, stage) = (id.to_owned(), stage.to_owned());
    Task { id, stage, minutes, people: 1, cures: 0, place: String::new(), tools: Vec::new(), after }
}

/// A plan without joins.
fn schedule(tasks: &[Task], stages: &[String]) -> Result<Schedule, Vec<TaskFault>> {
    super::tasks::schedule(tasks, &[], stages)
}

fn stages(names: &[&str]) -> Vec<String> {
    names.iter().map(|n| (*n).to_owned()).collect()
}

fn ids(plan: &Schedule) -> Vec<&str> {
    plan.order.iter().map(|t| t.id.as_str()).collect()
}

#[test]
fn order_keeps_to_that_given_where_it_may() {
    let tasks =
        [task("d", "two", 5, &[]), task("c", "one", 5, &["b"]), task("a", "one", 5, &[]), task("b", "one", 5, &[])];
    let plan = schedule(&tasks, &stages(&["one", "two"])).expect("a plan");
    assert_eq!(ids(&plan), ["a", "b", "c", "d"]);
    let again = schedule(&tasks, &stages(&["one", "two"]));
    assert_eq!(Ok(plan), again);
}

#[test]
fn times_slack_and_critical_path_by_hand() {
    // one: a 60, b 30 after a, c 100; two: nothing; three: d 20 (two people), e 50 after a.
    let mut tasks = vec![
        task("a", "one", 60, &[]),
        task("b", "one", 30, &["a"]),
        task("c", "one", 100, &[]),
        task("d", "three", 20, &["c"]),
        task("e", "three", 50, &["a"]),
    ];
    tasks[3].people = 2;
    let plan = schedule(&tasks, &stages(&["one", "two", "three"])).expect("a plan");
    let times: Vec<_> = plan.order.iter().map(|t| (t.id.as_str(), t.start, t.finish, t.slack)).collect();
    assert_eq!(times, [("a", 0, 60, 10), ("b", 60, 90, 10), ("c", 0, 100, 0), ("d", 100, 120, 30), ("e", 100, 150, 0)]);
    assert_eq!(plan.critical_path, ["c", "e"]);
    assert!(plan.order.iter().all(|t| t.critical == (t.slack == 0)));
    let stage_times: Vec<_> = plan.stages.iter().map(|s| (s.tasks, s.start, s.finish, s.person_minutes)).collect();
    assert_eq!(stage_times, [(3, 0, 100, 190), (0, 100, 100, 0), (2, 100, 150, 90)]);
    assert_eq!((plan.minutes, plan.person_minutes), (150, 280));
    assert!((hours(plan.minutes) - 2.5).abs() < f64::EPSILON);
}

#[test]
fn the_critical_path_is_unbroken() {
    let mut tasks = Vec::new();
    for n in 0..200_u32 {
        let stage = ["one", "two", "three"][(n % 3) as usize];
        let after = if n >= 9 { vec![format!("t{}", n - 9)] } else { Vec::new() };
        tasks.push(Task { after, ..task(&format!("t{n}"), stage, n * 37 % 61, &[]) });
    }
    let plan = schedule(&tasks, &stages(&["one", "two", "three"])).expect("a plan");
    let mut clock = 0;
    for id in &plan.critical_path {
        let task = plan.order.iter().find(|t| t.id == *id).expect("a task of the plan");
        assert_eq!((task.start, task.slack), (clock, 0), "{id}");
        clock = task.finish;
    }
    assert_eq!(clock, plan.minutes);
    let mut place = plan.order.iter().map(|t| &t.id);
    assert!(plan.critical_path.iter().all(|id| place.any(|p| p == id)), "in the order of the plan");
}

#[test]
fn a_loop_is_told_in_full() {
    let tasks = [
        task("start", "one", 1, &[]),
        task("pipe", "one", 1, &["panel", "start"]),
        task("wall", "one", 1, &["pipe"]),
        task("panel", "one", 1, &["wall", "wall"]),
        task("after-all", "one", 1, &["panel"]),
        task("self", "one", 1, &["self"]),
    ];
    let faults = schedule(&tasks, &stages(&["one"])).expect_err("loops");
    assert_eq!(faults.len(), 2);
    assert_eq!(faults[0].to_string(), "tasks wait for each other: pipe → wall → panel → pipe");
    assert_eq!(faults[1], TaskFault::Cycle { ids: vec!["self".to_owned()] });
}

#[test]
fn every_other_fault_is_told_at_once() {
    let tasks = [
        task("a", "one", 1, &["z"]),
        task("a", "one", 1, &["ghost"]),
        task("x", "nowhere", 1, &[]),
        task("y", "one", 1, &["x"]),
        task("z", "two", 1, &[]),
    ];
    let faults = schedule(&tasks, &stages(&["one", "two"])).expect_err("faults");
    let told: Vec<String> = faults.iter().map(ToString::to_string).collect();
    assert_eq!(
        told,
        [
            "two tasks are called `a`",
            "`x` is in stage `nowhere`, which is not in the plan",
            "`a` (one) can't come after `z`: that is in the later stage two",
            "`a` comes after `ghost`, which is not there",
        ]
    );
}

#[test]
fn nothing_to_do_takes_no_time() {
    let plan = schedule(&[], &stages(&["one"])).expect("a plan");
    assert_eq!((plan.minutes, plan.order.len(), plan.stages.len(), plan.critical_path.len()), (0, 0, 1, 0));
    assert_eq!(schedule(&[], &[]), Ok(Schedule::default()));
}

#[test]
fn a_join_plans_as_its_tasks_would() {
    // Chains across three stages; every "c" waits for all "a" of its shift, every "d" for all "b" and one "c".
    let stages = stages(&["one", "two"]);
    let of = |letter: &str| (0..20).map(|n| format!("{letter}{n}")).collect::<Vec<_>>();
    let joins: Vec<Join> = ["a", "b"].iter().map(|l| Join { id: format!("every {l}"), after: of(l) }).collect();
    let mut long: Vec<Task> = Vec::new();
    let mut short: Vec<Task> = Vec::new();
    for n in (0..20_u32).rev() {
        let mut push = |letter: &str, stage: &str, own: &[String], all: Option<&str>| {
            let minutes = (n * 7 + u32::from(letter.as_bytes()[0]) * 3) % 11 + 1;
            let one = task(&format!("{letter}{n}"), stage, minutes, &[]);
            let whole = own.iter().cloned().chain(all.into_iter().flat_map(of)).collect();
            let joined = own.iter().cloned().chain(all.map(|l| format!("every {l}"))).collect();
            long.push(Task { after: whole, ..one.clone() });
            short.push(Task { after: joined, ..one });
        };
        push("d", "two", &[format!("c{n}")], Some("b"));
        push("c", "one", &[], Some("a"));
        push("b", "one", &[format!("a{n}")], Some("a"));
        push("a", "one", &[], None);
    }
    let whole = schedule(&long, &stages).expect("a plan");
    assert_eq!(super::tasks::schedule(&short, &joins, &stages), Ok(whole));
}

#[test]
fn faults_behind_a_join_are_those_of_its_tasks() {
    let tasks = [task("a", "two", 1, &[]), task("b", "one", 1, &["every a"]), task("c", "one", 1, &["every c"])];
    let join = |id: &str| Join { id: format!("every {id}"), after: vec![id.to_owned()] };
    let faults = super::tasks::schedule(&tasks, &[join("a"), join("c")], &stages(&["one", "two"])).expect_err("faults");
    let told: Vec<String> = faults.iter().map(ToString::to_string).collect();
    let later = "`b` (one) can't come after `a`: that is in the later stage two";
    assert_eq!(told, [later, "tasks wait for each other: c → c"]);
}

#[test]
fn of_what_may_start_the_same_place_comes_first_and_then_the_same_tools() {
    let at = |id: &str, place: &str, tool: &str, after: &[&str]| Task {
        place: place.to_owned(),
        tools: vec![tool.to_owned()],
        ..task(id, "one", 5, after)
    };
    let tasks = [
        at("a", "roof", "saw", &[]),
        at("b", "floor", "drill", &[]),
        at("c", "roof", "drill", &[]),
        at("d", "roof", "saw", &["b"]),
        at("e", "wall", "saw", &[]),
        at("f", "bench", "drill", &[]),
    ];
    let plan = schedule(&tasks, &stages(&["one"])).expect("a plan");
    // Roof first, saw before drill; no place is the same, so the drill stays in hand: b frees d, and f comes before the way
    // back to the roof.
    assert_eq!(ids(&plan), ["a", "c", "b", "f", "d", "e"]);
}

#[test]
fn what_waits_for_a_task_waits_until_it_has_cured_and_its_stage_does_not() {
    let mut tasks = vec![
        task("bond", "one", 30, &[]),
        task("drive", "one", 10, &["bond"]),
        task("paint", "one", 20, &[]),
        task("fit", "two", 40, &["bond"]),
        task("wire", "two", 15, &[]),
    ];
    tasks[0].cures = 24 * 60;
    let plan = schedule(&tasks, &stages(&["one", "two"])).expect("a plan");
    let starts: Vec<_> = plan.order.iter().map(|t| (t.id.as_str(), t.start, t.slack)).collect();
    let cured = 30 + 24 * 60;
    // The first stage ends with `drive`; nothing else waits for the cure but what stands on it.
    assert_eq!(
        starts,
        [
            ("bond", 0, 0),
            ("drive", cured, 0),
            ("paint", 0, cured - 10),
            ("fit", cured + 10, 0),
            ("wire", cured + 10, 25)
        ]
    );
    assert_eq!(plan.critical_path, ["bond", "drive", "fit"]);
    tasks.remove(1);
    let plan = schedule(&tasks, &stages(&["one", "two"])).expect("a plan");
    let starts: Vec<_> = plan.order.iter().map(|t| (t.id.as_str(), t.start, t.slack)).collect();
    assert_eq!(starts, [("bond", 0, 0), ("paint", 0, cured - 20), ("fit", cured, 0), ("wire", 30, cured + 40 - 45)]);
}
