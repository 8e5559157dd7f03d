//! The van itself: a plain panel van from its measures, seen from above, from the sides, from behind.

use super::frame::{Frame, View};
use crate::compute::geometry::van::Van;
use crate::drawings::canvas::{Area, Canvas, Dash, Fill, Pen};
use std::fmt::Write as _;

const EDGE: Pen = Pen::of(0.4);
const FINE: Pen = Pen { width: 0.18, grey: 0.45, dash: Dash::None };
const FLOOR: Pen = Pen { width: 0.18, grey: 0.3, dash: Dash::Chain };

/// Draws the van.
pub(crate) fn draw(canvas: &mut Canvas, frame: &Frame, van: &Van) {
    match frame.view {
        View::Top => from_above(canvas, frame, van),
        View::Left | View::Right => from_side(canvas, frame, van),
        View::Rear => from_behind(canvas, frame, van),
    }
}

/// A closed line through points, its corners rounded by the metres beside each.
fn rounded(canvas: &mut Canvas, frame: &Frame, points: &[((f64, f64), f64)], pen: Pen, fill: Fill) {
    let count = points.len();
    let on = |(a, b): (f64, f64)| {
        if frame.view == View::Top { frame.point([a, b, 0.0]) } else { frame.over_ground(a, a, b) }
    };
    let toward = |from: (f64, f64), to: (f64, f64), by: f64| {
        let (dx, dy) = (to.0 - from.0, to.1 - from.1);
        let long = dx.hypot(dy);
        let share = if long > 0.0 { (by / long).min(0.5) } else { 0.0 };
        (from.0 + dx * share, from.1 + dy * share)
    };
    let mut path = String::new();
    for (n, &(corner, radius)) in points.iter().enumerate() {
        let before = points[(n + count - 1) % count].0;
        let after = points[(n + 1) % count].0;
        let (start, end) = (on(toward(corner, before, radius)), on(toward(corner, after, radius)));
        let middle = on(corner);
        let word = if n == 0 { 'M' } else { 'L' };
        let _ = write!(
            path,
            "{word}{:.2} {:.2}Q{:.2} {:.2} {:.2} {:.2}",
            start.0, start.1, middle.0, middle.1, end.0, end.1
        );
        canvas.mark(Area { left: start.0, top: start.1, right: start.0, bottom: start.1 });
        canvas.mark(Area { left: end.0, top: end.1, right: end.0, bottom: end.1 });
    }
    path.push('Z');
    canvas.path(&path, pen, fill);
}

/// Height of the bonnet at its rear, and the points of the windscreen: metres above the ground, aft of the front axle.
fn front(van: &Van) -> [(f64, f64); 4] {
    let bonnet = (van.floor + 0.62).min(van.height * 0.62);
    let top = van.height - (0.16 * van.height).min(0.42);
    [(-van.front, bonnet - 0.36), (-van.front * 0.72, bonnet - 0.12), (0.02, bonnet), (0.72, top)]
}

fn from_side(canvas: &mut Canvas, frame: &Frame, van: &Van) {
    let [nose, bonnet, foot, top] = front(van);
    let [under, under_front, under_rear] = van.under;
    let roof = (top.0 + 0.42, van.height);
    let shape = [
        ((-van.front, under_front), 0.1),
        (nose, 0.12),
        (bonnet, 0.3),
        (foot, 0.05),
        (top, 0.25),
        (roof, 0.35),
        ((van.rear - 0.05, van.height), 0.14),
        ((van.rear, van.floor + 0.1), 0.1),
        ((van.rear, under_rear), 0.08),
        ((van.wheelbase + van.tyre * 1.3, under_rear), 0.1),
        ((van.wheelbase + van.tyre, under), 0.05),
        ((van.tyre, under), 0.05),
        ((-van.tyre * 1.25, under_front), 0.1),
    ];
    rounded(canvas, frame, &shape, EDGE, Fill::None);
    // Door and window of the cab.
    let sill = van.floor - 0.12;
    let door = [
        ((foot.0 + 0.42, sill), 0.12),
        ((foot.0 + 0.36, foot.1), 0.02),
        ((top.0 - 0.02, top.1 - 0.06), 0.15),
        ((top.0 + 0.62, top.1 - 0.02), 0.1),
        ((top.0 + 0.66, sill), 0.1),
    ];
    rounded(canvas, frame, &door, FINE, Fill::None);
    let pane = [
        ((foot.0 + 0.44, foot.1 + 0.03), 0.04),
        ((top.0 + 0.04, top.1 - 0.13), 0.1),
        ((top.0 + 0.55, top.1 - 0.12), 0.06),
        ((top.0 + 0.55, foot.1 + 0.03), 0.05),
    ];
    rounded(canvas, frame, &pane, FINE, Fill::None);
    let line = |canvas: &mut Canvas, a: (f64, f64), b: (f64, f64), pen| {
        canvas.line(frame.over_ground(a.0, 0.0, a.1), frame.over_ground(b.0, 0.0, b.1), pen);
    };
    line(canvas, (0.3, van.floor), (van.rear - 0.04, van.floor), FLOOR);
    for axle in [0.0, van.wheelbase] {
        let centre = frame.over_ground(axle, 0.0, van.tyre);
        let radius = van.tyre * frame.per_metre;
        canvas.circle(centre, radius, EDGE, Fill::Grey(1.0));
        canvas.circle(centre, radius * 0.58, FINE, Fill::None);
        canvas.circle(centre, radius * 0.14, FINE, Fill::None);
    }
    line(canvas, (-van.front - 0.12, 0.0), (van.rear + 0.12, 0.0), Pen::of(0.25));
}

