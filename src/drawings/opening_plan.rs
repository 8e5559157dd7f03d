//! The openings in the van's skin: each surface to scale, with the two lines that positions are measured from.

use super::canvas::{Area, Canvas, Dash, Fill, Pen, Type};
use super::plan::balloons::{self, Mark, Room};
use super::plan::frame::{self, Frame, View};
use super::plan::sheet::{self, RADIUS};
use super::plan::sign::{self, Sign};
use super::plan::{body, dims};
use super::{Context, Drawing, PAGE, Subject};
use crate::compute::geometry::openings::{Middle, Opening, Surface, openings};
use crate::compute::geometry::van::Van;
use crate::units::{Metres, System};

/// From the top of a view's room to what is drawn in it: its title and one row of numbers above, mm.
const HEAD: f64 = 4.0;

/// A row of numbers, with its way to the view, mm.
const ROW: f64 = 2.0 * RADIUS + 5.5;

/// Below the lower row: the ruler.
const RULER: f64 = 7.0;

/// Right and left of the widest view, mm.
const MARGIN: f64 = 12.0;

/// The sheets; none without a wheelbase or an opening with a place in a surface that is drawn.
#[must_use]
pub(super) fn sheets(context: &Context<'_>) -> Vec<Drawing> {
    let build = context.build;
    let Some(van) = Van::of(build) else { return Vec::new() };
    let all = openings(build);
    let numbered: Vec<(usize, &Opening<'_>)> = all.iter().enumerate().map(|(at, opening)| (at + 1, opening)).collect();
    let of = |surface: Surface| -> Vec<(String, [f64; 3], bool)> {
        let here = numbered.iter().filter(|(_, opening)| opening.surface == Some(surface));
        here.filter_map(|(number, opening)| {
            let (at, given) = match opening.middle {
                Middle::Given(at) => (at, true),
                Middle::Near(at) => (at, false),
                Middle::Unknown => return None,
            };
            // What was cut otherwise on site is marked until the spec says how.
            let mark = if build.site.has_opening(&opening.part.id) { "Δ" } else { "" };
            Some((format!("{number}{mark}"), surface.point(at), given))
        })
        .collect()
    };
    let reach = van.body();
    let scale = frame::scale(|k| sheet::seen(View::Left, &reach).0 * k <= PAGE.0 - 2.0 * MARGIN);
    let mut sheets: Vec<Drawing> = Vec::new();
    let mut open: Option<(Canvas, f64, Vec<String>)> = None;
    for (surface, view) in VIEWS {
        let marks = of(surface);
        if marks.is_empty() {
            continue;
        }
        let high = HEAD + ROW + sheet::seen(view, &reach).1 * 1000.0 / scale + ROW + RULER + 4.0;
        // A sheet that is full is done with.
        if let Some((canvas, y, told)) = open.take_if(|(_, y, _)| *y + high > PAGE.1 - 8.0) {
            sheets.push(finish(canvas, y, &told, sheets.len() + 1));
        }
        let (canvas, y, told) = open.get_or_insert_with(|| {
            let mut canvas = Canvas::new(PAGE.0, PAGE.1);
            dims::scale_bar(&mut canvas, (0.5, 1.0), scale, build.prints());
            (canvas, 6.0, Vec::new())
        });
        draw(canvas, &van, (surface, view, scale), *y, &marks, build.prints());
        let numbers: Vec<String> = marks.iter().map(|(number, ..)| number.clone()).collect();
        told.push(format!("{}: {}", surface.title(), numbers.join(", ")));
        *y += high;
    }
    if let Some((canvas, y, told)) = open {
        sheets.push(finish(canvas, y, &told, sheets.len() + 1));
    }
    sheets
}

/// Surfaces and where one looks from.
const VIEWS: [(Surface, View); 5] = [
    (Surface::Left, View::Left),
    (Surface::Right, View::Right),
    (Surface::Rear, View::Rear),
    (Surface::Roof, View::Top),
    (Surface::Floor, View::Top),
];

fn finish(mut canvas: Canvas, y: f64, told: &[String], number: usize) -> Drawing {
    let note = "Full dot: the middle of the opening, as the spec gives it. Ring: the middle of the place, near which it is to be \
                marked. A and B are measured from the dashed lines.";
    let y = sheet::note_lines(&mut canvas, y, note);
    canvas.set_height((y + 1.0).min(PAGE.1));
    let tail = if number == 1 { String::new() } else { number.to_string() };
    let title = if number == 1 { "Openings in the skin" } else { "Openings in the skin, continued" };
    let description =
        format!("Surfaces of the van to scale with the numbers of the opening schedule. {}.", told.join("; "));
    Drawing::finish(&canvas, Subject::Openings, &tail, "", title, &description).at_true_size()
}

fn draw(
    canvas: &mut Canvas,
    van: &Van,
    (surface, view, scale): (Surface, View, f64),
    top: f64,
    marks: &[(String, [f64; 3], bool)],
    prints: System,
) {
    let reach = van.body();
    let wide = sheet::seen(view, &reach).0 * 1000.0 / scale;
    let frame = Frame::new(view, van, &reach, scale, (PAGE.0 - wide) / 2.0, top + HEAD + ROW);
    let [a, b] = surface.datums();
    let title = format!("{}: A {a}, B {b}", surface.title());
    canvas.text((0.5, top + 2.4), &title, Type::of(2.6).bold());
    body::draw(canvas, &frame, van);
    let whole = frame.area(&reach);
    datums(canvas, &frame, surface, &whole);
    ruler(canvas, &frame, surface, &whole, prints);
    let all: Vec<Mark> = marks.iter().map(|(_, at, _)| Mark { at: frame.point(*at), area: None }).collect();
    let room =
        Room { view: whole, left: 0.5, right: PAGE.0 - 0.5, radius: RADIUS, outside_only: true, above_only: false };
    let puts = balloons::put(&all, &[], &room);
    for (put, (_, _, given)) in puts.iter().zip(marks) {
        if let Some(to) = put.leads_to {
            canvas.line(put.centre, to, Pen::of(0.18));
            let fill = if *given { Fill::Grey(0.0) } else { Fill::Grey(1.0) };
            canvas.circle(to, 0.8, Pen::of(0.25), fill);
        }
    }
    for (put, (number, ..)) in puts.iter().zip(marks) {
        sign::draw(canvas, put.centre, RADIUS, &Sign::Letter(number.clone()));
    }
}

/// The two lines that the measures of a surface are taken from.
fn datums(canvas: &mut Canvas, frame: &Frame, surface: Surface, whole: &Area) {
    let pen = Pen::of(0.25).dash(Dash::Dashed);
    let zero = frame.point(surface.point([Metres(0.0); 2]));
    canvas.line((zero.0, whole.top), (zero.0, whole.bottom), pen);
    canvas.line((whole.left, zero.1), (whole.right, zero.1), pen);
}

/// Ticks along the lower and the left edge, one for each half metre or two feet, with the figures of every second.
fn ruler(canvas: &mut Canvas, frame: &Frame, surface: Surface, whole: &Area, prints: System) {
    let step = match prints {
        System::Metric => 0.5,
        System::Us => 2.0 * 0.3048,
    };
    let line = Pen::of(0.18);
    for tick in -24_i32..=48 {
        let along = f64::from(tick) * step;
        let long = if tick % 2 == 0 { 1.6 } else { 0.9 };
        let figure = Metres(along).show(prints);
        let (x, _) = frame.point(surface.point([Metres(along), Metres(0.0)]));
        if x >= whole.left && x <= whole.right {
            canvas.line((x, whole.bottom), (x, whole.bottom + long), line);
            if tick % 2 == 0 && tick >= 0 {
                canvas.text((x, whole.bottom + ROW + 3.2), &figure, Type::of(2.2).middle());
            }
        }
        let (_, y) = frame.point(surface.point([Metres(0.0), Metres(along)]));
        if y >= whole.top && y <= whole.bottom {
            canvas.line((whole.left - long, y), (whole.left, y), line);
            if tick % 2 == 0 {
                canvas.text((whole.left - 2.2, y + 0.8), &figure, Type::of(2.2).end());
            }
        }
    }
}
