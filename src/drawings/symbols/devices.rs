//! Batteries, protective devices, switches, bars.

use super::{BLACK, Body, LINE, Standard, WHITE};
use crate::drawings::area::Area;
use crate::drawings::canvas::{Canvas, Fill, Pen};
use crate::drawings::pen::Dash;

/// Two cells, the positive to the right, or to the left where they are turned.
pub(super) fn battery(canvas: &mut Canvas, (x, y): (f64, f64), turned: bool) -> Body {
    let side = if turned { -1.0 } else { 1.0 };
    for (at, half, pen) in [(-1.8, 1.5, 0.7), (-0.6, 3.1, 0.3), (0.6, 1.5, 0.7), (1.8, 3.1, 0.3)] {
        canvas.line((x + side * at, y - half), (x + side * at, y + half), Pen::of(pen));
    }
    let plus = x + side * 3.2;
    canvas.line((plus - 0.7, y - 2.4), (plus + 0.7, y - 2.4), LINE);
    canvas.line((plus, y - 3.1), (plus, y - 1.7), LINE);
    (-1.8, 1.8)
}

pub(super) fn fuse(canvas: &mut Canvas, standard: Standard, (x, y): (f64, f64)) -> Body {
    match standard {
        Standard::Iec => {
            canvas.rect(Area::at(x - 2.6, y - 1.0, 5.2, 2.0), 0.0, LINE, WHITE);
            canvas.line((x - 2.6, y), (x + 2.6, y), LINE);
        }
        Standard::Ieee => {
            super::wave(canvas, (x, y), 2.6, 2.2, LINE);
        }
    }
    (-2.6, 2.6)
}

/// An open blade from its pivot at the right; what stands at the fixed contact is drawn by the caller.
fn blade(canvas: &mut Canvas, standard: Standard, (x, y): (f64, f64)) {
    canvas.line((x + 2.0, y), (x - 1.7, y - 1.9), LINE);
    if standard == Standard::Ieee {
        for at in [-2.2, 2.2] {
            canvas.circle((x + at, y), 0.4, LINE, WHITE);
        }
    }
}

pub(super) fn breaker(canvas: &mut Canvas, standard: Standard, (x, y): (f64, f64)) -> Body {
    match standard {
        Standard::Iec => {
            blade(canvas, standard, (x, y));
            for rise in [-0.7, 0.7] {
                canvas.line((x - 2.7, y - rise), (x - 1.3, y + rise), LINE);
            }
            (-2.0, 2.0)
        }
        Standard::Ieee => {
            canvas.arc((x, y + 1.2), 3.0, 215.0, 325.0, LINE);
            for at in [-2.2, 2.2] {
                canvas.circle((x + at, y), 0.4, LINE, WHITE);
            }
            (-2.6, 2.6)
        }
    }
}

/// A switch; one that isolates has a bar at its fixed contact in IEC 60617.
pub(super) fn switch(canvas: &mut Canvas, standard: Standard, (x, y): (f64, f64), isolates: bool) -> Body {
    blade(canvas, standard, (x, y));
    if standard == Standard::Ieee {
        return (-2.6, 2.6);
    }
    if isolates {
        canvas.line((x - 2.6, y - 1.1), (x - 2.6, y + 1.1), LINE);
    }
    (if isolates { -2.6 } else { -1.8 }, 2.0)
}

/// A contact and the coil that moves it.
pub(super) fn relay(canvas: &mut Canvas, standard: Standard, (x, y): (f64, f64)) -> Body {
    let body = switch(canvas, standard, (x, y), false);
    canvas.line((x, y - 0.9), (x, y + 1.4), Pen::of(0.2).dash(Dash::Dotted));
    canvas.rect(Area::at(x - 1.8, y + 1.4, 3.6, 1.7), 0.0, LINE, WHITE);
    canvas.line((x - 0.7, y + 3.1), (x + 0.7, y + 1.4), LINE);
    body
}

/// A box with the arrow of what can be varied.
pub(super) fn dimmer(canvas: &mut Canvas, (x, y): (f64, f64)) -> Body {
    canvas.rect(Area::at(x - 2.4, y - 1.6, 4.8, 3.2), 0.0, LINE, WHITE);
    canvas.line((x - 2.2, y + 2.8), (x + 1.9, y - 2.4), LINE);
    canvas.polygon(&[(x + 2.4, y - 3.1), (x + 1.0, y - 2.3), (x + 2.1, y - 1.4)], Pen::NONE, BLACK);
    (-2.4, 2.4)
}

