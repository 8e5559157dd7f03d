//! Dimension lines, the scale bar, the arrow to the front.

use super::frame::{Frame, View};
use crate::drawings::canvas::{Area, Canvas, Fill, Pen, Type};
use crate::units::System;

const LINE: Pen = Pen::of(0.18);
/// Size of the figures, mm.
const FIGURE: f64 = 2.5;

fn head(canvas: &mut Canvas, tip: (f64, f64), from: (f64, f64)) {
    let (dx, dy) = (tip.0 - from.0, tip.1 - from.1);
    let long = dx.hypot(dy);
    if long <= 0.0 {
        return;
    }
    let (ux, uy) = (dx / long, dy / long);
    let back = (tip.0 - ux * 1.8, tip.1 - uy * 1.8);
    let side = (-uy * 0.35, ux * 0.35);
    canvas.polygon(
        &[tip, (back.0 + side.0, back.1 + side.1), (back.0 - side.0, back.1 - side.1)],
        Pen::NONE,
        Fill::Grey(0.0),
    );
}

/// A dimension along the sheet from `left` to `right` at the height `y`; extension lines come from `from`.
pub(crate) fn across(canvas: &mut Canvas, (left, right): (f64, f64), y: f64, from: f64, text: &str) {
    let over = if y > from { 1.0 } else { -1.0 };
    for x in [left, right] {
        canvas.line((x, from + over * 0.8), (x, y + over * 1.2), LINE);
    }
    canvas.line((left, y), (right, y), LINE);
    head(canvas, (left, y), (right, y));
    head(canvas, (right, y), (left, y));
    canvas.text_on_white((f64::midpoint(left, right), y + FIGURE * 0.25), text, Type::of(FIGURE).middle());
}

/// A dimension up the sheet from `bottom` to `top` at `x`; extension lines come from `from`, the text stands beside it.
pub(crate) fn upright(canvas: &mut Canvas, (top, bottom): (f64, f64), x: f64, from: f64, text: &str) {
    let over = if x > from { 1.0 } else { -1.0 };
    for y in [top, bottom] {
        canvas.line((from + over * 0.8, y), (x + over * 1.2, y), LINE);
    }
    canvas.line((x, top), (x, bottom), LINE);
    if bottom - top > 5.0 {
        head(canvas, (x, top), (x, bottom));
        head(canvas, (x, bottom), (x, top));
    } else {
        // Too short for arrows between: they come from outside.
        canvas.line((x, top - 3.0), (x, bottom + 3.0), LINE);
        head(canvas, (x, top), (x, top - 3.0));
        head(canvas, (x, bottom), (x, bottom + 3.0));
    }
    let style = if over > 0.0 { Type::of(FIGURE) } else { Type::of(FIGURE).end() };
    canvas.text_on_white((x + over * 1.2, f64::midpoint(top, bottom) + FIGURE * 0.3), text, style);
}

/// The scale in words and as a bar of whole metres or feet; its upper left corner at `at`. Gives its width.
pub(crate) fn scale_bar(canvas: &mut Canvas, at: (f64, f64), scale: f64, prints: System) -> f64 {
    let title = canvas.text((at.0, at.1 + 2.4), &format!("1:{scale:.0}"), Type::of(3.0).bold());
    let (unit, steps, word): (f64, u8, &str) = match prints {
        System::Metric => (1.0, 2, "m"),
        System::Us => (0.3048 * 2.0, 3, "ft"),
    };
    let each = unit * 1000.0 / scale;
    let label = |n: u8| if prints == System::Us { (n * 2).to_string() } else { n.to_string() };
    let left = title.right + 4.0;
    let (top, bottom) = (at.1 + 0.6, at.1 + 1.8);
    for n in 0..steps {
        let from = left + f64::from(n) * each;
        let fill = if n % 2 == 0 { Fill::Grey(0.0) } else { Fill::Grey(1.0) };
        canvas.rect(Area { left: from, top, right: from + each, bottom }, 0.0, Pen::of(0.18), fill);
    }
    for n in 0..=steps {
        let text = if n == steps { format!("{} {word}", label(n)) } else { label(n) };
        canvas.text((left + f64::from(n) * each, bottom + 2.6), &text, Type::of(2.2).middle());
    }
    left + f64::from(steps) * each + 5.0 - at.0
}

/// An arrow towards the front, beside a view; its middle at `at`.
pub(crate) fn to_front(canvas: &mut Canvas, frame: &Frame, at: (f64, f64)) {
    let sign = match frame.view {
        View::Top | View::Left => -1.0,
        View::Right => 1.0,
        View::Rear => return,
    };
    let tip = (at.0 + sign * 6.0, at.1);
    canvas.line((at.0 - sign * 6.0, at.1), (tip.0 - sign * 1.5, at.1), Pen::of(0.35));
    canvas.polygon(
        &[tip, (tip.0 - sign * 2.4, at.1 - 0.9), (tip.0 - sign * 2.4, at.1 + 0.9)],
        Pen::NONE,
        Fill::Grey(0.0),
    );
    let text = (at.0 - sign * 7.0, at.1 + 0.85);
    let style = Type::of(2.5);
    canvas.text(text, "front", if sign < 0.0 { style } else { style.end() });
}
