//! From the filling point to the pump: columns of parts, from left to right; what stands in one column works side by side.

use super::list::item;
use super::{COLD, JOINED, OUTSIDE, Plan, SHEET, arrow, bubbles, bubbles_width, symbols};
use crate::build::Part;
use crate::drawings::canvas::{Area, Canvas, Pen, Type};
use crate::drawings::letters::{self, Weight};
use crate::kinds::PlumbingRole;

/// From part to part below it; from the top to the first line; mm.
const PITCH: f64 = 33.0;
const FIRST: f64 = 13.5;

/// A part in a column, and on which sides the water passes.
struct Item<'a> {
    part: &'a Part<'a>,
    left: bool,
}

struct Column<'a> {
    wide: f64,
    /// The water passes straight through, and its parts only join it.
    through: bool,
    pressure: bool,
    items: Vec<Item<'a>>,
}

/// The columns.
pub(super) struct Trunk<'a> {
    columns: Vec<Column<'a>>,
}

/// Whether a pipe brings water to a pump.
pub(super) fn is_suction(plan: &Plan<'_>, pipe: &Part<'_>) -> bool {
    let to = pipe.roles.to().first().and_then(|id| plan.part(id)).and_then(super::role_of);
    let medium = pipe.roles.medium().text();
    let from_city = pipe.roles.from().first().and_then(|id| plan.part(id)).and_then(super::role_of);
    let pumpwards = matches!(to, Some(PlumbingRole::Pump | PlumbingRole::Strainer));
    medium == Some("suction") || medium == Some("cold") && pumpwards && from_city != Some(PlumbingRole::CityInlet)
}

impl<'a> Trunk<'a> {
    pub(super) fn of(plan: &Plan<'a>) -> Self {
        let of = |role, left| plan.of_role(role).map(move |part| Item { part, left });
        let suction = plan.of_role(PlumbingRole::Pipe).filter(|p| is_suction(plan, p));
        let column = |wide, pressure, items: Vec<Item<'a>>| Column {
            wide,
            through: items.iter().all(|i| !i.left),
            pressure,
            items,
        };
        let mut columns = vec![
            column(25.0, false, of(PlumbingRole::FillInlet, false).collect()),
            column(30.0, false, of(PlumbingRole::FreshTank, true).collect()),
            column(36.0, false, suction.map(|part| Item { part, left: true }).collect()),
            column(25.0, false, of(PlumbingRole::Strainer, true).chain(of(PlumbingRole::WinterPort, false)).collect()),
            column(28.0, true, of(PlumbingRole::Pump, true).chain(of(PlumbingRole::CityInlet, false)).collect()),
            column(25.0, true, of(PlumbingRole::Accumulator, true).collect()),
        ];
        columns.retain(|c| !c.items.is_empty());
        if let Some(first) = columns.first_mut() {
            first.through = false;
            first.items.iter_mut().for_each(|i| i.left = false);
        }
        Self { columns }
    }

    pub(super) fn is_empty(&self) -> bool {
        self.columns.is_empty()
    }

    #[expect(clippy::cast_precision_loss, reason = "a few parts")]
    pub(super) fn height(&self) -> f64 {
        let rows = self.columns.iter().map(|c| c.items.len() + usize::from(c.through)).max().unwrap_or(0);
        if rows == 0 { 0.0 } else { (rows as f64).mul_add(PITCH, 8.0) }
    }

    /// Draws the columns; gives where the water leaves the last one.
    #[expect(clippy::cast_precision_loss, reason = "a few parts")]
    pub(super) fn draw(&self, canvas: &mut Canvas, plan: &Plan<'_>, top: f64) -> (f64, f64) {
        let wanted: f64 = self.columns.iter().map(|c| c.wide).sum();
        let scale = ((SHEET - 4.0) / wanted).min(1.0);
        let gaps = self.columns.len().saturating_sub(1).max(1) as f64;
        let gap = ((SHEET - 4.0 - wanted * scale) / gaps).clamp(0.0, 6.0);
        // Columns this near share the line that joins their parts.
        let gap = if gap < 3.0 { 0.0 } else { gap };
        let y0 = top + FIRST;
        let mut x = 0.0;
        for (at, column) in self.columns.iter().enumerate() {
            let (from, to) = (x, column.wide.mul_add(scale, x));
            if at > 0 {
                canvas.line((from - gap, y0), (from, y0), if self.columns[at - 1].pressure { COLD } else { JOINED });
            }
            column.draw(canvas, plan, (from, to), y0, at > 0);
            x = to + gap;
        }
        (x - gap, y0)
    }
}

