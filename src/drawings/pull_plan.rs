//! The pull plan: the van from above and from the left with its channels to scale, their names, and what lies in each.

use super::canvas::{Canvas, Dash, Fill, Pen, Type};
use super::plan::balloons::{self, Mark, Room};
use super::plan::frame::{self, Frame, View};
use super::plan::key::{Entry, Key};
use super::plan::sheet::{self, RADIUS, ROWS};
use super::plan::sign::{self, Sign};
use super::plan::{body, dims};
use super::{Context, Drawing, PAGE, Subject};
use crate::build::{Build, Landing};
use crate::compute::channel_use::{ChannelUse, letter};
use crate::compute::geometry::boxes::Box3;
use crate::compute::geometry::spots::{Level, Spot, spots};
use crate::compute::geometry::van::Van;
use crate::drawings::area::Area;
use crate::spec::Channel;
use crate::units::{Metres, significant};
use std::collections::BTreeSet;

/// Height of both views together, mm: less where the key would go on to a second sheet.
const HIGH: [f64; 3] = [118.0, 104.0, 84.0];

/// A channel is drawn no thinner than this, mm: two lines must stay two.
const THIN: f64 = 0.8;

/// Width of its edges, mm.
const EDGE: f64 = 0.18;

/// A channel with its sign.
struct Line<'a> {
    id: &'a str,
    channel: &'a Channel,
    sign: Sign,
}

/// The sheets; none without a wheelbase or a channel.
#[must_use]
pub(super) fn sheets(context: &Context<'_>) -> Vec<Drawing> {
    let build = context.build;
    let Some(van) = Van::of(build) else { return Vec::new() };
    let lines: Vec<Line<'_>> = build
        .channels
        .iter()
        .filter_map(|(id, channel)| Some(Line { id, channel, sign: Sign::Letter(letter(build, id)?) }))
        .collect();
    if lines.is_empty() {
        return Vec::new();
    }
    let mut tries = HIGH.into_iter().map(|high| drawn(context, &van, &lines, high));
    let first = tries.next().unwrap_or_default();
    if first.len() == 1 { first } else { tries.find(|sheets| sheets.len() == 1).unwrap_or(first) }
}

/// The sheets with both views together up to `high` mm high.
fn drawn(context: &Context<'_>, van: &Van, lines: &[Line<'_>], high: f64) -> Vec<Drawing> {
    let build = context.build;
    let all_spots = spots(build, van);
    let ends = ends(build, lines);
    let here: Vec<&Spot<'_>> =
        all_spots.iter().filter(|spot| ends.contains(spot.id) && spot.middle().is_some()).collect();
    let mut canvas = Canvas::new(PAGE.0, PAGE.1);
    let mut y = views(context, &mut canvas, van, (lines, &here, &all_spots), high);
    let notes = [
        "Conduits are grey inside, ducts white, rails dashed; each as wide as it is inside, but never thinner than a line that \
         reads. A dot in a ring: it leads toward you or away."
            .to_owned(),
        "Filled: where it is fullest, of what lets cables be drawn in.".to_owned(),
    ];
    for note in notes.iter().chain(sheet::usual(van).as_ref()) {
        y = sheet::note_lines(&mut canvas, y, note);
    }
    y += 1.5;
    let mut key = Key::new(&entries(context, lines, &here), 2, PAGE.0);
    let told: Vec<String> = lines.iter().map(|line| told(context, line)).collect();
    let description = format!(
        "The van from above and from the left with its channels, to scale, front to the left. {}.",
        told.join("; ")
    );
    let mut sheets = Vec::new();
    loop {
        y += key.draw(&mut canvas, (0.0, y), PAGE.1 - y - 1.0);
        canvas.set_height((y + 1.0).min(PAGE.1));
        let number = sheets.len() + 1;
        let (tail, title) = match number {
            1 => (String::new(), "Pull plan: the channels".to_owned()),
            _ => (number.to_string(), "Pull plan: the channels, key continued".to_owned()),
        };
        sheets.push(Drawing::finish(&canvas, Subject::PullPlan, &tail, "", &title, &description).at_true_size());
        // A spec of many thousand channels must not fill the disk.
        if key.is_empty() || number > 40 {
            return sheets;
        }
        canvas = Canvas::new(PAGE.0, PAGE.1);
        y = 1.0;
    }
}

/// Ids of the places at which cables of the channels end.
fn ends<'a>(build: &'a Build<'_>, lines: &[Line<'_>]) -> BTreeSet<&'a str> {
    let mut places = BTreeSet::new();
    for line in lines {
        for conductor in build.wiring.in_channel(line.id) {
            places.extend(conductor.ends().into_iter().filter_map(|end| place(build, end)));
        }
    }
    places
}

