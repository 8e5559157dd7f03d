//! A sheet with views to scale, signs on them, and a key.

use super::balloons::{self, Mark, Room};
use super::body;
use super::dims;
use super::frame::{self, Frame, View};
use super::key::{Entry, Key};
use super::sign::{self, Sign};
use crate::compute::geometry::boxes::Box3;
use crate::compute::geometry::van::Van;
use crate::drawings::canvas::{Area, Canvas, Dash, Fill, Pen, Type};
use crate::drawings::{Drawing, PAGE, Subject};
use crate::units::System;

/// Radius of a balloon, mm.
pub(crate) const RADIUS: f64 = 2.3;

/// Something to be marked on a view.
#[derive(Clone, Debug)]
pub(crate) struct Marked {
    /// Its sign.
    pub sign: Sign,
    /// The point that is meant.
    pub at: [f64; 3],
    /// Its box, where it has one.
    pub space: Option<Box3>,
}

/// What a sheet of plans is called and what it says.
#[derive(Clone, Debug)]
pub(crate) struct Heading {
    /// Subject.
    pub subject: Subject,
    /// What tells it from its siblings.
    pub tail: String,
    /// Id of what it is about.
    pub about: String,
    /// Title.
    pub title: String,
    /// What can be seen on it.
    pub description: String,
    /// Notes under the views.
    pub notes: Vec<String>,
}

/// All that is to be drawn in views: the van and the boxes.
#[must_use]
pub(crate) fn reach<'a>(van: &Van, spaces: impl Iterator<Item = &'a Marked>) -> Box3 {
    spaces.fold(van.body(), |all, m| {
        let own = m.space.unwrap_or(Box3 { min: m.at, max: m.at });
        frame::around(&all, &own)
    })
}

/// Height and width of a reach seen in a view, metres.
#[must_use]
pub(crate) fn seen(view: View, reach: &Box3) -> (f64, f64) {
    let size = reach.size();
    match view {
        View::Top => (size[0], size[1]),
        View::Left | View::Right => (size[0], size[2]),
        View::Rear => (size[1], size[2]),
    }
}

/// Draws a view with boxes and signs; rows of signs stand above and below it. Gives all the room taken.
pub(crate) fn view(
    canvas: &mut Canvas,
    van: &Van,
    frame: &Frame,
    reach: &Box3,
    marked: &[Marked],
    outside_only: bool,
) -> Area {
    body::draw(canvas, frame, van);
    let area = |m: &Marked| m.space.map(|s| frame.area(&s));
    let boxes: Vec<Area> = marked.iter().filter_map(area).collect();
    let mut by_size: Vec<&Area> = boxes.iter().collect();
    by_size.sort_by(|a, b| (b.width() * b.height()).total_cmp(&(a.width() * a.height())));
    for area in by_size {
        canvas.rect(*area, 0.0, Pen::of(0.22).grey(0.25), Fill::None);
    }
    let marks: Vec<Mark> = marked.iter().map(|m| Mark { at: frame.point(m.at), area: area(m) }).collect();
    let whole = frame.area(reach);
    let room = Room { view: whole, left: 0.5, right: PAGE.0 - 0.5, radius: RADIUS, outside_only, above_only: false };
    let puts = balloons::put(&marks, &boxes, &room);
    for put in &puts {
        if let Some(to) = put.leads_to {
            canvas.line(put.centre, to, Pen::of(0.18));
            canvas.circle(to, 0.5, Pen::NONE, Fill::Grey(0.0));
        }
    }
    let mut taken = whole;
    for (m, put) in marked.iter().zip(&puts) {
        sign::draw(canvas, put.centre, RADIUS, &m.sign);
        taken.top = taken.top.min(put.centre.1 - RADIUS);
        taken.bottom = taken.bottom.max(put.centre.1 + RADIUS);
    }
    taken
}

/// Room for the rows above a view, mm.
pub(crate) const ROWS: f64 = 2.0 * RADIUS + 6.0;

/// A plan from above with its signs.
#[derive(Clone, Debug, Default)]
pub(crate) struct Plan {
    /// What it shows; "" where it is the only one.
    pub title: &'static str,
    /// Boxes without a sign, in light grey: what stands around.
    pub around: Vec<Box3>,
    /// Signs.
    pub marked: Vec<Marked>,
    /// All signs stand outside the van.
    pub outside_only: bool,
}

/// A sheet with plans from above and the key of their signs; what the key does not fit goes on to further sheets.
#[must_use]
pub(crate) fn plans_with_key(
    van: &Van,
    prints: System,
    heading: &Heading,
    plans: &[Plan],
    entries: &[Entry],
) -> Vec<Drawing> {
    // A last sheet lower than this is hardly worth its paper, mm.
    const SHORT: f64 = 45.0;
    let tall = match heading.subject {
        Subject::Emergency => 72.0,
        // Shows where to go, nothing to measure.
        Subject::Stage => 36.0,
        _ => 56.0,
    };
    let sheets = sheets(van, prints, heading, plans, entries, tall);
    if sheets.len() == 1 || sheets.last().is_some_and(|s| s.size.1 >= SHORT) {
        return sheets;
    }
    // Rather than turn the page for a few lines of the key, the views become smaller.
    let smaller = [0.8, 0.65].into_iter().map(|k| self::sheets(van, prints, heading, plans, entries, tall * k));
    let fewer = smaller.into_iter().find(|s| s.len() < sheets.len());
    fewer.unwrap_or(sheets)
}

