//! The graph that the order of work is read from, and the faults of tasks that make none.

use super::task::{Join, Task, TaskFault};
use super::task_loops::loops;
use petgraph::graph::{DiGraph, NodeIndex};
use std::collections::{BTreeMap, BTreeSet};

/// A node of the graph. Tasks come first, in the order given, then joins, then the ends of the stages.
#[derive(Clone, Copy)]
pub(super) struct Node {
    /// Its stage; that of its latest task for a join.
    pub(super) stage: usize,
    /// What it stands for.
    pub(super) of: Of,
    /// How long it takes.
    pub(super) minutes: u64,
    /// How long after it what waits for it may begin: none for the end of its stage.
    pub(super) cures: u64,
}

/// What a node stands for.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Of {
    /// The task at this place of the list.
    Task(usize),
    Join,
    EndOfStage,
}

impl Node {
    /// Place in the list of tasks, if it is one.
    pub(super) const fn task(&self) -> Option<usize> {
        if let Of::Task(place) = self.of { Some(place) } else { None }
    }
}

/// The graph, with the ends of the stages as its last nodes.
pub(super) fn build(tasks: &[Task], joins: &[Join], stages: &[String]) -> Result<DiGraph<Node, ()>, Vec<TaskFault>> {
    let mut faults = Vec::new();
    let stage_index: BTreeMap<&str, usize> = stages.iter().enumerate().map(|(i, s)| (s.as_str(), i)).collect();
    let mut by_id: BTreeMap<&str, NodeIndex> = BTreeMap::new();
    let mut graph: DiGraph<Node, ()> = DiGraph::new();
    for (index, task) in tasks.iter().enumerate() {
        let stage = stage_index.get(task.stage.as_str()).copied();
        let node = graph.add_node(Node {
            stage: stage.unwrap_or(usize::MAX),
            of: Of::Task(index),
            minutes: task.minutes.into(),
            cures: task.cures,
        });
        if by_id.insert(&task.id, node).is_some() {
            faults.push(TaskFault::Duplicate { id: task.id.clone() });
        }
        if stage.is_none() {
            faults.push(TaskFault::UnknownStage { task: task.id.clone(), stage: task.stage.clone() });
        }
    }
    for join in joins {
        let of_tasks = join.after.iter().filter_map(|a| by_id.get(a.as_str())).map(|n| graph[*n].stage);
        let stage = of_tasks.filter(|s| *s != usize::MAX).max().unwrap_or(0);
        let node = graph.add_node(Node { stage, of: Of::Join, minutes: 0, cures: 0 });
        if by_id.insert(&join.id, node).is_some() {
            faults.push(TaskFault::Duplicate { id: join.id.clone() });
        }
    }
    let later = |task: &Task, after: NodeIndex, stage: usize| TaskFault::AfterLaterStage {
        task: task.id.clone(),
        stage: task.stage.clone(),
        after: tasks.get(after.index()).map_or_else(String::new, |t| t.id.clone()),
        after_stage: stages[stage].clone(),
    };
    let waits = tasks.iter().map(|t| (&t.id, &t.after)).chain(joins.iter().map(|j| (&j.id, &j.after)));
    for (index, (id, afters)) in waits.enumerate() {
        let node = NodeIndex::new(index);
        let stage = graph[node].stage;
        let is_later = |s: usize| s != usize::MAX && s > stage;
        let mut seen = BTreeSet::new();
        for after in afters {
            let Some(&before) = by_id.get(after.as_str()) else {
                faults.push(TaskFault::UnknownAfter { task: id.clone(), after: after.clone() });
                continue;
            };
            match (tasks.get(index), graph[before]) {
                (Some(task), Node { stage, of: Of::Task(_), .. }) if is_later(stage) => {
                    faults.push(later(task, before, stage));
                }
                (Some(task), Node { stage, of: Of::Join, .. }) if is_later(stage) => {
                    let of_join = joins.get(before.index() - tasks.len()).map_or(&[][..], |j| &j.after);
                    let found = of_join.iter().filter_map(|a| by_id.get(a.as_str()).map(|n| (*n, graph[*n].stage)));
                    faults.extend(found.filter(|(_, s)| is_later(*s)).map(|(n, s)| later(task, n, s)));
                }
                _ if seen.insert(before) => {
                    graph.add_edge(before, node, ());
                }
                _ => {}
            }
        }
    }
    let name = |node: NodeIndex| tasks.get(node.index()).map(|t| t.id.clone());
    faults
        .extend(loops(&graph).into_iter().map(|l| TaskFault::Cycle { ids: l.into_iter().filter_map(name).collect() }));
    if !faults.is_empty() {
        return Err(faults);
    }
    let ends: Vec<NodeIndex> = (0..stages.len())
        .map(|stage| graph.add_node(Node { stage, of: Of::EndOfStage, minutes: 0, cures: 0 }))
        .collect();
    for task in (0..tasks.len()).map(NodeIndex::new) {
        let stage = graph[task].stage;
        graph.add_edge(task, ends[stage], ());
        if stage > 0 {
            graph.add_edge(ends[stage - 1], task, ());
        }
    }
    for pair in ends.windows(2) {
        graph.add_edge(pair[0], pair[1], ());
    }
    Ok(graph)
}
