//! Converters and solar arrays.

use super::{BLACK, Body, LINE, WHITE};
use crate::drawings::area::Area;
use crate::drawings::canvas::{Canvas, Pen};

/// What goes in or comes out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Current {
    Dc,
    Ac,
}

fn mark(canvas: &mut Canvas, current: Current, (x, y): (f64, f64)) {
    let pen = Pen::of(0.25);
    match current {
        Current::Dc => {
            canvas.line((x - 1.1, y - 0.35), (x + 1.1, y - 0.35), pen);
            for at in [-1.1, -0.3, 0.5] {
                canvas.line((x + at, y + 0.45), (x + at + 0.6, y + 0.45), pen);
            }
        }
        Current::Ac => super::wave(canvas, (x, y), 1.2, 1.1, pen),
    }
}

/// A square with a diagonal: what goes in at the upper left, what comes out at the lower right.
pub(super) fn converter(canvas: &mut Canvas, (x, y): (f64, f64), from: Current, to: Current) -> Body {
    canvas.rect(Area::at(x - 3.2, y - 3.2, 6.4, 6.4), 0.0, LINE, WHITE);
    canvas.line((x - 3.2, y + 3.2), (x + 3.2, y - 3.2), LINE);
    mark(canvas, from, (x - 1.5, y - 1.7));
    mark(canvas, to, (x + 1.5, y + 1.7));
    (-3.2, 3.2)
}

/// A converter that works both ways.
pub(super) fn both_ways(canvas: &mut Canvas, (x, y): (f64, f64)) -> Body {
    let body = converter(canvas, (x, y), Current::Dc, Current::Ac);
    let top = y - 4.2;
    canvas.line((x - 2.4, top), (x + 2.4, top), LINE);
    for side in [-1.0, 1.0] {
        let tip = x + side * 3.0;
        canvas.polygon(&[(tip, top), (tip - side, top - 0.5), (tip - side, top + 0.5)], Pen::NONE, BLACK);
    }
    body
}

/// A module with two rays of light.
pub(super) fn array(canvas: &mut Canvas, (x, y): (f64, f64)) -> Body {
    canvas.rect(Area::at(x - 3.2, y - 1.6, 6.4, 4.4), 0.0, LINE, WHITE);
    canvas.polyline(&[(x - 3.2, y - 1.6), (x - 1.2, y + 0.6), (x - 3.2, y + 2.8)], LINE);
    for at in [-0.6, 1.4] {
        canvas.line((x + at - 1.4, y - 4.2), (x + at - 0.3, y - 2.6), LINE);
        let tip = (x + at, y - 2.1);
        canvas.polygon(&[tip, (tip.0 - 0.8, tip.1 - 0.5), (tip.0 - 0.15, tip.1 - 0.95)], Pen::NONE, BLACK);
    }
    (-3.2, 3.2)
}
