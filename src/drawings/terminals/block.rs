//! A part with its posts on both sides, and the conductors that end on them.

use super::ends::{Row, Terminal, Wires, place, rows};
use super::{LEFT, RIGHT, SMALL};
use crate::drawings::Context;
use crate::drawings::area::Area;
use crate::drawings::canvas::{Canvas, Fill, Pen, Type};
use crate::drawings::letters::{Weight, fitted, width};
use std::ops::Range;

/// Sides of the face, mm.
const BODY: (f64, f64) = (64.0, 112.0);

/// Size of labels and posts, mm: to be read with gloves on, at arm's length.
const LABEL: f64 = 2.7;

/// Height of a conductor: its label, and lug and torque below.
const EACH: f64 = 8.0;

/// Height of a way with nothing on it.
const EMPTY: f64 = 4.4;

/// Height of the name above the face.
const HEAD: f64 = 5.0;

/// Above the first row and below the last.
const RIM: f64 = 1.4;

/// Length of a lead from the face to its texts.
const STUB: f64 = 5.0;

/// A part ready to be drawn.
pub(super) struct Block {
    /// Its name.
    pub name: String,
    about: String,
    rows: Vec<Row>,
}

impl Block {
    /// The part `id`; `None` where nothing ends on it.
    pub(super) fn of(context: &Context<'_>, id: &str, wires: &Wires<'_>) -> Option<Self> {
        let part = context.build.parts.get(id)?;
        let rows = rows(context, part, wires);
        let any = rows.iter().any(|row| !(row.left.is_empty() && row.right.is_empty()));
        any.then(|| Self { name: part.name.clone(), about: place(context.build, part), rows })
    }

    /// How many rows.
    pub(super) fn len(&self) -> usize {
        self.rows.len()
    }

    /// Ends in some rows.
    pub(super) fn ends(&self, range: Range<usize>) -> usize {
        self.rows[range].iter().map(|row| row.left.len() + row.right.len()).sum()
    }

    /// Height of some rows with their head, mm.
    pub(super) fn height(&self, range: Range<usize>) -> f64 {
        HEAD + 2.0 * RIM + self.rows[range].iter().map(height).sum::<f64>()
    }

    /// Draws some rows below `top`.
    pub(super) fn draw(&self, canvas: &mut Canvas, top: f64, range: Range<usize>) {
        let name = if range.start > 0 { format!("{}, continued", self.name) } else { self.name.clone() };
        let name = fitted(&name, 3.0, Weight::Semibold, 100.0);
        let area = canvas.text((LEFT, top + 2.6), &name, Type::of(3.0).bold());
        let room = RIGHT - area.right - 3.0;
        canvas.text((area.right + 3.0, top + 2.6), &fitted(&self.about, SMALL, Weight::Regular, room), Type::of(SMALL));
        let bottom = top + self.height(range.clone());
        let face = Area { left: BODY.0, top: top + HEAD, right: BODY.1, bottom };
        canvas.rect(face, 1.2, Pen::of(0.4), Fill::None);
        let mut y = top + HEAD + RIM;
        for (at, row) in self.rows[range].iter().enumerate() {
            if at > 0 {
                canvas.line((BODY.0, y), (BODY.1, y), Pen::of(0.12).grey(0.6));
            }
            draw_row(canvas, row, y);
            y += height(row);
        }
    }
}

fn height(row: &Row) -> f64 {
    let ends = row.left.len().max(row.right.len());
    if ends == 0 { EMPTY } else { EACH * count(ends) }
}

fn draw_row(canvas: &mut Canvas, row: &Row, top: f64) {
    let high = height(row);
    let middle = top + high / 2.0;
    let wide = BODY.1 - BODY.0;
    let left_post = row.left.iter().any(|t| !t.post.is_empty());
    if !row.head.is_empty() {
        let is_free = row.left.is_empty() && row.right.is_empty();
        let room = wide / 2.0 + if row.right.is_empty() { wide / 2.0 - 6.0 } else { 0.0 } - 4.0;
        // What stands at the posts of a switch leaves the middle to its name.
        let (x, style) = if left_post {
            (f64::midpoint(BODY.0, BODY.1), Type::of(LABEL).bold().middle())
        } else {
            (BODY.0 + 3.4, Type::of(LABEL).bold())
        };
        let style = if is_free { Type { weight: Weight::Regular, ..style } } else { style };
        let head = if is_free { format!("{}: free", row.head) } else { row.head.clone() };
        let head = fitted(&head, LABEL, style.weight, if left_post { wide - 22.0 } else { room });
        let lift = if row.device.is_empty() { 0.9 } else { -0.5 };
        canvas.text((x, middle + lift), &head, style);
        canvas.text((x, middle + 2.7), &fitted(&row.device, SMALL, Weight::Regular, room), Type::of(SMALL));
    }
    for (left, side) in [(true, &row.left), (false, &row.right)] {
        for (at, terminal) in side.iter().enumerate() {
            // The ends of a side share its height.
            let y = top + high * (count(at) + 0.5) / count(side.len());
            draw_end(canvas, terminal, left, y);
        }
    }
}

fn draw_end(canvas: &mut Canvas, terminal: &Terminal, left: bool, y: f64) {
    let (edge, out) = if left { (BODY.0, -1.0) } else { (BODY.1, 1.0) };
    let tip = edge + out * STUB;
    canvas.line((edge + out * 1.3, y), (tip, y), Pen::of(0.35));
    canvas.circle((edge, y), 1.3, Pen::of(0.35), Fill::Grey(1.0));
    let half = (BODY.1 - BODY.0) / 2.0 - 4.0;
    let post = fitted(&terminal.post, SMALL, Weight::Regular, half);
    let inner = if left { Type::of(SMALL) } else { Type::of(SMALL).end() };
    canvas.text((edge - out * 2.6, y + 0.8), &post, inner);
    let outer = |style: Type| if left { style.end() } else { style };
    let x = tip + out * 1.2;
    let room = if left { x - LEFT } else { RIGHT - x } - 1.0;
    let core = if terminal.core.is_empty() { 0.0 } else { width(terminal.core, LABEL, Weight::Semibold) + 1.6 };
    let room = room - core;
    let size = if width(&terminal.label, LABEL, Weight::Semibold) <= room { LABEL } else { SMALL };
    let label = fitted(&terminal.label, size, Weight::Semibold, room);
    let area = canvas.text((x, y - 0.4), &label, outer(Type::of(size).bold()));
    canvas.rect(area.grown(0.5), 0.7, Pen::of(0.18), Fill::None);
    let beside = if left { area.left - 1.6 } else { area.right + 1.6 };
    canvas.text((beside, y - 0.4), terminal.core, outer(Type::of(LABEL)));
    let lug = fitted(&terminal.lug, SMALL, Weight::Regular, room + core);
    canvas.text((x, y + 3.1), &lug, outer(Type::of(SMALL)));
}

/// A count as a factor.
#[expect(clippy::cast_precision_loss, reason = "a few ends")]
fn count(n: usize) -> f64 {
    n as f64
}
