//! Machines, lamps, heaters, outlets, inlets, earths.

use super::{BLACK, Body, LINE, Standard, WHITE, devices};
use crate::drawings::area::Area;
use crate::drawings::canvas::{Canvas, Fill, Pen, Type};

/// A circle with a letter.
pub(super) fn lettered(canvas: &mut Canvas, (x, y): (f64, f64), letter: &str) -> Body {
    canvas.circle((x, y), 3.1, LINE, WHITE);
    canvas.text((x, y + 1.15), letter, Type::of(3.2).bold().middle());
    (-3.1, 3.1)
}

pub(super) fn lamp(canvas: &mut Canvas, standard: Standard, (x, y): (f64, f64)) -> Body {
    canvas.circle((x, y), 2.6, LINE, WHITE);
    match standard {
        Standard::Iec => {
            let d = 2.6 * std::f64::consts::FRAC_1_SQRT_2;
            canvas.line((x - d, y - d), (x + d, y + d), LINE);
            canvas.line((x - d, y + d), (x + d, y - d), LINE);
        }
        Standard::Ieee => {
            // The filament loop.
            let path = format!("M{:.2} {y:.2}h1.6c1.6 0 1.6 -2 0.4 -2s-1.2 2 0.4 2h1.6", x - 2.0);
            canvas.path(&path, LINE, Fill::None);
        }
    }
    (-2.6, 2.6)
}

pub(super) fn heater(canvas: &mut Canvas, standard: Standard, at: (f64, f64)) -> Body {
    devices::resistor(canvas, standard, at);
    if standard == Standard::Iec {
        for x in [-1.3, 0.0, 1.3] {
            canvas.line((at.0 + x, at.1 - 1.0), (at.0 + x, at.1 + 1.0), LINE);
        }
    }
    (-2.6, 2.6)
}

pub(super) fn socket(canvas: &mut Canvas, standard: Standard, (x, y): (f64, f64)) -> Body {
    match standard {
        Standard::Iec => {
            canvas.arc((x + 2.0, y), 2.6, 90.0, 270.0, LINE);
            canvas.line((x - 0.6, y - 2.6), (x - 0.6, y + 2.6), LINE);
            (-0.6, 2.0)
        }
        Standard::Ieee => {
            canvas.circle((x, y), 2.6, LINE, WHITE);
            for at in [-0.8, 0.8] {
                canvas.line((x + at, y - 3.6), (x + at, y + 3.6), LINE);
            }
            (-2.6, 2.6)
        }
    }
}

/// The pins that a cord is plugged onto.
pub(super) fn inlet(canvas: &mut Canvas, standard: Standard, (x, y): (f64, f64)) -> Body {
    match standard {
        Standard::Iec => {
            canvas.arc((x - 1.2, y), 2.4, -90.0, 90.0, LINE);
            canvas.rect(Area::at(x - 2.8, y - 0.6, 2.6, 1.2), 0.0, Pen::NONE, BLACK);
            canvas.line((x - 0.2, y), (x + 1.2, y), LINE);
            (-2.8, 1.2)
        }
        Standard::Ieee => {
            for at in [-2.0, -0.4] {
                canvas.polyline(&[(x + at, y - 1.8), (x + at + 1.8, y), (x + at, y + 1.8)], LINE);
            }
            (-0.2, 1.4)
        }
    }
}

/// A circle with a needle.
pub(super) fn meter(canvas: &mut Canvas, (x, y): (f64, f64)) -> Body {
    canvas.circle((x, y), 2.6, LINE, WHITE);
    canvas.line((x - 1.2, y + 1.4), (x + 0.9, y - 1.0), LINE);
    canvas.polygon(&[(x + 1.5, y - 1.7), (x + 0.3, y - 1.1), (x + 1.1, y - 0.3)], Pen::NONE, BLACK);
    (-2.6, 2.6)
}

pub(super) fn load(canvas: &mut Canvas, (x, y): (f64, f64)) -> Body {
    canvas.rect(Area::at(x - 2.8, y - 1.8, 5.6, 3.6), 0.0, LINE, WHITE);
    (-2.8, 2.8)
}

/// The body of the vehicle, below its point.
pub(super) fn chassis(canvas: &mut Canvas, (x, y): (f64, f64)) {
    canvas.line((x, y - 2.0), (x, y), LINE);
    canvas.line((x - 2.4, y), (x + 2.4, y), LINE);
    for at in [-2.4, 0.0, 2.4] {
        canvas.line((x + at, y), (x + at - 1.2, y + 1.9), LINE);
    }
}
