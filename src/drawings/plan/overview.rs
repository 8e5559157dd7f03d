//! General arrangement with its dimensions, and both sides with the numbers of all places.

use super::sheet::{self, Marked, ROWS, note_lines};
use super::sign::Sign;
use super::{body, dims, frame};
use crate::build::Build;
use crate::compute::geometry::outline::Extent;
use crate::compute::geometry::spots::Spot;
use crate::compute::geometry::van::Van;
use crate::drawings::canvas::{Canvas, Type};
use crate::drawings::{Context, Drawing, PAGE, Subject};
use crate::fields::Field;
use crate::units::Metres;
use frame::{Frame, View};

/// The van from the left, from above and from behind, with its dimensions.
pub(super) fn arrangement(context: &Context<'_>, van: &Van) -> Drawing {
    let build = context.build;
    let vehicle = &build.vehicle;
    let prints = build.prints();
    let given = |field: &Field<Metres>| field.get().map(|m| m.show(prints));
    let reach = van.body();
    let (length, width, height) = (van.front + van.rear, van.width, van.height);
    let scale = frame::scale(|k| length * k <= 136.0 && (2.0 * height + width) * k <= 215.0 - 54.0);
    let k = 1000.0 / scale;
    let left = 8.0;
    let mut canvas = Canvas::new(PAGE.0, PAGE.1);
    let bar = dims::scale_bar(&mut canvas, (0.5, 1.0), scale, prints);
    let side = Frame::new(View::Left, van, &reach, scale, left, 12.0);
    dims::to_front(&mut canvas, &side, (bar + 10.0, 2.4));
    body::draw(&mut canvas, &side, van);
    let ground = side.over_ground(0.0, 0.0, 0.0).1;
    let x = |metres: f64| side.over_ground(metres, 0.0, 0.0).0;
    let mut dimension = |from: f64, to: f64, row: f64, field: &Field<Metres>| {
        if let Some(text) = given(field) {
            dims::across(&mut canvas, (x(from), x(to)), ground + row, ground, &text);
        }
    };
    dimension(0.0, van.wheelbase, 5.0, &vehicle.wheelbase);
    dimension(-van.front, 0.0, 5.0, &vehicle.front_overhang);
    dimension(van.wheelbase, van.rear, 5.0, &vehicle.rear_overhang);
    dimension(-van.front, van.rear, 10.5, &vehicle.length);
    let y = |metres: f64| side.over_ground(0.0, 0.0, metres).1;
    let end = x(van.rear);
    // Heights the spec gives are drawn where no lift moves them; else the figures of the card stand below.
    if let Some(text) = given(&vehicle.height) {
        dims::upright(&mut canvas, (y(van.height), y(0.0)), end + 19.0, end, &text);
    }
    if let Some(text) = given(&vehicle.floor_height) {
        dims::upright(&mut canvas, (y(van.floor), y(0.0)), end + 4.0, end, &text);
    }
    let top = ground + 10.5 + 8.0;
    let plan = Frame::new(View::Top, van, &reach, scale, left, top);
    body::draw(&mut canvas, &plan, van);
    canvas.line(plan.point([-van.front - 0.15, 0.0, 0.0]), plan.point([van.rear + 0.15, 0.0, 0.0]), sheet::chain());
    let (port, starboard) = (plan.point([0.0, width / 2.0, 0.0]).1, plan.point([0.0, -width / 2.0, 0.0]).1);
    if let Some(text) = given(&vehicle.width) {
        dims::upright(&mut canvas, (starboard, port), end + 19.0, end, &text);
    }
    canvas.text((left + 0.4, port - 0.6), "left", Type::of(2.3).grey(0.35).end());
    canvas.text((left + 0.4, starboard + 2.0), "right", Type::of(2.3).grey(0.35).end());
    let rear = Frame::new(View::Rear, van, &reach, scale, left, port + 10.0);
    body::draw(&mut canvas, &rear, van);
    let low = rear.over_ground(0.0, 0.0, 0.0).1;
    if let Some(text) = given(&vehicle.track) {
        let half = van.track / 2.0 * k;
        let middle = rear.origin.0;
        dims::across(&mut canvas, (middle - half, middle + half), low + 5.0, low, &text);
    }
    canvas.text((rear.origin.0, port + 8.6), "from behind", Type::of(2.3).grey(0.35).middle());
    let beside = left + width * k + 12.0;
    let told = figures(context, van);
    let mut line = port + 14.0;
    for (what, value) in &told {
        canvas.text((beside, line), what, Type::of(2.6));
        canvas.text((PAGE.0 - 1.0, line), value, Type::of(2.6).end());
        line += 4.4;
    }
    let mut bottom = (low + 9.0).max(line);
    if let Some(note) = sheet::usual(van) {
        bottom = note_lines(&mut canvas, bottom, &note);
    }
    canvas.set_height(bottom + 1.0);
    let words: Vec<String> = told.iter().map(|(what, value)| format!("{what} {value}")).collect();
    let description = format!(
        "The van from the left side, from above and from behind, to scale, with dimension lines. {}.",
        words.join("; ")
    );
    let title = "General arrangement";
    Drawing::finish(&canvas, Subject::Plan, "0-arrangement", "arrangement", title, &description).at_true_size()
}

