//! What is kept of a build grows as the build does; counted, since times differ from machine to machine.

use rigbinder::pipeline;
use std::collections::BTreeMap;

#[path = "../../benches/support/synthetic.rs"]
mod synthetic;

/// How many ids and shared lists of ids say what tasks wait for.
fn waits(components: usize) -> usize {
    let loaded =
        pipeline::load(crate::harness::house(), "grown.toml", synthetic::spec(components).as_bytes()).expect("kinds");
    let worked = pipeline::work_out(&loaded).expect("profile");
    assert_eq!(worked.counts().0, 0, "the spec has errors");
    let tasks = || worked.build.tasks.values();
    assert!(tasks().any(|t| t.after.ids().count() > components / 100), "no task waits for many");
    let lists: BTreeMap<&str, usize> =
        tasks().flat_map(|t| &t.after.every).map(|e| (e.name.as_str(), e.ids.len())).collect();
    tasks().map(|t| t.after.single.len() + t.after.every.len()).sum::<usize>() + lists.values().sum::<usize>()
}

#[test]
fn what_tasks_wait_for_grows_with_the_build() {
    let (small, large) = (waits(200), waits(400));
    assert!(large * 10 <= small * 21, "twice the components: {small} → {large}");
}