/// A resistor with its two taps for the measuring leads.
pub(super) fn shunt(canvas: &mut Canvas, standard: Standard, (x, y): (f64, f64)) -> Body {
    resistor(canvas, standard, (x, y));
    for at in [-3.2, 3.2] {
        canvas.line((x + at, y), (x + at, y - 2.6), LINE);
        canvas.circle((x + at, y - 2.9), 0.35, LINE, WHITE);
    }
    (-2.6, 2.6)
}

pub(super) fn resistor(canvas: &mut Canvas, standard: Standard, (x, y): (f64, f64)) {
    match standard {
        Standard::Iec => canvas.rect(Area::at(x - 2.6, y - 1.0, 5.2, 2.0), 0.0, LINE, WHITE),
        Standard::Ieee => {
            let step = 5.2 / 12.0;
            let mut points = vec![(x - 2.6, y)];
            for (at, up) in [(1.0, -1.2), (3.0, 1.2), (5.0, -1.2), (7.0, 1.2), (9.0, -1.2), (11.0, 1.2)] {
                points.push((x - 2.6 + step * at, y + up));
            }
            points.push((x + 2.6, y));
            canvas.polyline(&points, LINE);
        }
    }
}

/// A change-over contact: two ways in, one out.
pub(super) fn transfer(canvas: &mut Canvas, standard: Standard, (x, y): (f64, f64)) -> Body {
    canvas.line((x + 1.8, y), (x - 1.7, y - 1.7), LINE);
    for rise in [-1.9, 1.9] {
        canvas.line((x - 3.2, y + rise), (x - 1.9, y + rise), LINE);
    }
    canvas.line((x - 3.2, y - 1.9), (x - 3.2, y + 1.9), LINE);
    if standard == Standard::Ieee {
        for at in [(-1.9, -1.9), (-1.9, 1.9), (2.2, 0.0)] {
            canvas.circle((x + at.0, y + at.1), 0.4, LINE, WHITE);
        }
        return (-3.2, 2.6);
    }
    (-3.2, 1.8)
}

/// A contact, and the core around the line that opens it.
pub(super) fn residual(canvas: &mut Canvas, standard: Standard, (x, y): (f64, f64)) -> Body {
    let at = (x - 0.9, y);
    let body = match standard {
        Standard::Iec => switch(canvas, standard, at, false),
        Standard::Ieee => breaker(canvas, standard, at),
    };
    let path = format!("M{:.2} {y:.2}a0.8 1.7 0 1 0 1.6 0a0.8 1.7 0 1 0 -1.6 0", x + 2.0);
    canvas.path(&path, LINE, Fill::None);
    canvas.mark(Area::at(x + 2.0, y - 1.7, 1.6, 3.4));
    let reach = [(x + 2.8, y - 1.7), (x + 2.8, y - 2.8), (x - 0.9, y - 2.8), (x - 0.9, y - 0.9)];
    canvas.polyline(&reach, Pen::of(0.18));
    canvas.line((x + body.1 - 0.9, y), (x + 3.6, y), LINE);
    (body.0 - 0.9, 3.6)
}

pub(super) fn bus(canvas: &mut Canvas, (x, y): (f64, f64)) -> Body {
    canvas.line((x, y - 3.4), (x, y + 3.4), Pen::of(1.2));
    (0.0, 0.0)
}

/// A box with a bar and its ways.
pub(super) fn panel(canvas: &mut Canvas, (x, y): (f64, f64)) -> Body {
    canvas.rect(Area::at(x - 3.2, y - 3.2, 6.4, 6.4), 0.4, LINE, WHITE);
    canvas.line((x - 1.4, y - 2.2), (x - 1.4, y + 2.2), Pen::of(0.8));
    canvas.line((x - 3.2, y), (x - 1.4, y), LINE);
    for rise in [-1.7, 0.0, 1.7] {
        canvas.line((x - 1.4, y + rise), (x + 2.0, y + rise), LINE);
    }
    (-3.2, 3.2)
}
