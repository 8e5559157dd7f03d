//! The task graph of a build: a stable order, loops, hours per stage and the critical path.
//!
//! A stage begins when the one before it is finished. Within a stage tasks run side by side unless `after` says
//! otherwise, so the times are those of a shop with enough hands; `person_minutes` is the work to be paid.

use super::free::Free;
pub use super::task::{Join, Task, TaskFault};
use super::task_graph::{self, Node, Of};
use petgraph::Direction;
use petgraph::graph::{DiGraph, NodeIndex};
use serde::Serialize;
use std::collections::VecDeque;

/// A task with its times, in minutes by the clock from the begin of the build.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct ScheduledTask {
    /// Id of the task.
    pub id: String,
    /// Id of its stage.
    pub stage: String,
    /// Earliest start.
    pub start: u64,
    /// Earliest finish.
    pub finish: u64,
    /// How much later it may start without the build being late.
    pub slack: u64,
    /// Whether it has no slack.
    pub critical: bool,
    /// Minutes of work of all its people.
    pub person_minutes: u64,
}

/// A stage with its times.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct StageTime {
    /// Id of the stage.
    pub stage: String,
    /// Number of its tasks.
    pub tasks: usize,
    /// Earliest start, minutes from the begin of the build.
    pub start: u64,
    /// Earliest finish.
    pub finish: u64,
    /// Minutes of work.
    pub person_minutes: u64,
}

/// The plan of a build.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Schedule {
    /// In an order that can be worked through; what the graph leaves open keeps to one place, then to the same tools, then
    /// to the order given.
    pub order: Vec<ScheduledTask>,
    /// In the order of the plan, empty ones too.
    pub stages: Vec<StageTime>,
    /// Ids of one unbroken chain of tasks from begin to end that decides how long the build takes.
    pub critical_path: Vec<String>,
    /// Minutes by the clock, with enough hands.
    pub minutes: u64,
    /// Minutes of work.
    pub person_minutes: u64,
}

/// Minutes as hours.
#[must_use]
#[allow(clippy::cast_precision_loss)]
pub fn hours(minutes: u64) -> f64 {
    minutes as f64 / 60.0
}

/// Puts the tasks in order and in time. Tasks may wait for `joins`, which take no time. `stages` are in the order they are worked through.
///
/// # Errors
/// All faults of the graph at once; one loop for every knot of tasks.
pub fn schedule(tasks: &[Task], joins: &[Join], stages: &[String]) -> Result<Schedule, Vec<TaskFault>> {
    let graph = task_graph::build(tasks, joins, stages)?;
    let order = stable_order(&graph, tasks);
    let count = graph.node_count();
    let (mut start, mut finish) = (vec![0_u64; count], vec![0_u64; count]);
    for &node in &order {
        let before = graph.neighbors_directed(node, Direction::Incoming);
        start[node.index()] = before.map(|b| ready(&graph, b, node, finish[b.index()])).max().unwrap_or(0);
        finish[node.index()] = start[node.index()] + graph[node].minutes;
    }
    let end = finish.iter().copied().max().unwrap_or(0);
    let mut latest_start = vec![0_u64; count];
    for &node in order.iter().rev() {
        let next = graph.neighbors_directed(node, Direction::Outgoing);
        let latest = |n: NodeIndex| latest_start[n.index()].saturating_sub(ready(&graph, node, n, 0));
        let latest_finish = next.map(latest).min().unwrap_or(end);
        latest_start[node.index()] = latest_finish.saturating_sub(graph[node].minutes);
    }
    let mut plan = Schedule { minutes: end, ..Schedule::default() };
    plan.stages = stages.iter().map(|stage| StageTime { stage: stage.clone(), ..StageTime::EMPTY }).collect();
    for (index, stage) in plan.stages.iter_mut().enumerate() {
        // The end of a stage is the node after all tasks; it starts when the last task is finished.
        stage.finish = finish[count - stages.len() + index];
        stage.start = if index == 0 { 0 } else { finish[count - stages.len() + index - 1] };
    }
    for node in order {
        let Some(task) = graph[node].task().and_then(|t| tasks.get(t)) else { continue };
        let slack = latest_start[node.index()] - start[node.index()];
        let person_minutes = task.person_minutes();
        plan.order.push(ScheduledTask {
            id: task.id.clone(),
            stage: task.stage.clone(),
            start: start[node.index()],
            finish: finish[node.index()],
            slack,
            critical: slack == 0,
            person_minutes,
        });
        plan.person_minutes += person_minutes;
        if let Some(stage) = plan.stages.get_mut(graph[node].stage) {
            stage.tasks += 1;
            stage.person_minutes += person_minutes;
        }
    }
    plan.critical_path = critical_path(&graph, &start, &finish, tasks);
    Ok(plan)
}

impl StageTime {
    const EMPTY: Self = Self { stage: String::new(), tasks: 0, start: 0, finish: 0, person_minutes: 0 };
}

/// Kahn's order: of the nodes that are free a join or the end of a stage first, since neither takes time, then the task
/// that `Free` picks.
fn stable_order(graph: &DiGraph<Node, ()>, tasks: &[Task]) -> Vec<NodeIndex> {
    let mut waiting: Vec<usize> =
        graph.node_indices().map(|n| graph.neighbors_directed(n, Direction::Incoming).count()).collect();
    let (mut now, mut free) = (VecDeque::new(), Free::of(tasks));
    let put = |node: NodeIndex, now: &mut VecDeque<NodeIndex>, free: &mut Free<'_>| match graph[node].task() {
        Some(task) => free.put(task, graph[node].stage),
        None => now.push_back(node),
    };
    graph.node_indices().filter(|n| waiting[n.index()] == 0).for_each(|n| put(n, &mut now, &mut free));
    let mut order = Vec::with_capacity(graph.node_count());
    while let Some(node) = now.pop_front().or_else(|| free.take().map(NodeIndex::new)) {
        order.push(node);
        for next in graph.neighbors_directed(node, Direction::Outgoing) {
            waiting[next.index()] -= 1;
            if waiting[next.index()] == 0 {
                put(next, &mut now, &mut free);
            }
        }
    }
    order
}

/// When what waits for a task may begin, which is finished then: the end of its stage at once, all else once it has cured.
fn ready(graph: &DiGraph<Node, ()>, before: NodeIndex, next: NodeIndex, finish: u64) -> u64 {
    finish + if graph[next].of == Of::EndOfStage { 0 } else { graph[before].cures }
}

/// Goes back from the end of the build, always to the node that it had to wait for; ties to the one given first.
fn critical_path(graph: &DiGraph<Node, ()>, start: &[u64], finish: &[u64], tasks: &[Task]) -> Vec<String> {
    let mut path = Vec::new();
    let mut node = graph.node_indices().max_by_key(|n| (finish[n.index()], *n));
    while let Some(current) = node {
        if let Some(task) = graph[current].task().and_then(|t| tasks.get(t)) {
            path.push(task.id.clone());
        }
        // A join may have been waited for, but its tasks are what it waited for.
        let (joins, before): (Vec<_>, Vec<_>) =
            graph.neighbors_directed(current, Direction::Incoming).partition(|b| graph[*b].of == Of::Join);
        let joined = joins.into_iter().flat_map(|j| graph.neighbors_directed(j, Direction::Incoming));
        let waited = |b: &NodeIndex| ready(graph, *b, current, finish[b.index()]) == start[current.index()];
        node = before.into_iter().chain(joined).filter(waited).min();
    }
    path.reverse();
    path
}
