//! Boxes along the axes of the vehicle: overlaps, and the aisle between them.

use serde::Serialize;

/// A box: aft of the front axle, to the left, above the load floor; metres.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Box3 {
    /// Front right lower corner.
    pub min: [f64; 3],
    /// Rear left upper corner.
    pub max: [f64; 3],
}

/// Overlaps of less than this are joints, not faults: 20 mm.
pub const JOINT: f64 = 0.02;

/// Room for the rounding of sums of decimals.
const ROUNDING: f64 = 1e-9;

impl Box3 {
    /// From the middle of its floor and its size.
    #[must_use]
    pub fn standing(at: [f64; 3], size: [f64; 3]) -> Self {
        let below = [size[0] / 2.0, size[1] / 2.0, 0.0];
        let min: [f64; 3] = std::array::from_fn(|k| at[k] - below[k]);
        Self { min, max: std::array::from_fn(|k| min[k] + size[k]) }
    }

    /// How far two boxes reach into each other, along each axis; `None` where no axis has more than [`JOINT`] everywhere.
    #[must_use]
    pub fn overlap(&self, other: &Self) -> Option<[f64; 3]> {
        let depth = std::array::from_fn(|k| self.max[k].min(other.max[k]) - self.min[k].max(other.min[k]));
        depth.iter().all(|d| *d > JOINT + ROUNDING).then_some(depth)
    }

    /// Whether `inner` lies within, apart from joints.
    #[must_use]
    pub fn holds(&self, inner: &Self) -> bool {
        let slack = JOINT + ROUNDING;
        (0..3).all(|k| inner.min[k] >= self.min[k] - slack && inner.max[k] <= self.max[k] + slack)
    }

    /// Straight way between the nearest points of two boxes; 0 where they touch or reach into each other.
    #[must_use]
    pub fn gap(&self, other: &Self) -> f64 {
        let apart: [f64; 3] =
            std::array::from_fn(|k| (self.min[k] - other.max[k]).max(other.min[k] - self.max[k]).max(0.0));
        apart.iter().map(|d| d * d).sum::<f64>().sqrt()
    }

    /// Drawn out by `by` along `axis`: forward in the sense of `sign`.
    #[must_use]
    pub fn drawn(mut self, axis: usize, sign: f64, by: f64) -> Self {
        let (Some(min), Some(max)) = (self.min.get_mut(axis), self.max.get_mut(axis)) else { return self };
        if sign > 0.0 {
            *max += by;
        } else {
            *min -= by;
        }
        self
    }

    /// Length, width, height.
    #[must_use]
    pub fn size(&self) -> [f64; 3] {
        std::array::from_fn(|k| self.max[k] - self.min[k])
    }
}

/// The narrowest place of an aisle.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Aisle {
    /// Width in metres.
    pub width: f64,
    /// Where, aft of the front axle.
    pub at: f64,
    /// Index of the box on the left and of the one on the right.
    pub between: (usize, usize),
}

/// Boxes lower than this are floors, higher than that are lockers: a person walks between.
const STEP: f64 = 0.30;
const SHOULDER: f64 = 0.90;

