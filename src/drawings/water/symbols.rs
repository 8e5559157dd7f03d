//! Symbols of the water diagrams. Each is at most 14 mm wide and 11 mm high around its centre.

use crate::drawings::canvas::{Area, Canvas, Dash, Fill, Pen, Type};
use crate::kinds::PlumbingRole;

const LINE: Pen = Pen::of(0.35);
const THIN: Pen = Pen::of(0.25);
const WHITE: Fill = Fill::Grey(1.0);

/// Half the width of a symbol, where lines meet it, mm.
pub(super) const fn half(role: PlumbingRole) -> f64 {
    match role {
        PlumbingRole::FreshTank | PlumbingRole::GreyTank => 7.0,
        PlumbingRole::CityInlet | PlumbingRole::Basin => 6.0,
        PlumbingRole::Heater => 5.5,
        PlumbingRole::Accumulator => 2.6,
        _ => 4.0,
    }
}

/// Draws the symbol of a role around a point.
pub(super) fn draw(canvas: &mut Canvas, role: PlumbingRole, at: (f64, f64)) {
    let (x, y) = at;
    let shift = |points: &[(f64, f64)]| points.iter().map(|p| (x + p.0, y + p.1)).collect::<Vec<_>>();
    match role {
        PlumbingRole::FreshTank | PlumbingRole::GreyTank => {
            canvas.rect(Area::at(x - 7.0, y - 5.5, 14.0, 11.0), 0.6, LINE, WHITE);
            canvas.line((x - 7.0, y - 1.5), (x + 7.0, y - 1.5), THIN);
            canvas.polygon(&shift(&[(0.0, -1.5), (-1.1, -3.4), (1.1, -3.4)]), THIN, WHITE);
            canvas.line((x - 2.2, y - 0.5), (x + 2.2, y - 0.5), THIN);
            canvas.line((x - 1.2, y + 0.4), (x + 1.2, y + 0.4), THIN);
        }
        PlumbingRole::FillInlet => {
            canvas.polygon(&shift(&[(-4.0, -4.0), (4.0, -4.0), (1.2, 0.0), (-1.2, 0.0)]), LINE, WHITE);
            canvas.polyline(&shift(&[(0.0, 0.0), (0.0, 3.0)]), LINE);
            canvas.line((x - 4.0, y + 3.0), (x + 4.0, y + 3.0), THIN);
        }
        PlumbingRole::CityInlet => {
            canvas.circle((x - 3.6, y), 2.4, LINE, WHITE);
            canvas.polygon(&shift(&[(-2.4, 0.0), (-4.6, -1.1), (-4.6, 1.1)]), Pen::NONE, Fill::Grey(0.0));
            canvas.line((x - 1.2, y), (x + 0.8, y), THIN);
            canvas.rect(Area::at(x + 0.8, y - 2.6, 5.2, 5.2), 0.0, LINE, WHITE);
            canvas.line((x + 1.6, y), (x + 5.2, y), THIN);
            canvas.polygon(&shift(&[(5.4, 0.0), (3.8, -0.8), (3.8, 0.8)]), Pen::NONE, Fill::Grey(0.0));
        }
        PlumbingRole::Pump => {
            canvas.circle(at, 4.0, LINE, WHITE);
            canvas.polygon(&shift(&[(4.0, 0.0), (-2.0, -3.4), (-2.0, 3.4)]), THIN, WHITE);
        }
        PlumbingRole::Strainer | PlumbingRole::Filter => {
            canvas.polygon(&shift(&[(-4.0, 0.0), (0.0, -4.0), (4.0, 0.0), (0.0, 4.0)]), LINE, WHITE);
            let dash = if role == PlumbingRole::Filter { Dash::Dashed } else { Dash::Dotted };
            canvas.line((x, y - 4.0), (x, y + 4.0), Pen::of(0.3).dash(dash));
        }
        PlumbingRole::Accumulator => {
            canvas.rect(Area::at(x - 2.6, y - 5.0, 5.2, 10.0), 2.6, LINE, WHITE);
            canvas.line((x - 2.6, y), (x + 2.6, y), THIN);
            canvas.polygon(&shift(&[(0.0, -1.0), (-1.1, -2.9), (1.1, -2.9)]), THIN, WHITE);
        }
        PlumbingRole::Heater => {
            canvas.rect(Area::at(x - 5.5, y - 5.0, 11.0, 10.0), 0.6, LINE, WHITE);
            zigzag(canvas, (x - 4.0, y), 8.0);
        }
        PlumbingRole::Outlet => {
            canvas.line((x - 4.0, y), (x + 2.4, y), Pen::of(0.6));
            canvas.polyline(&shift(&[(2.4, 0.0), (3.2, 0.6), (3.2, 3.0)]), Pen::of(0.6));
            canvas.line((x - 0.4, y), (x - 0.4, y - 2.4), LINE);
            canvas.line((x - 2.0, y - 2.4), (x + 1.2, y - 2.4), Pen::of(0.5));
        }
        PlumbingRole::Basin => {
            canvas.polyline(&shift(&[(-6.0, -3.0), (-4.4, 3.0), (4.4, 3.0), (6.0, -3.0)]), LINE);
            canvas.line((x - 5.2, y - 0.6), (x + 5.2, y - 0.6), THIN);
        }
        PlumbingRole::WinterPort => {
            canvas.circle(at, 4.0, LINE, WHITE);
            for (dx, dy) in [(2.6, 0.0), (1.3, 2.25), (1.3, -2.25)] {
                canvas.line((x - dx, y - dy), (x + dx, y + dy), THIN);
            }
        }
        PlumbingRole::MotorValve => {
            bowtie(canvas, at);
            canvas.line((x, y), (x, y - 2.2), THIN);
            canvas.circle((x, y - 4.0), 1.8, THIN, WHITE);
            canvas.text((x, y - 3.25), "M", Type::of(2.1).bold().middle());
        }
        PlumbingRole::HandValve => {
            bowtie(canvas, at);
            canvas.line((x, y), (x, y - 3.4), THIN);
            canvas.line((x - 1.8, y - 3.4), (x + 1.8, y - 3.4), LINE);
        }
        PlumbingRole::DrainValve => {
            canvas.polygon(&shift(&[(-1.8, -4.6), (1.8, -4.6), (-1.8, 0.6), (1.8, 0.6)]), LINE, WHITE);
            canvas.line((x, y + 0.6), (x, y + 2.6), THIN);
            canvas.polygon(&shift(&[(0.0, 4.6), (-1.1, 2.4), (1.1, 2.4)]), Pen::NONE, Fill::Grey(0.0));
        }
        PlumbingRole::Trace => {
            canvas.line((x - 4.0, y + 1.6), (x + 4.0, y + 1.6), Pen::of(0.5));
            zigzag(canvas, (x - 4.0, y - 0.8), 8.0);
        }
        PlumbingRole::Pad => {
            canvas.rect(Area::at(x - 4.0, y - 2.4, 8.0, 4.8), 0.0, LINE, WHITE);
            zigzag(canvas, (x - 3.2, y), 6.4);
        }
        PlumbingRole::Sender => {
            canvas.circle(at, 3.0, LINE, WHITE);
            canvas.text((x, y + 0.9), "L", Type::of(2.6).bold().middle());
        }
        PlumbingRole::Pipe => {
            canvas.line((x - 4.0, y), (x + 4.0, y), Pen::of(0.5));
            canvas.line((x - 4.0, y - 1.4), (x - 4.0, y + 1.4), THIN);
            canvas.line((x + 4.0, y - 1.4), (x + 4.0, y + 1.4), THIN);
        }
    }
}

