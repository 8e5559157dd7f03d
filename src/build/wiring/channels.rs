//! The channels of a build as a graph: where they meet, where places join them, and the shortest way along them.

use crate::build::Build;
use petgraph::algo::astar;
use petgraph::graph::{EdgeIndex, NodeIndex, UnGraph};
use petgraph::visit::EdgeRef;
use std::cell::RefCell;
use std::collections::BTreeMap;

/// A place joins a channel that passes no farther from its middle; places that are no farther apart are joined straight.
/// Common practice, no source.
pub const REACH: f64 = 1.0;

/// Points nearer than this are one, metres.
const SAME: f64 = 1e-3;

/// A point, metres.
pub(super) type Point = [f64; 3];

/// A piece of a channel between two points.
#[derive(Clone, Copy, Debug)]
struct Piece {
    channel: usize,
    length: f64,
}

/// Where a place joins.
#[derive(Clone, Copy, Debug)]
struct Join {
    node: NodeIndex,
    /// From the middle of the place to there.
    off: f64,
}

/// A way along channels.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Way {
    /// From the middle of one place to that of the other, metres.
    pub length: f64,
    /// Ids of the channels, in order.
    pub channels: Vec<String>,
    /// Numbers of the pieces.
    pub pieces: Vec<usize>,
}

/// All channels of a build.
pub(super) struct Channels {
    ids: Vec<String>,
    graph: UnGraph<Point, Piece>,
    joins: BTreeMap<String, Join>,
    middles: BTreeMap<String, Point>,
    found: RefCell<BTreeMap<(String, String), Option<Way>>>,
}

/// Straight from point to point.
pub(super) fn between(a: Point, b: Point) -> f64 {
    (0..3).map(|k| (a[k] - b[k]).powi(2)).sum::<f64>().sqrt()
}

/// The point of a line that is nearest to `point`, as the share of the line before it.
fn foot(point: Point, [a, b]: [Point; 2]) -> f64 {
    let along: f64 = (0..3).map(|k| (point[k] - a[k]) * (b[k] - a[k])).sum();
    let whole: f64 = (0..3).map(|k| (b[k] - a[k]).powi(2)).sum();
    if whole > 0.0 { (along / whole).clamp(0.0, 1.0) } else { 0.0 }
}

fn on([a, b]: [Point; 2], share: f64) -> Point {
    std::array::from_fn(|k| a[k] + (b[k] - a[k]) * share)
}

/// A line of a channel, by its number, with the shares of it at which places join.
type Line = (usize, [Point; 2], Vec<(f64, String)>);

/// Millimetre by millimetre: points that a spec writes alike are alike.
fn key(point: Point) -> [i64; 3] {
    #[expect(clippy::cast_possible_truncation, reason = "the reader bounds lengths far below 2^53 of these")]
    point.map(|metres| (metres / SAME).round() as i64)
}

impl Channels {
    pub(super) fn of(build: &Build<'_>) -> Self {
        let middles: BTreeMap<String, Point> = build
            .places
            .iter()
            .filter_map(|(id, place)| {
                let at = place.at.metres()?;
                let height = place.size.metres().map_or(0.0, |size| size[2]);
                Some((id.clone(), [at[0], at[1], at[2] + height / 2.0]))
            })
            .collect();
        let ids: Vec<String> = build.channels.keys().cloned().collect();
        let mut lines: Vec<Line> = Vec::new();
        for (channel, section) in build.channels.values().enumerate() {
            lines.extend(section.points.all().windows(2).map(|two| (channel, [two[0], two[1]], Vec::new())));
        }
        let mut offs = BTreeMap::new();
        if !lines.is_empty() {
            for (id, middle) in &middles {
                let near = lines.iter().enumerate().map(|(at, (_, line, _))| {
                    let share = foot(*middle, *line);
                    (at, share, between(*middle, on(*line, share)))
                });
                let nearest = near.min_by(|a, b| a.2.total_cmp(&b.2));
                if let Some((at, share, off)) = nearest.filter(|(_, _, off)| *off <= REACH) {
                    lines[at].2.push((share, id.clone()));
                    offs.insert(id.clone(), off);
                }
            }
        }
        let mut graph = UnGraph::new_undirected();
        let mut nodes: BTreeMap<[i64; 3], NodeIndex> = BTreeMap::new();
        let mut joins = BTreeMap::new();
        for (channel, line, mut feet) in lines {
            feet.sort_by(|a, b| a.0.total_cmp(&b.0));
            let mut node = |point: Point, graph: &mut UnGraph<Point, Piece>| {
                *nodes.entry(key(point)).or_insert_with(|| graph.add_node(point))
            };
            let mut last = node(line[0], &mut graph);
            let stops = feet.iter().map(|(share, id)| (on(line, *share), Some(id))).chain([(line[1], None)]);
            for (point, place) in stops {
                let here = node(point, &mut graph);
                if here != last {
                    let length = between(graph[last], graph[here]);
                    graph.add_edge(last, here, Piece { channel, length });
                    last = here;
                }
                if let Some((id, off)) = place.and_then(|id| Some((id, offs.get(id)?))) {
                    joins.insert(id.clone(), Join { node: here, off: *off });
                }
            }
        }
        Self { ids, graph, joins, middles, found: RefCell::default() }
    }

    /// Middle of a place.
    pub(super) fn middle(&self, place: &str) -> Option<Point> {
        self.middles.get(place).copied()
    }

    /// The channel of each piece.
    pub(super) fn channel_of(&self) -> Vec<String> {
        self.graph.edge_weights().map(|piece| self.ids[piece.channel].clone()).collect()
    }

    /// The shortest way along channels between two places.
    pub(super) fn way(&self, from: &str, to: &str) -> Option<Way> {
        if let Some(found) = self.found.borrow().get(&(from.to_owned(), to.to_owned())) {
            return found.clone();
        }
        let way = self.find(from, to);
        self.found.borrow_mut().insert((from.to_owned(), to.to_owned()), way.clone());
        way
    }

    fn find(&self, from: &str, to: &str) -> Option<Way> {
        let [a, b] = [self.joins.get(from)?, self.joins.get(to)?];
        let goal = |node| node == b.node;
        let rest = |node: NodeIndex| between(self.graph[node], self.graph[b.node]);
        let (along, nodes) = astar(&self.graph, a.node, goal, |edge| edge.weight().length, rest)?;
        let mut pieces: Vec<EdgeIndex> = Vec::new();
        for two in nodes.windows(2) {
            // Of two pieces between the same points the shorter one.
            let between = self.graph.edges_connecting(two[0], two[1]);
            let shortest = between.min_by(|x, y| x.weight().length.total_cmp(&y.weight().length));
            pieces.extend(shortest.map(|edge| edge.id()));
        }
        let mut channels: Vec<String> = Vec::new();
        for piece in &pieces {
            let id = &self.ids[self.graph[*piece].channel];
            if channels.last() != Some(id) {
                channels.push(id.clone());
            }
        }
        let pieces = pieces.into_iter().map(EdgeIndex::index).collect();
        Some(Way { length: a.off + along + b.off, channels, pieces })
    }
}
