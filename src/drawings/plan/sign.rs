//! Signs on a plan: numbered balloons, and the signs of the emergency map.

use crate::drawings::canvas::{Area, Canvas, Fill, Pen, Type};
use crate::kinds::EmergencyMark;

/// A sign on a drawing and in its key.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Sign {
    /// A number in a circle.
    Number(usize),
    /// Letters in a square.
    Letter(String),
    /// A sign of the emergency map with its number.
    Numbered(EmergencyMark, usize),
    /// No sign.
    Blank,
}

const EDGE: Pen = Pen::of(0.25);
const BLACK: Fill = Fill::Grey(0.0);
const WHITE: Fill = Fill::Grey(1.0);

/// Draws a sign around its middle, in a circle or square of that radius.
pub(crate) fn draw(canvas: &mut Canvas, centre: (f64, f64), radius: f64, sign: &Sign) {
    match sign {
        Sign::Number(n) => {
            canvas.circle(centre, radius, EDGE, WHITE);
            let size = if *n > 99 { radius * 0.95 } else { radius * 1.15 };
            let size = size.max(2.0);
            canvas.text((centre.0, centre.1 + size * 0.33), &n.to_string(), Type::of(size).bold().middle());
        }
        Sign::Numbered(mark, n) => {
            emergency(canvas, centre, radius, *mark);
            // On the corner, black on white, so that it reads beside the picture.
            let badge = (centre.0 + 0.8 * radius, centre.1 + 0.8 * radius);
            canvas.circle(badge, 0.72 * radius, EDGE, WHITE);
            let size = (radius * if *n > 9 { 0.85 } else { 1.0 }).max(1.6);
            canvas.text((badge.0, badge.1 + size * 0.34), &n.to_string(), Type::of(size).bold().middle());
        }
        Sign::Letter(letters) => {
            let (x, y) = centre;
            canvas.rect(Area::at(x - radius, y - radius, 2.0 * radius, 2.0 * radius), 0.3, EDGE, WHITE);
            let size = (radius * if letters.len() > 1 { 0.95 } else { 1.25 }).max(2.0);
            canvas.text((x, y + size * 0.35), letters, Type::of(size).bold().middle());
        }
        Sign::Blank => {}
    }
}

