//! Finds tasks that wait for each other.

use petgraph::Direction;
use petgraph::algo::tarjan_scc;
use petgraph::graph::{DiGraph, NodeIndex};
use std::collections::btree_map::Entry;
use std::collections::{BTreeMap, BTreeSet, VecDeque};

/// One shortest loop for every knot of nodes, from its first node on, in the direction of the edges.
pub(super) fn loops<N>(graph: &DiGraph<N, ()>) -> Vec<Vec<NodeIndex>> {
    let mut found: Vec<Vec<NodeIndex>> = tarjan_scc(graph)
        .into_iter()
        .filter_map(|knot| {
            let first = *knot.iter().min()?;
            shortest_loop(graph, first, &knot.into_iter().collect())
        })
        .collect();
    found.sort();
    found
}

/// Breadth first from `first` through `knot` back to `first`; `None` for a node that is in no loop.
fn shortest_loop<N>(graph: &DiGraph<N, ()>, first: NodeIndex, knot: &BTreeSet<NodeIndex>) -> Option<Vec<NodeIndex>> {
    let mut came_from: BTreeMap<NodeIndex, NodeIndex> = BTreeMap::new();
    let mut queue = VecDeque::from([first]);
    while let Some(node) = queue.pop_front() {
        let mut next: Vec<NodeIndex> =
            graph.neighbors_directed(node, Direction::Outgoing).filter(|n| knot.contains(n)).collect();
        next.sort();
        for neighbour in next {
            if neighbour == first {
                let mut path = vec![node];
                while let Some(before) = path.last().filter(|n| **n != first).and_then(|n| came_from.get(n)) {
                    path.push(*before);
                }
                path.reverse();
                return Some(path);
            }
            if let Entry::Vacant(place) = came_from.entry(neighbour) {
                place.insert(node);
                queue.push_back(neighbour);
            }
        }
    }
    None
}