/// The sheets with views up to `high` mm high.
fn sheets(van: &Van, prints: System, heading: &Heading, plans: &[Plan], entries: &[Entry], high: f64) -> Vec<Drawing> {
    let mut key = Key::new(entries, columns(entries), PAGE.0);
    let all = reach(van, plans.iter().flat_map(|p| &p.marked));
    let (long, wide) = seen(View::Top, &all);
    let scale = frame::scale(|k| long * k <= PAGE.0 - 9.0 && wide * k <= high);
    let mut sheets = Vec::new();
    let mut canvas = Canvas::new(PAGE.0, PAGE.1);
    let mut y = 1.0;
    for (n, plan) in plans.iter().filter(|p| !p.marked.is_empty()).enumerate() {
        let left = (PAGE.0 - long * 1000.0 / scale) / 2.0;
        let mut frame = Frame::new(View::Top, van, &all, scale, left, y);
        frame.origin.1 += 7.0 + rows_above(van, &frame, &all, plan);
        if n == 0 {
            let bar = dims::scale_bar(&mut canvas, (0.5, y), scale, prints);
            dims::to_front(&mut canvas, &frame, (bar + 10.0, y + 1.4));
        }
        if !plan.title.is_empty() {
            canvas.text((PAGE.0 - 0.5, y + 2.4), plan.title, Type::of(2.6).bold().end());
        }
        for space in &plan.around {
            canvas.rect(frame.area(space), 0.0, Pen::of(0.18).grey(0.72), Fill::None);
        }
        let taken = view(&mut canvas, van, &frame, &all, &plan.marked, plan.outside_only);
        sides(&mut canvas, &frame, &all);
        y = taken.bottom + 4.0;
    }
    for note in &heading.notes {
        y = note_lines(&mut canvas, y, note);
    }
    if !heading.notes.is_empty() {
        y += 1.5;
    }
    let mut number = 1;
    loop {
        y += key.draw(&mut canvas, (0.0, y), PAGE.1 - y - 1.0);
        canvas.set_height((y + 1.0).min(PAGE.1));
        let (tail, title) = if number == 1 {
            (heading.tail.clone(), heading.title.clone())
        } else {
            (format!("{}-{number}", heading.tail), format!("{}, key continued", heading.title))
        };
        let (subject, about) = (heading.subject, &heading.about);
        sheets.push(Drawing::finish(&canvas, subject, &tail, about, &title, &heading.description).at_true_size());
        // A spec of many thousand components must not fill the disk.
        if key.is_empty() || number > 40 {
            return sheets;
        }
        canvas = Canvas::new(PAGE.0, PAGE.1);
        y = 1.0;
        number += 1;
    }
}

/// Room that the rows above a plan will take: they are placed once to see.
fn rows_above(van: &Van, frame: &Frame, all: &Box3, plan: &Plan) -> f64 {
    let mut trial = Canvas::new(PAGE.0, PAGE.1);
    let taken = view(&mut trial, van, frame, all, &plan.marked, plan.outside_only);
    frame.area(all).top - taken.top
}

/// Columns of a key: fewer where there is little to tell.
fn columns(entries: &[Entry]) -> usize {
    let rows: usize = entries.iter().map(|e| e.rows.len() + 1).sum();
    if rows <= 6 { 2 } else { 3 }
}

/// "right" above and "left" below the front end of a plan.
fn sides(canvas: &mut Canvas, frame: &Frame, reach: &Box3) {
    let area = frame.area(reach);
    let style = Type::of(2.3).grey(0.35);
    canvas.text_on_white((0.5, area.top + 0.6), "right", style);
    canvas.text_on_white((0.5, area.bottom + 1.0), "left", style);
}

/// A note over the whole width; gives where the next begins.
pub(crate) fn note_lines(canvas: &mut Canvas, mut y: f64, note: &str) -> f64 {
    for line in crate::drawings::letters::lines(note, 2.4, crate::drawings::canvas::Weight::Regular, PAGE.0 - 1.0) {
        canvas.text((0.3, y + 2.2), &line, Type::of(2.4));
        y += 3.3;
    }
    y
}

/// A note that names measures the spec does not give.
#[must_use]
pub(crate) fn usual(van: &Van) -> Option<String> {
    (!van.usual.is_empty()).then(|| {
        format!(
            "The spec does not give these measures; they are drawn as usual, not to be taken from the sheet: {}.",
            van.usual.join(", ")
        )
    })
}

/// A chain line, for the middle of the van.
#[must_use]
pub(crate) const fn chain() -> Pen {
    Pen { width: 0.15, grey: 0.4, dash: Dash::Chain }
}