/// A black square with a white picture in it: it copies well, and stands out from lines.
fn emergency(canvas: &mut Canvas, centre: (f64, f64), r: f64, mark: EmergencyMark) {
    let (x, y) = centre;
    let white = |width: f64| Pen::of(width * r).grey(1.0);
    canvas.rect(Area::at(x - r, y - r, 2.0 * r, 2.0 * r), 0.25 * r, Pen::NONE, BLACK);
    let at = |dx: f64, dy: f64| (x + dx * r, y + dy * r);
    let bar = |canvas: &mut Canvas, left: f64, top: f64, right: f64, bottom: f64| {
        let (from, to) = (at(left, top), at(right, bottom));
        canvas.rect(Area { left: from.0, top: from.1, right: to.0, bottom: to.1 }, 0.0, Pen::NONE, WHITE);
    };
    match mark {
        EmergencyMark::PowerOff => {
            canvas.arc((x, y + 0.08 * r), 0.52 * r, -55.0, 235.0, white(0.18));
            canvas.line(at(0.0, -0.7), at(0.0, 0.0), white(0.18));
        }
        EmergencyMark::GasOff => {
            // A flame.
            let path = format!(
                "M{:.2} {:.2}C{:.2} {:.2} {:.2} {:.2} {:.2} {:.2}C{:.2} {:.2} {:.2} {:.2} {:.2} {:.2}C{:.2} {:.2} {:.2} {:.2} {:.2} {:.2}Z",
                x + 0.05 * r,
                y - 0.78 * r,
                x + 0.15 * r,
                y - 0.3 * r,
                x + 0.6 * r,
                y - 0.1 * r,
                x + 0.5 * r,
                y + 0.32 * r,
                x + 0.4 * r,
                y + 0.85 * r,
                x - 0.45 * r,
                y + 0.85 * r,
                x - 0.5 * r,
                y + 0.28 * r,
                x - 0.5 * r,
                y - 0.12 * r,
                x - 0.05 * r,
                y - 0.2 * r,
                x + 0.05 * r,
                y - 0.78 * r,
            );
            canvas.path(&path, Pen::NONE, WHITE);
        }
        EmergencyMark::WaterOff => {
            // A drop.
            let path = format!(
                "M{:.2} {:.2}C{:.2} {:.2} {:.2} {:.2} {:.2} {:.2}A{:.2} {:.2} 0 1 1 {:.2} {:.2}C{:.2} {:.2} {:.2} {:.2} {:.2} {:.2}Z",
                x,
                y - 0.78 * r,
                x + 0.15 * r,
                y - 0.4 * r,
                x + 0.48 * r,
                y - 0.1 * r,
                x + 0.48 * r,
                y + 0.25 * r,
                0.48 * r,
                0.48 * r,
                x - 0.48 * r,
                y + 0.25 * r,
                x - 0.48 * r,
                y - 0.1 * r,
                x - 0.15 * r,
                y - 0.4 * r,
                x,
                y - 0.78 * r,
            );
            canvas.path(&path, Pen::NONE, WHITE);
        }
        EmergencyMark::FuelOff => {
            // A fuel pump with its hose.
            bar(canvas, -0.62, -0.68, 0.14, 0.7);
            let (from, to) = (at(-0.44, -0.5), at(-0.04, -0.1));
            canvas.rect(Area { left: from.0, top: from.1, right: to.0, bottom: to.1 }, 0.0, Pen::NONE, BLACK);
            canvas.polyline(&[at(0.14, 0.1), at(0.36, 0.1), at(0.36, 0.5), at(0.62, 0.5), at(0.62, -0.4)], white(0.14));
        }
        EmergencyMark::Extinguisher => {
            let (from, to) = (at(-0.3, -0.3), at(0.3, 0.8));
            canvas.rect(Area { left: from.0, top: from.1, right: to.0, bottom: to.1 }, 0.2 * r, Pen::NONE, WHITE);
            bar(canvas, -0.1, -0.55, 0.1, -0.3);
            canvas.line(at(-0.35, -0.62), at(0.3, -0.62), white(0.16));
            canvas.line(at(0.3, -0.62), at(0.62, -0.25), white(0.13));
        }
        EmergencyMark::FireBlanket => {
            let (from, to) = (at(-0.55, -0.65), at(0.55, 0.2));
            canvas.rect(Area { left: from.0, top: from.1, right: to.0, bottom: to.1 }, 0.1 * r, Pen::NONE, WHITE);
            for dx in [-0.28, 0.28] {
                canvas.line(at(dx, 0.2), at(dx, 0.72), white(0.16));
            }
        }
        EmergencyMark::FirstAid => {
            bar(canvas, -0.2, -0.66, 0.2, 0.66);
            bar(canvas, -0.66, -0.2, 0.66, 0.2);
        }
        EmergencyMark::Exit => {
            // Through a door.
            canvas.polyline(&[at(0.1, -0.72), at(0.7, -0.72), at(0.7, 0.72), at(0.1, 0.72)], white(0.16));
            canvas.line(at(-0.75, 0.0), at(0.0, 0.0), white(0.24));
            canvas.polygon(&[at(0.42, 0.0), at(-0.12, -0.42), at(-0.12, 0.42)], Pen::NONE, WHITE);
        }
        EmergencyMark::Alarm => {
            canvas.circle((x, y), 0.2 * r, Pen::NONE, WHITE);
            for (radius, from) in [(0.45, 0.0), (0.72, 0.0)] {
                canvas.arc((x, y), radius * r, from - 50.0, from + 50.0, white(0.14));
                canvas.arc((x, y), radius * r, from + 130.0, from + 230.0, white(0.14));
            }
        }
    }
}