impl Column<'_> {
    #[expect(clippy::cast_precision_loss, reason = "a few parts")]
    fn draw(&self, canvas: &mut Canvas, plan: &Plan<'_>, (from, to): (f64, f64), y0: f64, entered: bool) {
        let pen = if self.pressure { COLD } else { JOINED };
        let shift = usize::from(self.through);
        let ys: Vec<f64> = (0..self.items.len()).map(|i| ((i + shift) as f64).mul_add(PITCH, y0)).collect();
        if self.through {
            canvas.line((from, y0), (to, y0), pen);
        }
        let joint = |canvas: &mut Canvas, x: f64, ys: Vec<f64>, pen: Pen| {
            let last = ys.into_iter().fold(y0, f64::max);
            if last > y0 {
                canvas.line((x, y0), (x, last), pen);
            }
        };
        let lefts = self.items.iter().zip(&ys).filter(|(i, _)| i.left && entered).map(|(_, y)| *y).collect();
        joint(canvas, from, lefts, JOINED);
        joint(canvas, to, ys.clone(), pen);
        for (one, &y) in self.items.iter().zip(&ys) {
            let Some(role) = super::role_of(one.part) else { continue };
            let middle = f64::midpoint(from, to);
            if role == PlumbingRole::Pipe {
                canvas.line((from, y), (to, y), COLD);
                pipe_words(canvas, plan, one.part, (from + 1.5, to - 1.5), y);
                arrow(canvas, (to - 0.4, y), false);
                continue;
            }
            let half = symbols::half(role);
            canvas.line((middle + half, y), (to, y), pen);
            if one.left && entered {
                canvas.line((from, y), (middle - half, y), JOINED);
                arrow(canvas, (middle - half, y), false);
            }
            item(canvas, plan, one.part, (middle, y), to - from);
            // The ground of a part outside must not hide its lines.
            if plan.is_outside(one.part) {
                canvas.line((middle + half, y), (to, y), pen);
            }
        }
    }
}

/// Id of a pipe over its line, length and bore under it, its marks at the right.
pub(super) fn pipe_words(canvas: &mut Canvas, plan: &Plan<'_>, pipe: &Part<'_>, (from, to): (f64, f64), y: f64) {
    let marks = plan.marks.on(&pipe.id);
    let wide = bubbles_width(&marks);
    let id = Type::of(2.4).bold();
    canvas.text((from, y - 1.3), &letters::fitted(&pipe.id, id.size, id.weight, to - from - wide - 0.5), id);
    bubbles(canvas, &marks, (to - wide + 0.6, y - 3.2));
    for (line, at) in letters::lines(&plan.pipe_size(pipe), 2.2, Weight::Regular, to - from).iter().take(2).zip(0_u8..)
    {
        canvas.text((from, f64::from(at).mul_add(2.6, y + 3.0)), line, Type::of(2.2));
    }
}

/// The ground of a pipe outside the heated space; drawn before its line.
pub(super) fn pipe_ground(canvas: &mut Canvas, plan: &Plan<'_>, pipe: &Part<'_>, (from, to): (f64, f64), y: f64) {
    if plan.is_outside(pipe) {
        canvas.rect(Area::at(from - 0.8, y - 4.6, to - from + 1.6, 8.6), 0.0, Pen::NONE, OUTSIDE);
    }
}