fn place<'a>(build: &'a Build<'_>, end: &'a Landing) -> Option<&'a str> {
    let own = end.place.as_deref().filter(|place| build.places.contains_key(*place));
    own.or_else(|| build.parts.get(&end.part)?.places.first().map(String::as_str))
}

/// Draws both views; gives where they end.
fn views(
    context: &Context<'_>,
    canvas: &mut Canvas,
    van: &Van,
    (lines, here, all): (&[Line<'_>], &[&Spot<'_>], &[Spot<'_>]),
    most: f64,
) -> f64 {
    let build = context.build;
    let mut reach = van.body();
    for point in lines.iter().flat_map(|line| line.channel.points.all()) {
        reach = frame::around(&reach, &Box3 { min: *point, max: *point });
    }
    let (long, wide) = sheet::seen(View::Top, &reach);
    let (_, high) = sheet::seen(View::Left, &reach);
    let scale = frame::scale(|k| long * k <= PAGE.0 - 9.0 && (wide + high) * k <= most);
    let left = (PAGE.0 - long * 1000.0 / scale) / 2.0;
    let bar = dims::scale_bar(canvas, (0.5, 1.0), scale, build.prints());
    let mut y = 6.0;
    for view in [View::Top, View::Left] {
        let frame = Frame::new(view, van, &reach, scale, left, y + ROWS);
        if view == View::Top {
            dims::to_front(canvas, &frame, (bar + 10.0, 2.4));
        }
        let title = if view == View::Top { "from above" } else { "from the left" };
        canvas.text((PAGE.0 - 0.5, y + 2.4), title, Type::of(2.6).bold().end());
        body::draw(canvas, &frame, van);
        let furniture = all.iter().filter(|s| s.level == Level::Lower && s.is_furniture(build));
        for space in furniture.filter_map(|s| s.space) {
            canvas.rect(frame.area(&space), 0.0, Pen::of(0.18).grey(0.72), Fill::None);
        }
        for line in lines {
            draw_channel(canvas, &frame, line.channel);
        }
        y = signs(canvas, &frame, &reach, lines, here).bottom + 4.0;
    }
    y
}

/// A channel seen in a view: as wide as it is inside, its edges around it.
fn draw_channel(canvas: &mut Canvas, frame: &Frame, channel: &Channel) {
    let points: Vec<(f64, f64)> = channel.points.all().iter().map(|point| frame.point(*point)).collect();
    let inside = match frame.view {
        View::Top => channel.inside_width.get().or(channel.inside.get()),
        _ => channel.inside.get(),
    };
    let wide = (inside.unwrap_or_default().0 * frame.per_metre).max(THIN);
    match channel.form.or_empty() {
        "rail" => canvas.polyline(&points, Pen::of(0.6).dash(Dash::Dashed)),
        form => {
            canvas.polyline(&points, Pen::of(wide + 2.0 * EDGE));
            canvas.polyline(&points, Pen::of(wide).grey(if form == "conduit" { 0.7 } else { 1.0 }));
        }
    }
    // What leads toward the eye shows as a point.
    for (at, two) in points.windows(2).enumerate() {
        let seen = (two[1].0 - two[0].0).hypot(two[1].1 - two[0].1);
        let whole = channel.points.all();
        let real = whole.get(at).zip(whole.get(at + 1)).map_or(0.0, |(a, b)| length(&[*a, *b]));
        if seen < 0.3 && real > 0.0 {
            canvas.circle(two[0], 1.0, Pen::of(0.25), Fill::Grey(1.0));
            canvas.circle(two[0], 0.35, Pen::NONE, Fill::Grey(0.0));
        }
    }
}

/// The middle of the longest line of a channel, as it is seen.
fn middle(frame: &Frame, channel: &Channel) -> (f64, f64) {
    let points: Vec<(f64, f64)> = channel.points.all().iter().map(|point| frame.point(*point)).collect();
    let long = |two: &&[(f64, f64)]| (two[1].0 - two[0].0).hypot(two[1].1 - two[0].1);
    let longest = points.windows(2).max_by(|a, b| long(a).total_cmp(&long(b)));
    longest.map_or((0.0, 0.0), |two| (f64::midpoint(two[0].0, two[1].0), f64::midpoint(two[0].1, two[1].1)))
}

/// The letters of the channels, and the numbers of the places where their cables end.
fn signs(canvas: &mut Canvas, frame: &Frame, reach: &Box3, lines: &[Line<'_>], here: &[&Spot<'_>]) -> Area {
    let of_channels =
        lines.iter().map(|line| (Mark { at: middle(frame, line.channel), area: None }, line.sign.clone()));
    let of_places = here.iter().filter_map(|spot| {
        let at = frame.point(spot.middle()?);
        Some((Mark { at, area: spot.space.map(|space| frame.area(&space)) }, Sign::Number(spot.number)))
    });
    let (marks, all): (Vec<Mark>, Vec<Sign>) = of_channels.chain(of_places).unzip();
    let boxes: Vec<Area> = marks.iter().filter_map(|mark| mark.area).collect();
    for area in &boxes {
        canvas.rect(*area, 0.0, Pen::of(0.2).grey(0.4), Fill::None);
    }
    let whole = frame.area(reach);
    let room =
        Room { view: whole, left: 0.5, right: PAGE.0 - 0.5, radius: RADIUS, outside_only: true, above_only: false };
    let mut taken = whole;
    let puts = balloons::put(&marks, &boxes, &room);
    for put in &puts {
        if let Some(to) = put.leads_to {
            canvas.line(put.centre, to, Pen::of(0.18));
            canvas.circle(to, 0.5, Pen::NONE, Fill::Grey(0.0));
        }
    }
    for (put, sign) in puts.iter().zip(&all) {
        sign::draw(canvas, put.centre, RADIUS, sign);
        taken.top = taken.top.min(put.centre.1 - RADIUS);
        taken.bottom = taken.bottom.max(put.centre.1 + RADIUS);
    }
    taken
}

/// Length of a way through points, metres.
fn length(points: &[[f64; 3]]) -> f64 {
    let one = |two: &[[f64; 3]]| (0..3).map(|k| (two[0][k] - two[1][k]).powi(2)).sum::<f64>().sqrt();
    points.windows(2).map(one).sum()
}

/// What people call it.
fn name(line: &Line<'_>) -> String {
    let about = line.channel.about.text().filter(|about| !about.trim().is_empty());
    about.map_or_else(|| line.id.replace('-', " "), str::to_owned)
}

/// "conduit, 32 mm inside"; "duct, 40 mm × 60 mm inside".
fn form(context: &Context<'_>, channel: &Channel) -> String {
    let system = context.build.prints();
    let inside = channel.inside.show(system);
    let wide = channel.inside_width.show(system);
    let inside = match (inside, wide) {
        (Some(inside), Some(wide)) => format!(", {inside} × {wide} inside"),
        (Some(inside), None) => format!(", {inside} inside"),
        _ => String::new(),
    };
    format!("{}{inside}", channel.form.or_empty())
}

fn counted(n: usize, one: &str) -> String {
    if n == 1 { format!("1 {one}") } else { format!("{n} {one}s") }
}

/// "24 % of 40 %"; "" where its room is not known.
fn filled(used: &ChannelUse) -> String {
    let percent = |share: f64| format!("{} %", significant(share * 100.0, 2));
    used.filled.map_or_else(String::new, |(share, most)| format!("{} of {}", percent(share), percent(most)))
}

/// The channels, then the places at which their cables end.
fn entries(context: &Context<'_>, lines: &[Line<'_>], here: &[&Spot<'_>]) -> Vec<Entry> {
    let system = context.build.prints();
    let channel = |line: &Line<'_>| {
        let used = ChannelUse::of(context, line.id);
        let long = Metres(length(line.channel.points.all())).show(system);
        let cables = format!("{}, {}", counted(used.cables, "cable"), counted(used.conductors, "conductor"));
        let mut rows = vec![(form(context, line.channel), format!("{long} long")), (cables, String::new())];
        let filled = filled(&used);
        if !filled.is_empty() {
            rows.push(("filled".to_owned(), filled));
        }
        rows.extend(used.bend.map(|bend| ("no bend tighter than".to_owned(), bend.show(system))));
        // What was laid otherwise on site is marked until the spec says how.
        let build = context.build;
        let otherwise = build.wiring.in_channel(line.id).into_iter().filter(|c| build.site.has_conductor(c));
        rows.extend(otherwise.map(|c| (format!("Δ {}", c.id), "laid otherwise".to_owned())));
        Entry { sign: line.sign.clone(), title: name(line), rows }
    };
    let place =
        |spot: &&Spot<'_>| Entry { sign: Sign::Number(spot.number), title: spot.name.clone(), rows: Vec::new() };
    lines.iter().map(channel).chain(here.iter().map(place)).collect()
}

/// A channel in words.
fn told(context: &Context<'_>, line: &Line<'_>) -> String {
    let used = ChannelUse::of(context, line.id);
    let Sign::Letter(letter) = &line.sign else { return String::new() };
    let filled = filled(&used);
    let filled = if filled.is_empty() { filled } else { format!(", filled {filled}") };
    format!("{letter} {} ({}): {}{filled}", name(line), form(context, line.channel), counted(used.cables, "cable"))
}