fn from_above(canvas: &mut Canvas, frame: &Frame, van: &Van) {
    let half = van.width / 2.0;
    let nose = half * 0.72;
    let shape = [
        ((-van.front, -nose), 0.18),
        ((-van.front * 0.62, -half + 0.04), 0.3),
        ((van.wheelbase * 0.4, -half), 0.3),
        ((van.rear, -half), 0.1),
        ((van.rear, half), 0.1),
        ((van.wheelbase * 0.4, half), 0.3),
        ((-van.front * 0.62, half - 0.04), 0.3),
        ((-van.front, nose), 0.18),
    ];
    let [_, _, foot, top] = front(van);
    for (axle, side) in [(0.0, -1.0), (0.0, 1.0), (van.wheelbase, -1.0), (van.wheelbase, 1.0)] {
        let middle = side * van.track / 2.0;
        let a = frame.point([axle - van.tyre, middle - 0.11, 0.0]);
        let b = frame.point([axle + van.tyre, middle + 0.11, 0.0]);
        let hidden = Pen::of(0.18).grey(0.45).dash(Dash::Dashed);
        canvas.rect(Area { left: a.0, top: a.1, right: b.0, bottom: b.1 }, 0.06 * frame.per_metre, hidden, Fill::None);
    }
    // The windscreen, bowed.
    let pane = [
        ((foot.0 + 0.12, -half * 0.86), 0.05),
        ((foot.0, 0.0), 1.2),
        ((foot.0 + 0.12, half * 0.86), 0.05),
        ((top.0 + 0.02, half * 0.78), 0.05),
        ((top.0 - 0.08, 0.0), 1.2),
        ((top.0 + 0.02, -half * 0.78), 0.05),
    ];
    rounded(canvas, frame, &pane, FINE, Fill::None);
    rounded(canvas, frame, &shape, EDGE, Fill::None);
}

fn from_behind(canvas: &mut Canvas, frame: &Frame, van: &Van) {
    let half = van.width / 2.0;
    let shape = |grow: f64| {
        [
            ((-half - grow, van.under[2]), 0.1),
            ((-half - grow, van.floor + 0.5), 0.3),
            ((-half + 0.1, van.height + grow), 0.22),
            ((half - 0.1, van.height + grow), 0.22),
            ((half + grow, van.floor + 0.5), 0.3),
            ((half + grow, van.under[2]), 0.1),
        ]
    };
    for side in [-1.0, 1.0] {
        let middle = side * van.track / 2.0;
        let a = frame.over_ground(0.0, middle + 0.11, van.tyre * 2.0);
        let b = frame.over_ground(0.0, middle - 0.11, 0.0);
        let area = Area { left: a.0.min(b.0), top: a.1, right: a.0.max(b.0), bottom: b.1 };
        canvas.rect(area, 0.05 * frame.per_metre, EDGE, Fill::Grey(0.93));
    }
    rounded(canvas, frame, &shape(0.0), EDGE, Fill::Grey(1.0));
    let line = |canvas: &mut Canvas, a: (f64, f64), b: (f64, f64), pen| {
        canvas.line(frame.over_ground(0.0, a.0, a.1), frame.over_ground(0.0, b.0, b.1), pen);
    };
    line(canvas, (0.0, van.floor), (0.0, van.height - 0.12), FINE);
    for side in [-1.0, 1.0] {
        line(canvas, (side * (half - 0.14), van.floor), (side * (half - 0.2), van.height - 0.12), FINE);
        line(canvas, (0.0, van.height - 0.12), (side * (half - 0.2), van.height - 0.12), FINE);
    }
    line(canvas, (-half + 0.06, van.floor), (half - 0.06, van.floor), FLOOR);
    line(canvas, (-half - 0.12, 0.0), (half + 0.12, 0.0), Pen::of(0.25));
}
