//! Bars of the load cases: each axle and the whole van against its limit, and the two sides against each other.

use crate::compute::ledger::{Amount, Figure};
use crate::compute::weight::SIDES;
use crate::compute::weight::cases::Case;
use crate::drawings::canvas::{Area, Canvas, Fill, Pen, Type};
use crate::drawings::letters::{self, Weight};
use crate::drawings::{Context, PAGE};

/// Columns: formula, heading.
const COLUMNS: [(&str, &str); 3] =
    [("front-axle", "Front axle"), ("rear-axle", "Rear axle"), ("total-mass", "Whole van")];

const NAME: f64 = 38.0;
const GAP: f64 = 4.0;
const ROW: f64 = 8.4;
const BAR: f64 = 2.6;

fn figure<'a>(context: &Context<'a>, case: &Case, formula: &str) -> Option<&'a Figure> {
    context.figures.ledger.get(&format!("{}.{formula}", case.id.id()))
}

fn value(amount: &Amount) -> Option<f64> {
    match amount {
        Amount::Of(_, value) => Some(*value),
        Amount::Word(_) => None,
    }
}

/// A case in words: its loads and what is left.
pub(super) fn told(context: &Context<'_>, case: &Case) -> String {
    let prints = context.build.prints();
    let one = |(formula, title): &(&str, &str)| {
        let figure = figure(context, case, formula)?;
        let word = if figure.is_broken() { "over the limit" } else { "to the limit" };
        let left = figure.show_margin(prints).map_or_else(String::new, |m| format!(" ({m} {word})"));
        Some(format!("{title} {}{left}", figure.show(prints)))
    };
    let told: Vec<String> = COLUMNS.iter().filter_map(one).collect();
    format!("{}: {}", case.id.title(), told.join(", "))
}

/// Draws the bars from `y` down; gives where they end.
pub(super) fn draw(context: &Context<'_>, canvas: &mut Canvas, y: f64) -> f64 {
    let prints = context.build.prints();
    let cases = &context.weight.cases;
    let sided = cases.iter().any(|c| c.left.is_some());
    let columns = if sided { 4.0 } else { 3.0 };
    let wide = (PAGE.0 - NAME - GAP * columns) / columns;
    let left = |n: usize| NAME + GAP + f64::from(u32::try_from(n).unwrap_or(0)) * (wide + GAP);
    canvas.text((0.3, y + 2.4), "Load case", Type::of(2.6).bold());
    for (n, (formula, title)) in COLUMNS.iter().enumerate() {
        let limit = cases.iter().find_map(|c| figure(context, c, formula)?.limit.as_ref());
        let text = limit.map_or_else(String::new, |l| format!(", limit {}", l.show(prints)));
        let area = canvas.text((left(n), y + 2.4), title, Type::of(2.6).bold());
        canvas.text((area.right, y + 2.4), &text, Type::of(2.4));
    }
    if sided {
        let area = canvas.text((left(3), y + 2.4), "Sides", Type::of(2.6).bold());
        canvas.text((area.right, y + 2.4), ", left and right", Type::of(2.4));
    }
    canvas.line((0.0, y + 4.2), (PAGE.0, y + 4.2), Pen::of(0.3));
    let mut top = y + 6.0;
    for case in cases {
        for (row, line) in letters::lines(case.id.title(), 2.5, Weight::Regular, NAME).into_iter().take(2).enumerate() {
            let down = f64::from(u32::try_from(row).unwrap_or(0)) * 3.1;
            canvas.text((0.3, top + 2.3 + down), &line, Type::of(2.5));
        }
        for (n, (formula, _)) in COLUMNS.iter().enumerate() {
            if let Some(figure) = figure(context, case, formula) {
                bar(context, canvas, figure, formula, (left(n), top, wide));
            }
        }
        if let Some(share) = case.left.map(|l| l / case.total()) {
            let room = (left(3), top, wide);
            balance(canvas, share, room);
            let shown = |f: &str| figure(context, case, f).map_or_else(String::new, |f| f.value.show(prints));
            canvas.text((room.0, top + 5.6), &shown("left-side"), Type::of(2.2));
            canvas.text((room.0 + wide, top + 5.6), &shown("right-side"), Type::of(2.2).end());
        }
        top += ROW;
        canvas.line((0.0, top - 1.2), (PAGE.0, top - 1.2), Pen::of(0.12).grey(0.7));
    }
    let mut note = "The mark on a bar is the limit; “left” is what may still be added.".to_owned();
    if sided {
        use std::fmt::Write as _;
        let _ = write!(
            note,
            " Sides: the dot is where the middle of the mass lies; within the grey band the sides differ by at most {} of it.",
            crate::units::Ratio(SIDES).show(prints)
        );
    }
    crate::drawings::plan::sheet::note_lines(canvas, top, &note)
}

/// A bar against its limit, and its figure with what is left.
fn bar(context: &Context<'_>, canvas: &mut Canvas, figure: &Figure, formula: &str, (x, y, wide): (f64, f64, f64)) {
    let prints = context.build.prints();
    let Some(load) = value(&figure.value) else { return };
    let bound = figure.limit.as_ref().and_then(|l| value(&l.bound));
    // All cases share a scale: the limit, or the largest load, at nine tenths of the width.
    let loads = context.weight.cases.iter().filter_map(|c| value(&self::figure(context, c, formula)?.value));
    let full = loads.chain(bound).fold(1.0, f64::max) / 0.94;
    let length = |v: f64| (v / full).clamp(0.0, 1.0) * wide;
    let kept = figure.limit.as_ref().is_none_or(|l| l.kept);
    let shade = if kept { Fill::Grey(0.55) } else { Fill::Grey(0.0) };
    canvas.rect(Area::at(x, y, wide, BAR), 0.0, Pen::of(0.12).grey(0.6), Fill::None);
    canvas.rect(Area::at(x, y, length(load), BAR), 0.0, Pen::NONE, shade);
    if let Some(bound) = bound {
        let at = x + length(bound);
        canvas.line((at, y - 0.7), (at, y + BAR + 0.7), Pen::of(0.5));
    }
    canvas.text((x, y + 5.6), &figure.show(prints), Type::of(2.2).bold());
    if let Some(margin) = figure.show_margin(prints) {
        let text = format!("{margin} {}", if kept { "left" } else { "over" });
        canvas.text((x + wide, y + 5.6), &text, Type::of(2.2).end());
    }
}

/// Where the middle of the mass lies between the wheels: the whole width is a difference of 20 %.
fn balance(canvas: &mut Canvas, left: f64, (x, y, wide): (f64, f64, f64)) {
    let middle = x + wide / 2.0;
    let at = |difference: f64| middle - (difference / 0.2).clamp(-1.0, 1.0) * wide / 2.0;
    canvas.rect(Area::at(x, y, wide, BAR), 0.0, Pen::of(0.12).grey(0.6), Fill::None);
    canvas.rect(Area { left: at(SIDES), top: y, right: at(-SIDES), bottom: y + BAR }, 0.0, Pen::NONE, Fill::Grey(0.85));
    canvas.line((middle, y - 0.7), (middle, y + BAR + 0.7), Pen::of(0.25));
    canvas.circle((at(2.0 * left - 1.0), y + BAR / 2.0), 1.1, Pen::NONE, Fill::Grey(0.0));
}
