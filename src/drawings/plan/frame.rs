//! Views to scale: from metres in the van to millimetres on the sheet.

use crate::compute::geometry::boxes::Box3;
use crate::compute::geometry::van::Van;
use crate::drawings::canvas::Area;

/// Where one looks from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum View {
    /// From above, front to the left.
    Top,
    /// From the left side, front to the left.
    Left,
    /// From the right side, front to the right.
    Right,
    /// From behind.
    Rear,
}

/// A view on a sheet. Points are metres: aft of the front axle, to the left, above the load floor.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Frame {
    /// Where one looks from.
    pub view: View,
    /// Millimetres of the sheet for a metre.
    pub per_metre: f64,
    /// Where the middle of the front axle is on the sheet: on the ground, seen from above its middle.
    pub origin: (f64, f64),
    /// Load floor above the ground, metres.
    floor: f64,
}

/// Scales in use, the largest first.
const SCALES: [f64; 8] = [20.0, 25.0, 30.0, 40.0, 50.0, 60.0, 75.0, 100.0];

/// The largest scale in use at which `fits` holds; 1:100 where none does.
#[must_use]
pub(crate) fn scale(fits: impl Fn(f64) -> bool) -> f64 {
    SCALES.into_iter().find(|s| fits(1000.0 / s)).unwrap_or(100.0)
}

impl Frame {
    /// A view of `van` whose drawing begins at the left and top given, `reach` being all that is drawn in it.
    #[must_use]
    pub(crate) fn new(view: View, van: &Van, reach: &Box3, scale: f64, left: f64, top: f64) -> Self {
        let per_metre = 1000.0 / scale;
        let mut frame = Self { view, per_metre, origin: (0.0, 0.0), floor: van.floor };
        let area = frame.area(reach);
        frame.origin = (left - area.left, top - area.top);
        frame
    }

    /// A point on the sheet.
    #[must_use]
    pub(crate) fn point(&self, [x, y, z]: [f64; 3]) -> (f64, f64) {
        let k = self.per_metre;
        let up = (z + self.floor) * k;
        match self.view {
            View::Top => (self.origin.0 + x * k, self.origin.1 + y * k),
            View::Left => (self.origin.0 + x * k, self.origin.1 - up),
            View::Right => (self.origin.0 - x * k, self.origin.1 - up),
            View::Rear => (self.origin.0 - y * k, self.origin.1 - up),
        }
    }

    /// A point given with its height above the ground.
    #[must_use]
    pub(crate) fn over_ground(&self, x: f64, y: f64, z: f64) -> (f64, f64) {
        self.point([x, y, z - self.floor])
    }

    /// The room a box takes on the sheet.
    #[must_use]
    pub(crate) fn area(&self, space: &Box3) -> Area {
        let (a, b) = (self.point(space.min), self.point(space.max));
        Area { left: a.0.min(b.0), top: a.1.min(b.1), right: a.0.max(b.0), bottom: a.1.max(b.1) }
    }
}

/// The smallest box around two.
#[must_use]
pub(crate) fn around(a: &Box3, b: &Box3) -> Box3 {
    Box3 { min: std::array::from_fn(|k| a.min[k].min(b.min[k])), max: std::array::from_fn(|k| a.max[k].max(b.max[k])) }
}