fn bowtie(canvas: &mut Canvas, (x, y): (f64, f64)) {
    canvas.polygon(&[(x - 4.0, y - 2.0), (x - 4.0, y + 2.0), (x + 4.0, y - 2.0), (x + 4.0, y + 2.0)], LINE, WHITE);
}

fn zigzag(canvas: &mut Canvas, (x, y): (f64, f64), wide: f64) {
    let step = wide / 8.0;
    let points = (0_u8..=8).map(|i| {
        let up = match i {
            0 | 8 => 0.0,
            i if i % 2 == 1 => -1.4,
            _ => 1.4,
        };
        (f64::from(i).mul_add(step, x), y + up)
    });
    canvas.polyline(&points.collect::<Vec<_>>(), THIN);
}

/// What stands at every storage heater, around its symbol: a non-return valve in the cold inlet (the bar before the arrow
/// that enters), the by-pass from cold to hot, closed but for winter, the drain below, the relief valve above with its
/// open end outside.
pub(super) fn heater_fittings(canvas: &mut Canvas, (x, y): (f64, f64), half: f64) {
    let tag = Type::of(2.0).bold();
    let (inlet, below) = (x - half, y + 10.5);
    canvas.line((inlet, y - 1.7), (inlet, y + 1.7), Pen::of(0.5));
    canvas.text((inlet - 2.4, y - 2.2), "N", tag);
    let (from, to) = (inlet - 2.6, x + half + 0.9);
    canvas.polyline(&[(from, y), (from, below), (to, below), (to, y)], THIN);
    for at in [(from, y), (to, y)] {
        canvas.circle(at, 0.6, Pen::NONE, Fill::Grey(0.0));
    }
    small_valve(canvas, (x, below));
    canvas.text((x, below + 3.4), "B", tag.middle());
    canvas.line((x - 2.6, y + 5.0), (x - 2.6, y + 7.2), THIN);
    canvas.polygon(&[(x - 2.6, y + 8.6), (x - 3.5, y + 6.8), (x - 1.7, y + 6.8)], Pen::NONE, Fill::Grey(0.0));
    canvas.text((x - 1.2, y + 8.2), "D", tag);
    canvas.line((x + 4.2, y - 5.0), (x + 4.2, y - 6.4), THIN);
    canvas.polygon(&[(x + 4.2, y - 8.2), (x + 3.3, y - 6.4), (x + 5.1, y - 6.4)], THIN, WHITE);
    canvas.text((x + 5.6, y - 6.4), "R", tag);
}

fn small_valve(canvas: &mut Canvas, (x, y): (f64, f64)) {
    canvas.polygon(&[(x - 2.2, y - 1.2), (x - 2.2, y + 1.2), (x + 2.2, y - 1.2), (x + 2.2, y + 1.2)], LINE, WHITE);
}

/// A mixing valve where cold and hot come together, its outlet at the right.
pub(super) fn mixer(canvas: &mut Canvas, (x, y): (f64, f64)) {
    let half = 1.7;
    for (dx, dy) in [(0.0, -3.2), (0.0, 3.2)] {
        canvas.polygon(&[(x, y), (x + dx - half, y + dy), (x + dx + half, y + dy)], LINE, WHITE);
    }
    canvas.polygon(&[(x, y), (x + 3.2, y - half), (x + 3.2, y + half)], LINE, WHITE);
}