/// The narrowest gap between boxes left and right of the middle, wherever both stand beside each other and nothing
/// stands across. `None` where no two do.
#[must_use]
pub fn aisle(boxes: &[Box3]) -> Option<Aisle> {
    let in_the_way = |b: &&(usize, &Box3)| b.1.max[2] > STEP && b.1.min[2] < SHOULDER;
    let listed: Vec<(usize, &Box3)> = boxes.iter().enumerate().collect();
    let standing: Vec<_> = listed.iter().filter(in_the_way).copied().collect();
    let mut edges: Vec<f64> = standing.iter().flat_map(|(_, b)| [b.min[0], b.max[0]]).collect();
    edges.sort_by(f64::total_cmp);
    let mut narrowest: Option<Aisle> = None;
    for pair in edges.windows(2) {
        let &[from, to] = pair else { continue };
        if to - from <= JOINT {
            continue;
        }
        let at = f64::midpoint(from, to);
        let here: Vec<_> = standing.iter().filter(|(_, b)| b.min[0] < at && b.max[0] > at).collect();
        if here.iter().any(|(_, b)| b.min[1] < 0.0 && b.max[1] > 0.0) {
            continue;
        }
        let left = here.iter().filter(|(_, b)| b.min[1] >= 0.0).min_by(|a, b| a.1.min[1].total_cmp(&b.1.min[1]));
        let right = here.iter().filter(|(_, b)| b.max[1] <= 0.0).max_by(|a, b| a.1.max[1].total_cmp(&b.1.max[1]));
        let (Some((l, left)), Some((r, right))) = (left, right) else { continue };
        let width = left.min[1] - right.max[1];
        if narrowest.is_none_or(|n| width < n.width) {
            narrowest = Some(Aisle { width, at, between: (*l, *r) });
        }
    }
    narrowest
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_gap_is_the_straight_way_between_the_nearest_points() {
        let at = |x, y, z| Box3::standing([x, y, z], [1.0, 1.0, 1.0]);
        assert!((at(0.0, 0.0, 0.0).gap(&at(4.0, 5.0, 0.0)) - 5.0).abs() < 1e-12, "3 m and 4 m apart");
        assert!((at(0.0, 0.0, 3.0).gap(&at(0.3, 0.0, 0.0)) - 2.0).abs() < 1e-12, "above each other");
        assert!(at(0.0, 0.0, 0.0).gap(&at(1.0, 0.5, 0.0)).abs() < 1e-12, "side by side");
        assert!(at(0.0, 0.0, 0.0).gap(&at(0.5, 0.5, 0.5)).abs() < 1e-12, "inside each other");
    }

    fn cube(x: f64, y: f64, z: f64) -> Box3 {
        Box3::standing([x, y, z], [1.0, 1.0, 1.0])
    }

    #[test]
    fn boxes_that_touch_do_not_overlap() {
        assert_eq!(cube(0.0, 0.0, 0.0).overlap(&cube(1.0, 0.0, 0.0)), None);
        assert_eq!(cube(0.0, 0.0, 0.0).overlap(&cube(0.98, 0.0, 0.0)), None, "a joint of 20 mm");
        let depth = cube(0.0, 0.0, 0.0).overlap(&cube(0.75, 0.5, -0.5)).expect("they do");
        assert!((depth[0] - 0.25).abs() < 1e-12 && (depth[1] - 0.5).abs() < 1e-12 && (depth[2] - 0.5).abs() < 1e-12);
    }

    #[test]
    fn a_box_within_another_is_held() {
        let large = Box3::standing([0.0, 0.0, 0.0], [2.0, 2.0, 2.0]);
        assert!(large.holds(&cube(0.5, 0.5, 1.0)));
        assert!(!large.holds(&cube(0.6, 0.5, 1.0)));
    }

    #[test]
    fn the_aisle_is_the_narrowest_gap_beside_each_other() {
        let left = Box3::standing([2.0, 0.7, 0.0], [1.0, 0.6, 0.9]);
        let right = Box3::standing([2.4, -0.5, 0.0], [1.0, 0.7, 1.6]);
        let locker = Box3::standing([2.0, 0.5, 1.4], [1.0, 0.9, 0.3]);
        let found = aisle(&[left, right, locker]).expect("an aisle");
        assert!((found.width - (0.4 + 0.15)).abs() < 1e-12);
        assert_eq!(found.between, (0, 1));
        // A bed across the van is no aisle.
        let bed = Box3::standing([2.2, 0.0, 0.6], [2.0, 1.9, 0.2]);
        assert_eq!(aisle(&[left, right, bed]), None);
        assert_eq!(aisle(&[left]), None);
        assert_eq!(aisle(&[]), None);
    }

    #[test]
    fn drawing_out_reaches_one_way_only() {
        let out = cube(0.0, 0.0, 0.0).drawn(1, -1.0, 0.5);
        assert_eq!((out.min, out.max), ([-0.5, -1.0, 0.0], [0.5, 0.5, 1.0]));
    }
}