/// The measures of the van and those of the card, as other documents print them.
fn figures(context: &Context<'_>, van: &Van) -> Vec<(String, String)> {
    let build = context.build;
    let prints = build.prints();
    let vehicle = &build.vehicle;
    let mut out: Vec<(String, String)> = Vec::new();
    for (field, what) in [
        (&vehicle.wheelbase, "Wheelbase"),
        (&vehicle.length, "Length of the vehicle"),
        (&vehicle.width, "Width without mirrors"),
        (&vehicle.height, "Height of the vehicle"),
        (&vehicle.track, "Track"),
        (&vehicle.floor_height, "Load floor above the ground"),
        (&vehicle.ground_clearance, "Ground clearance between the axles"),
        (&vehicle.tyre_radius, "Radius of a tyre"),
    ] {
        if let Some(m) = field.get() {
            out.push((what.to_owned(), m.show(prints)));
        }
    }
    let _ = van;
    let card = &context.geometry.card;
    for (what, extent) in [
        ("Height with everything on the roof", &card.height),
        ("Length with everything on the carriers", &card.length),
        ("Width with what stands out", &card.width),
    ] {
        if let Some(Extent { value, by }) = extent.as_ref().filter(|e| !e.by.is_empty()) {
            out.push((format!("{what} ({})", build.name(by)), value.show(prints)));
        }
    }
    for (what, angle) in [
        ("Approach angle", &context.geometry.approach),
        ("Departure angle", &context.geometry.departure),
        ("Breakover angle", &context.geometry.breakover),
    ] {
        if let Some(angle) = angle {
            out.push((what.to_owned(), format!("{:.0}°", angle.degrees)));
        }
    }
    out
}

/// Both sides, with the number of every place that has coordinates on the side it is nearer to.
pub(super) fn sides(build: &Build<'_>, van: &Van, spots: &[Spot<'_>]) -> Option<Drawing> {
    let mark = |s: &Spot<'_>| Some(Marked { sign: Sign::Number(s.number), at: s.middle()?, space: s.space });
    let all: Vec<Marked> = spots.iter().filter_map(mark).collect();
    if all.is_empty() {
        return None;
    }
    let reach = sheet::reach(van, all.iter());
    let (wide, high) = sheet::seen(View::Left, &reach);
    let scale = frame::scale(|k| wide * k <= PAGE.0 - 10.0 && 2.0 * high * k <= PAGE.1 - 4.0 * ROWS - 20.0);
    let mut canvas = Canvas::new(PAGE.0, PAGE.1);
    let bar = dims::scale_bar(&mut canvas, (0.5, 1.0), scale, build.prints());
    let mut y = 8.0;
    let (left, right): (Vec<Marked>, Vec<Marked>) = all.into_iter().partition(|m| m.at[1] >= -0.05);
    for (view, marked, title) in [
        (View::Left, left, "From the left: places left of the middle and across it"),
        (View::Right, right, "From the right: places right of the middle"),
    ] {
        let frame = Frame::new(view, van, &reach, scale, (PAGE.0 - wide * 1000.0 / scale) / 2.0, y + ROWS + 4.0);
        canvas.text((0.5, y + 2.4), title, Type::of(2.6).bold());
        let arrow = if view == View::Left { (bar + 10.0, 2.4) } else { (PAGE.0 - 20.0, y + 1.6) };
        dims::to_front(&mut canvas, &frame, arrow);
        y = sheet::view(&mut canvas, van, &frame, &reach, &marked, false).bottom + 4.0;
    }
    canvas.set_height(y.min(PAGE.1));
    let places: Vec<String> = spots.iter().map(|s| format!("{} {}", s.number, s.name)).collect();
    let description = format!(
        "The van from the left side and from the right side, to scale, with the numbers of its places: {}.",
        places.join("; ")
    );
    let title = "Both sides, with the numbers of the places";
    Some(Drawing::finish(&canvas, Subject::Plan, "sides", "sides", title, &description).at_true_size())
}
