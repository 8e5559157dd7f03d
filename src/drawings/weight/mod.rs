//! Weights: where the masses are, what stands on each axle and side, and how much is left in every load case.

mod bars;

use super::canvas::{Area, Canvas, Dash, Fill, Pen, Type};
use super::plan::balloons::{self, Mark, Room};
use super::plan::frame::{self, Frame, View};
use super::plan::key::{Entry, Key};
use super::plan::sheet::RADIUS;
use super::plan::sign::{self, Sign};
use super::plan::{body, dims};
use super::{Context, Drawing, PAGE, Subject};
use crate::compute::geometry::spots::{Spot, spots};
use crate::compute::geometry::van::Van;
use crate::compute::weight::cases::Case;
use crate::units::{Kilograms, Metres};

/// Numbers stand at this many of the heaviest places.
const NUMBERED: usize = 18;

/// Largest circle, mm.
const LARGEST: f64 = 5.5;

/// The sheet of weights; `None` where no load case could be computed.
pub(super) fn drawing(context: &Context<'_>) -> Option<Drawing> {
    let build = context.build;
    let van = Van::of(build)?;
    // The heaviest case is the one to be looked at.
    let heaviest = context.weight.cases.iter().reduce(|a, b| if b.total().0 > a.total().0 { b } else { a })?;
    let spots = spots(build, &van);
    let masses = context.weight.items.by_place(heaviest.id);
    let mut listed: Vec<(&Spot<'_>, Kilograms)> =
        spots.iter().filter_map(|s| Some((s, *masses.get(&Some(s.id))?))).filter(|(_, m)| m.0 > 0.0).collect();
    listed.sort_by(|a, b| b.1.0.total_cmp(&a.1.0).then(a.0.number.cmp(&b.0.number)));
    let mut canvas = Canvas::new(PAGE.0, PAGE.1);
    let mut y = picture(context, &mut canvas, &van, heaviest, &listed);
    y = bars::draw(context, &mut canvas, y + 3.0) + 3.0;
    let prints = build.prints();
    let mut rows: Vec<(String, String)> =
        listed.iter().map(|(s, m)| (format!("{}  {}", s.number, s.name), m.show(prints))).collect();
    let shown: Vec<&str> = listed.iter().map(|(s, _)| s.id).collect();
    for (place, mass) in &masses {
        let word = match place {
            None => "Front seats, and what has no place",
            Some(id) if !shown.contains(id) && mass.0 > 0.0 => "Elsewhere",
            Some(_) => continue,
        };
        rows.push((word.to_owned(), mass.show(prints)));
    }
    let title = format!("Mass added to the empty vehicle, by place: {}", heaviest.id.title());
    let entry = Entry { sign: Sign::Blank, title: String::new(), rows };
    canvas.text((0.3, y + 2.4), &title, Type::of(2.6).bold());
    let mut key = Key::new(&[entry], 3, PAGE.0);
    y += 5.0;
    y += key.draw(&mut canvas, (0.0, y), PAGE.1 - y - 1.0);
    canvas.set_height((y + 1.0).min(PAGE.1));
    let told: Vec<String> = context.weight.cases.iter().map(|c| bars::told(context, c)).collect();
    let description = format!(
        "The van from the left with a circle for the mass in each place, and from behind; the loads on axles and sides, \
         the centre of gravity; bars of every load case against its limits. {}.",
        told.join("; ")
    );
    let title = "Weights: axles, sides, centre of gravity";
    Some(Drawing::finish(&canvas, Subject::Weight, "", "", title, &description).at_true_size())
}

/// Side and rear view with masses, loads and the centre of gravity; gives where they end.
fn picture(
    context: &Context<'_>,
    canvas: &mut Canvas,
    van: &Van,
    case: &Case,
    listed: &[(&Spot<'_>, Kilograms)],
) -> f64 {
    let build = context.build;
    let reach = listed
        .iter()
        .filter_map(|(s, _)| s.middle())
        .fold(van.body(), |all, at| frame::around(&all, &crate::compute::geometry::boxes::Box3 { min: at, max: at }));
    let [long, wide, high] = reach.size();
    let scale = frame::scale(|k| (long + wide) * k <= PAGE.0 - 46.0 && high * k <= 60.0);
    dims::scale_bar(canvas, (0.5, 1.0), scale, build.prints());
    let over = 2.0 * RADIUS + 7.0;
    let side = Frame::new(View::Left, van, &reach, scale, 14.0, 8.0 + over);
    let view = side.area(&reach);
    let rear = Frame::new(View::Rear, van, &reach, scale, view.right + 26.0, 8.0 + over);
    let behind = rear.area(&reach);
    dims::to_front(canvas, &side, (70.0, 2.4));
    canvas.text((PAGE.0 - 0.5, 3.4), case.id.title(), Type::of(2.6).bold().end());
    for frame in [&side, &rear] {
        body::draw(canvas, frame, van);
    }
    let most = listed.first().map_or(1.0, |(_, m)| m.0);
    for (frame, grey) in [(&side, 0.88), (&rear, 0.88)] {
        for (spot, mass) in listed {
            if let Some(at) = spot.middle() {
                let radius = LARGEST * (mass.0 / most).sqrt();
                canvas.circle(frame.point(at), radius.max(0.3), Pen::of(0.18).grey(0.3), Fill::Grey(grey));
            }
        }
        // Once more the edges: small circles under large ones stay seen.
        for (spot, mass) in listed {
            if let Some(at) = spot.middle() {
                let radius = LARGEST * (mass.0 / most).sqrt();
                canvas.circle(frame.point(at), radius.max(0.3), Pen::of(0.18).grey(0.3), Fill::None);
            }
        }
    }
    numbers(canvas, &side, view, listed);
    let ledger = |formula: &str| context.ledger.get(&format!("{}.{formula}", case.id.id()));
    let ground = side.over_ground(0.0, 0.0, 0.0).1;
    for (formula, x) in [("front-axle", 0.0), ("rear-axle", van.wheelbase)] {
        if let Some(figure) = ledger(formula) {
            load(canvas, (side.over_ground(x, 0.0, 0.0).0, ground), &figure.show(build.prints()));
        }
    }
    for (formula, sign) in [("left-side", 1.0), ("right-side", -1.0)] {
        if let Some(figure) = ledger(formula) {
            let x = rear.over_ground(0.0, sign * van.track / 2.0, 0.0).0;
            load(canvas, (x, ground), &figure.show(build.prints()));
        }
    }
    canvas.text((f64::midpoint(behind.left, behind.right), over), "from behind", Type::of(2.3).grey(0.35).middle());
    let track = build.vehicle.track.get();
    let beside = track.and_then(|t| case.left_of_middle(t));
    if let (Some(aft), Some(height)) = (case.behind_front, case.height) {
        centre(canvas, side.over_ground(aft.0, 0.0, height.0));
        if let Some(Metres(left)) = beside {
            centre(canvas, rear.over_ground(0.0, left, height.0));
        }
        centre(canvas, (2.8, ground + 14.0));
        let figures = ["centre-aft", "centre-height"].map(|f| ledger(f).map(|f| f.value.show(build.prints())));
        let told = match figures {
            [Some(aft), Some(height)] => {
                format!("centre of gravity: {aft} behind the front axle, {height} above the ground")
            }
            _ => "centre of gravity".to_owned(),
        };
        canvas.text((6.5, ground + 14.9), &told, Type::of(2.4));
        canvas.text((PAGE.0 - 0.5, ground + 14.9), "area of a grey circle: mass in that place", Type::of(2.4).end());
        return ground + 18.0;
    }
    canvas.text((0.3, ground + 14.9), "area of a grey circle: mass in that place", Type::of(2.4));
    ground + 18.0
}

/// Numbers of the heaviest places, above and below the side view.
fn numbers(canvas: &mut Canvas, side: &Frame, view: Area, listed: &[(&Spot<'_>, Kilograms)]) {
    let placed: Vec<(&Spot<'_>, [f64; 3])> =
        listed.iter().take(NUMBERED).filter_map(|(s, _)| Some((*s, s.middle()?))).collect();
    let marks: Vec<Mark> = placed.iter().map(|(_, at)| Mark { at: side.point(*at), area: None }).collect();
    // Below is the room of the axle loads.
    let right = view.right + 12.0;
    let room = Room { view, left: 0.5, right, radius: RADIUS, outside_only: true, above_only: true };
    for ((spot, _), put) in placed.iter().zip(balloons::put(&marks, &[], &room)) {
        if let Some(to) = put.leads_to {
            canvas.line(put.centre, to, Pen::of(0.15));
            canvas.circle(to, 0.45, Pen::NONE, Fill::Grey(0.0));
        }
        sign::draw(canvas, put.centre, RADIUS, &Sign::Number(spot.number));
    }
}

/// A load on the ground: an arrow from below with its figure.
fn load(canvas: &mut Canvas, (x, ground): (f64, f64), text: &str) {
    canvas.line((x, ground + 6.5), (x, ground + 2.0), Pen::of(0.5));
    canvas.polygon(&[(x, ground + 0.4), (x - 1.1, ground + 3.0), (x + 1.1, ground + 3.0)], Pen::NONE, Fill::Grey(0.0));
    canvas.text((x, ground + 9.4), text, Type::of(2.7).bold().middle());
}

/// The mark of a centre of gravity: a circle with two black quarters.
fn centre(canvas: &mut Canvas, (x, y): (f64, f64)) {
    let r = 1.8;
    canvas.circle((x, y), r, Pen::of(0.3), Fill::Grey(1.0));
    for (dx, dy) in [(1.0, -1.0), (-1.0, 1.0)] {
        let sweep = format!("M{x:.2} {y:.2}L{:.2} {y:.2}A{r:.2} {r:.2} 0 0 0 {x:.2} {:.2}Z", x + dx * r, y + dy * r);
        canvas.path(&sweep, Pen::NONE, Fill::Grey(0.0));
    }
    canvas.circle((x, y), r, Pen { width: 0.3, grey: 0.0, dash: Dash::None }, Fill::None);
}
